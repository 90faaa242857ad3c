import Link from "next/link";
import { serverWords } from "@/app/_server/language";
import { Disclosure } from "@/app/_ui/Disclosure";
import { DrumDrawing } from "@/app/_ui/DrumDrawing";
import { EmptyState } from "@/app/_ui/EmptyState";
import { formatCm, formatCount, formatDate, formatMoney } from "@/app/_ui/format";
import { Notice } from "@/app/_ui/Notice";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark } from "@/app/_ui/StateMark";
import { database } from "@/db/open";
import { loadCatalogue } from "@/db/queries/catalogue";
import { rulesInForce } from "@/db/queries/programme";
import { type CutMade, cutsMade } from "@/db/queries/stock";
import { type CableView, type DrumRow, loadCables, loadDrumAccounts } from "@/db/queries/stockViews";
import type { CuttingPlan, DrumCut, DrumPlan } from "@/lib/drums";
import { addDays, type CalendarDate } from "@/lib/time";
import { CutButton } from "./CutButton";
import { itemPath, ledgerPath } from "./words";

export interface DrumsTabProps {
  planId: number;
  mayCut: boolean;
  today: CalendarDate;
  cable?: string;
}

/** `H-012/near/R1` -> `H-012 near R1`. */
const runWords = (runId: string): string => runId.replaceAll("/", " ");

/** The rack to scale: which run is cut from which drum, where the marks lie, what is left; and every metre's account. */
export function DrumsTab({ planId, mayCut, today, cable }: DrumsTabProps) {
  const db = database();
  const cables = loadCables(db, planId);
  const accounts = loadDrumAccounts(db);
  const made = cutsMade(db);
  const items = new Map(loadCatalogue(db).map((i) => [i.code, i]));
  const sawCm = rulesInForce(db).cutPolicy.sawAllowanceCm;
  if (cables.length === 0 && accounts.length === 0) {
    return (
      <EmptyState title="No drums yet">
        Receive cable from an order, or bring in the opening stock with one row per drum.
      </EmptyState>
    );
  }
  const shown = cable ? cables.filter((c) => c.plan.cableCode === cable) : cables;
  return (
    <div className="grid grid-cols-1 gap-4">
      {shown.map((view) => (
        <CablePanel
          key={view.plan.cableCode}
          view={view}
          name={items.get(view.plan.cableCode)?.name ?? view.plan.cableCode}
          currency={items.get(view.plan.cableCode)?.currency ?? "EUR"}
          made={made}
          sawCm={sawCm}
          mayCut={mayCut}
          today={today}
        />
      ))}
      <DrumAccounts rows={cable ? accounts.filter((a) => a.itemCode === cable) : accounts} />
    </div>
  );
}

interface CablePanelProps {
  today: CalendarDate;
  view: CableView;
  name: string;
  currency: string;
  made: ReadonlyMap<string, CutMade>;
  sawCm: number;
  mayCut: boolean;
}

async function CablePanel({ view, name, currency, made, sawCm, mayCut, today }: CablePanelProps) {
  const words = await serverWords();
  const { plan, account } = view;
  const inUse = plan.drums.filter((d) => d.cuts.length > 0);
  const idle = plan.drums.filter((d) => d.cuts.length === 0);
  const labels = Object.fromEntries(
    plan.drums.flatMap((d) => d.cuts.map((c) => [c.runId, runWords(c.runId)] as const)),
  );
  const hrefs = Object.fromEntries(
    plan.drums
      .filter((d) => !d.buy && d.drum.placeId !== "on order")
      .map((d) => [d.drum.id, ledgerPath({ drum: d.drum.serial })] as const),
  );
  return (
    <Panel
      title={`${plan.cableCode} ${name}`}
      note={`${formatCount(
        inUse.reduce((n, d) => n + d.cuts.length, 0),
        "run",
      )} still to cut from ${formatCount(inUse.length, "drum")}, each in one piece, ${formatCm(sawCm)} saw allowance a cut.`}
      actions={<Link href={itemPath(plan.cableCode)}>Balance and orders</Link>}
      foot="Lengths are cut lengths with surplus. Measure before you cut; the cutter decides on site."
    >
      <div className="grid grid-cols-1 gap-4">
        <BuyNote view={view} currency={currency} />
        {plan.uncut.length > 0 ? (
          <Notice kind="problem" title={`${formatCount(plan.uncut.length, "run")} no drum can give`}>
            <ul>
              {plan.uncut.map((u) => (
                <li key={u.run.id}>
                  {u.run.label}, {formatCm(u.run.lengthCm)}: {u.reason}
                </li>
              ))}
            </ul>
          </Notice>
        ) : null}
        {plan.late.length > 0 ? (
          <Notice
            kind="warn"
            title={`${formatCount(plan.late.length, "run")} ${plan.late.length === 1 ? "comes after the day it is needed" : "come after the day they are needed"}`}
          >
            <Disclosure summary="Which">
              <ul>
                {plan.late.map((l) => (
                  <li key={l.run.id}>
                    {l.run.label}: needed {formatDate(l.run.neededOn, "weekday")}, cut{" "}
                    {formatDate(l.availableOn, "weekday")}
                  </li>
                ))}
              </ul>
            </Disclosure>
          </Notice>
        ) : null}
        {inUse.length > 0 ? (
          <DrumDrawing words={words} drums={inUse} runLabels={labels} drumHref={hrefs} />
        ) : null}
        {inUse.length > 0 ? (
          <CutTable drums={inUse} made={made} sawCm={sawCm} mayCut={mayCut} today={today} />
        ) : null}
        {idle.length > 0 ? (
          <Disclosure summary={`${formatCount(idle.length, "drum")} without a planned cut`}>
            <DrumDrawing words={words} drums={idle} drumHref={hrefs} />
          </Disclosure>
        ) : null}
        <p>
          <strong>Metre account of the list:</strong> {formatCm(account.receivedCm)} received ={" "}
          {formatCm(account.usedBeforeCm)} used before + {formatCm(account.cutCm)} runs +{" "}
          {formatCm(account.allowanceCm)} saw allowance + {formatCm(account.remnantCm)} remnants +{" "}
          {formatCm(account.scrapCm)} scrap + {formatCm(account.untouchedCm)} untouched.
        </p>
      </div>
    </Panel>
  );
}

function BuyNote({ view: { plan }, currency }: { view: CableView; currency: string }) {
  if (plan.newDrumCount === 0) return null;
  return (
    <Notice
      kind="info"
      title={`${formatCount(plan.newDrumCount, "new drum")} to buy${
        plan.newDrumPriceMinor === undefined ? "" : `, ${formatMoney(plan.newDrumPriceMinor, currency)}`
      }`}
    >
      {plan.newDrums
        .map(
          (d) =>
            `${d.count} of ${formatCm(d.kind.lengthCm)}, the first needed on ${formatDate(d.neededOn, "weekday")}`,
        )
        .join("; ")}
      . {leastPurchase(plan, currency)}
    </Notice>
  );
}

/** How near the purchase is to the least: by its price, which is what counts, where prices are known. */
function leastPurchase(plan: CuttingPlan, currency: string): string {
  const { newDrumPriceMinor: price, newDrumPriceLowerBoundMinor: leastPrice } = plan;
  if (price !== undefined && leastPrice !== undefined && price > 0) {
    const head = `No plan with as few late runs pays less than ${formatMoney(leastPrice, currency)}`;
    return price <= leastPrice
      ? `${head}: this one is as good as can be.`
      : `${head}: at most ${formatMoney(price - leastPrice, currency)} more than needed.`;
  }
  const gap = plan.newDrumCount - plan.newDrumLowerBound;
  const head = `No plan with as few late runs needs fewer than ${plan.newDrumLowerBound}`;
  return gap === 0 ? `${head}: this one is as good as can be.` : `${head}: at most ${gap} more than needed.`;
}

interface CutTableProps {
  drums: readonly DrumPlan[];
  made: ReadonlyMap<string, CutMade>;
  sawCm: number;
  mayCut: boolean;
  today: CalendarDate;
}

/** Days ahead that the list shows at once; later cuts are planned anew before anybody makes them. */
const SOON_DAYS = 14;

/** Cuts of the coming days first; the rest opens on demand. */
function CutTable({ drums, made, sawCm, mayCut, today }: CutTableProps) {
  const rows = drums.flatMap((d) => {
    const isHere = !d.buy && d.drum.placeId !== "on order";
    const next = d.cuts.find((c) => !made.has(c.runId));
    return d.cuts.map((c): CutRow => ({ drum: d, cut: c, isHere, isNext: c === next }));
  });
  const soonTo = addDays(today, SOON_DAYS);
  const soon = rows.filter((r) => r.cut.cutOn <= soonTo);
  const later = rows.filter((r) => r.cut.cutOn > soonTo);
  return (
    <>
      {soon.length > 0 ? (
        <CutRows
          caption="To cut in the next two weeks, marks from the outer end of the drum as received"
          rows={soon}
          {...{ made, sawCm, mayCut }}
        />
      ) : (
        <p>Nothing to cut in the next two weeks.</p>
      )}
      {later.length > 0 ? (
        <Disclosure summary={`${formatCount(later.length, "later cut")}`}>
          <CutRows caption="Later cuts" rows={later} {...{ made, sawCm, mayCut }} />
        </Disclosure>
      ) : null}
    </>
  );
}

interface CutRow {
  drum: DrumPlan;
  cut: DrumCut;
  isHere: boolean;
  /** The next cut of its drum: cuts are made in the order of their marks. */
  isNext: boolean;
}

interface CutRowsProps {
  caption: string;
  rows: readonly CutRow[];
  made: ReadonlyMap<string, CutMade>;
  sawCm: number;
  mayCut: boolean;
}

function CutRows({ caption, rows, made, sawCm, mayCut }: CutRowsProps) {
  return (
    <ScrollRegion label={caption}>
      <table className="ui-facts ui-facts-stack">
        <caption>{caption}</caption>
        <thead>
          <tr>
            <th scope="col">Run</th>
            <th scope="col">Drum</th>
            <th scope="col" data-align="end">
              Length
            </th>
            <th scope="col" data-align="end">
              From mark
            </th>
            <th scope="col" data-align="end">
              To mark
            </th>
            <th scope="col">Cut on</th>
            <th scope="col">State</th>
          </tr>
        </thead>
        <tbody>
          {rows.map(({ drum: d, cut: c, isHere, isNext }) => (
            <tr key={c.runId}>
              <th scope="row" data-label="Run">
                {runWords(c.runId)}
              </th>
              <td data-label="Drum">
                {isHere ? (
                  <Link href={ledgerPath({ drum: d.drum.serial })}>{d.drum.serial}</Link>
                ) : (
                  d.drum.serial
                )}
              </td>
              <td data-label="Length" data-align="end">
                {formatCm(c.lengthCm)}
              </td>
              <td data-label="From mark" data-align="end">
                {formatCm(c.fromMarkCm)}
              </td>
              <td data-label="To mark" data-align="end">
                {formatCm(c.toMarkCm)}
              </td>
              <td data-label="Cut on">{formatDate(c.cutOn, "weekday")}</td>
              <td data-label="State">
                <CutState {...{ d, c, isHere, isNext, sawCm, mayCut }} cut={made.get(c.runId)} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}

function CutState(props: {
  d: DrumPlan;
  c: DrumCut;
  cut: CutMade | undefined;
  isHere: boolean;
  isNext: boolean;
  sawCm: number;
  mayCut: boolean;
}) {
  const { d, c, cut, isHere, isNext, sawCm, mayCut } = props;
  if (cut) {
    return (
      <StateMark state="done">
        {formatCm(cut.quantityC)} by {cut.postedBy}
      </StateMark>
    );
  }
  if (!isHere) return <StateMark state="open">{d.buy ? "drum to be bought" : "drum on order"}</StateMark>;
  if (!isNext || !mayCut) return <StateMark state="planned" />;
  return (
    <CutButton
      drumSerial={d.drum.serial}
      runId={c.runId}
      label={runWords(c.runId)}
      lengthCm={c.lengthCm}
      fromMarkCm={c.fromMarkCm}
      sawCm={sawCm}
    />
  );
}

function DrumAccounts({ rows }: { rows: readonly DrumRow[] }) {
  if (rows.length === 0) return null;
  return (
    <Panel
      title="Every metre received"
      note="By the ledger, without the cuts still to come: received = cut + saw allowance + other + left."
      flush
    >
      <ScrollRegion label="Account of every drum">
        <table className="ui-facts ui-facts-stack">
          <thead>
            <tr>
              <th scope="col">Drum</th>
              <th scope="col">Cable</th>
              <th scope="col">Place</th>
              <th scope="col" data-align="end">
                Received
              </th>
              <th scope="col" data-align="end">
                Cut
              </th>
              <th scope="col" data-align="end">
                Saw allowance
              </th>
              <th scope="col" data-align="end">
                Other
              </th>
              <th scope="col" data-align="end">
                Left
              </th>
            </tr>
          </thead>
          <tbody>
            {rows.map((r) => (
              <tr key={r.serial}>
                <th scope="row" data-label="Drum">
                  <Link href={ledgerPath({ drum: r.serial })}>{r.serial}</Link>
                </th>
                <td data-label="Cable">{r.itemCode}</td>
                <td data-label="Place">{r.placeCode ?? "used up"}</td>
                <td data-label="Received" data-align="end">
                  {formatCm(r.receivedC)}
                </td>
                <td data-label="Cut" data-align="end">
                  {formatCm(r.cutC)}
                </td>
                <td data-label="Saw allowance" data-align="end">
                  {formatCm(r.allowanceC)}
                </td>
                <td data-label="Other" data-align="end">
                  {formatCm(r.otherC)}
                </td>
                <td data-label="Left" data-align="end">
                  {formatCm(r.remainingC)}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollRegion>
    </Panel>
  );
}

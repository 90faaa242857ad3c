import Link from "next/link";
import { Fragment } from "react";
import { serverWords } from "@/app/_server/language";
import { Disclosure } from "@/app/_ui/Disclosure";
import { DrumDrawing } from "@/app/_ui/DrumDrawing";
import { EmptyState } from "@/app/_ui/EmptyState";
import { formatCm, formatDate, formatMoney, formatNumber } from "@/app/_ui/format";
import type { Words } from "@/app/_ui/language/words";
import { Notice } from "@/app/_ui/Notice";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark } from "@/app/_ui/StateMark";
import { database } from "@/db/open";
import { loadCatalogue } from "@/db/queries/catalogue";
import { atMark, marksByRun } from "@/db/queries/drumMarks";
import {
  begunRuns,
  type CableView,
  type DrumRow,
  loadCables,
  loadDrumAccounts,
  placesOfRuns,
} from "@/db/queries/drumViews";
import { type CutMade, cutsMade } from "@/db/queries/ledger";
import { type UnsentLines, unsentLines } from "@/db/queries/ordersToPlace";
import { rulesInForce } from "@/db/queries/programme";
import type { CuttingPlan, DrumCut, DrumPlan } from "@/lib/drums";
import { UNCUT_REASONS } from "@/lib/drums";
import { readBack } from "@/lib/phrase";
import { cutsStayUntil } from "@/lib/programme";
import { addDays, type CalendarDate, daysBetween } from "@/lib/time";
import { CutButton } from "./CutButton";
import { cutAnchor, itemPath, ledgerPath, orderPath, runWords } from "./words";

export interface DrumsTabProps {
  planId: number;
  mayCut: boolean;
  today: CalendarDate;
  cable?: string;
}

/** The rack to scale: which run is cut from which drum, where the marks lie, what is left; and every metre's account. */
export async function DrumsTab({ planId, mayCut, today, cable }: DrumsTabProps) {
  const { t } = await serverWords();
  const db = database();
  const cables = loadCables(db, planId);
  const accounts = loadDrumAccounts(db);
  const made = cutsMade(db);
  const standsAt = new Map(accounts.flatMap((a) => (a.placeCode ? [[a.serial, a.placeCode] as const] : [])));
  const kitPlaces = placesOfRuns(db, planId);
  const stays = { until: cutsStayUntil(today), begun: begunRuns(db, planId) };
  const marks = marksByRun(db, planId);
  const items = new Map(loadCatalogue(db).map((i) => [i.code, i]));
  const unsent = unsentLines(db);
  const sawCm = rulesInForce(db).cutPolicy.sawAllowanceCm;
  if (cables.length === 0 && accounts.length === 0) {
    return (
      <EmptyState title={t("No drums yet")}>
        {t("Receive cable from an order, or bring in the opening stock with one row per drum.")}
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
          unsent={unsent.filter((l) => l.itemCode === view.plan.cableCode)}
          name={items.get(view.plan.cableCode)?.name ?? view.plan.cableCode}
          currency={items.get(view.plan.cableCode)?.currency ?? "EUR"}
          made={made}
          sawCm={sawCm}
          mayCut={mayCut}
          today={today}
          {...{ standsAt, kitPlaces, stays, marks }}
        />
      ))}
      <DrumAccounts rows={cable ? accounts.filter((a) => a.itemCode === cable) : accounts} />
    </div>
  );
}

/** Where drums stand now, which warehouse's kit wants each run, and which cuts a netting leaves where they are. */
interface Whereabouts {
  standsAt: ReadonlyMap<string, string>;
  kitPlaces: ReadonlyMap<string, string>;
  stays: { until: CalendarDate; begun: ReadonlySet<string> };
  /** Where the cuts to make begin now. */
  marks: ReadonlyMap<string, number>;
}

interface CablePanelProps extends Whereabouts {
  today: CalendarDate;
  view: CableView;
  /** Lines of this cable on orders that nobody has sent. */
  unsent: UnsentLines;
  name: string;
  currency: string;
  made: ReadonlyMap<string, CutMade>;
  sawCm: number;
  mayCut: boolean;
}

/** A drum that is still to be bought has no serial: it is named by its number and length. */
function withName(d: DrumPlan, { t, locale }: Words): DrumPlan {
  if (!d.buy) return d;
  const number = d.drum.id.split("-").at(-1) ?? "";
  const length = formatNumber(d.drum.receivedCm / 100, 1, locale, true);
  return { ...d, drum: { ...d.drum, serial: t("to buy {{number}} of {{length}} m", { number, length }) } };
}

async function CablePanel(props: CablePanelProps) {
  const { view, unsent, name, currency, made, sawCm, mayCut, today, standsAt, kitPlaces, stays, marks } =
    props;
  const words = await serverWords();
  const { t, locale, say } = words;
  const { plan, account } = view;
  const drums = plan.drums.map((d) => withName(d, words));
  const inUse = drums.filter((d) => d.cuts.length > 0);
  const idle = drums.filter((d) => d.cuts.length === 0);
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
      note={t("{{runs}} still to cut from {{count}} drums, each in one piece, {{saw}} saw allowance a cut.", {
        runs: t("{{count}} runs", { count: inUse.reduce((n, d) => n + d.cuts.length, 0) }),
        count: inUse.length,
        saw: formatCm(sawCm, locale),
      })}
      actions={<Link href={itemPath(plan.cableCode)}>{t("Balance and orders")}</Link>}
      foot={`${t("Lengths are cut lengths with surplus. Measure before you cut; the cutter decides on site.")} ${t(
        "Cuts to {{day}} and those of kits that somebody has begun stay on their drum; later ones may get other marks or another drum whenever needs are netted.",
        { day: formatDate(stays.until, "weekday", locale) },
      )}`}
    >
      <div className="grid grid-cols-1 gap-4">
        <BuyNote view={view} unsent={unsent} currency={currency} />
        {plan.uncut.length > 0 ? (
          <Notice kind="problem" title={t("{{count}} runs no drum can give", { count: plan.uncut.length })}>
            <ul>
              {plan.uncut.map((u) => (
                <li key={u.run.id}>
                  {u.run.label}, {formatCm(u.run.lengthCm, locale)}: {say(readBack(u.reason, UNCUT_REASONS))}
                </li>
              ))}
            </ul>
          </Notice>
        ) : null}
        {plan.late.length > 0 ? (
          <Notice
            kind="warn"
            title={t("{{count}} runs come after the day they are needed", { count: plan.late.length })}
          >
            <Disclosure summary={t("Which")}>
              <ul>
                {plan.late.map((l) => (
                  <li key={l.run.id}>
                    {t("{{label}}: needed {{needed}}, cut {{available}}", {
                      label: l.run.label,
                      needed: formatDate(l.run.neededOn, "weekday", locale),
                      available: formatDate(l.availableOn, "weekday", locale),
                    })}
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
          <CutTable drums={inUse} {...{ made, sawCm, mayCut, today, standsAt, kitPlaces, stays, marks }} />
        ) : null}
        {idle.length > 0 ? (
          <Disclosure summary={t("{{count}} drums without a planned cut", { count: idle.length })}>
            <DrumDrawing words={words} drums={idle} drumHref={hrefs} />
          </Disclosure>
        ) : null}
        <p>
          <strong>{t("Metre account of the list:")}</strong>{" "}
          {t(
            "{{received}} received = {{usedBefore}} used before + {{cut}} runs + {{allowance}} saw allowance + {{remnant}} remnants + {{scrap}} scrap + {{untouched}} untouched.",
            {
              received: formatCm(account.receivedCm, locale),
              usedBefore: formatCm(account.usedBeforeCm, locale),
              cut: formatCm(account.cutCm, locale),
              allowance: formatCm(account.allowanceCm, locale),
              remnant: formatCm(account.remnantCm, locale),
              scrap: formatCm(account.scrapCm, locale),
              untouched: formatCm(account.untouchedCm, locale),
            },
          )}
        </p>
      </div>
    </Panel>
  );
}

async function BuyNote({
  view: { plan },
  unsent,
  currency,
}: Pick<CablePanelProps, "view" | "unsent" | "currency">) {
  const words = await serverWords();
  const { t, locale } = words;
  if (plan.newDrumCount === 0) return null;
  return (
    <Notice
      kind="info"
      title={
        plan.newDrumPriceMinor === undefined
          ? t("{{count}} new drums to buy", { count: plan.newDrumCount })
          : t("{{count}} new drums to buy, {{price}}", {
              count: plan.newDrumCount,
              price: formatMoney(plan.newDrumPriceMinor, currency, locale),
            })
      }
    >
      {plan.newDrums
        .map((d) => {
          const [number, length] = [d.count, formatCm(d.kind.lengthCm, locale)];
          const needed = formatDate(d.neededOn, "weekday", locale);
          return d.kind.comesTo
            ? t("{{number}} of {{length}} to {{place}}, the first needed on {{needed}}", {
                number,
                length,
                needed,
                place: d.kind.comesTo,
              })
            : t("{{number}} of {{length}}, the first needed on {{needed}}", { number, length, needed });
        })
        .join("; ")}
      . {leastPurchase(plan, currency, words)}
      {unsent.length > 0 ? (
        <p>
          {t("{{metres}} are on orders that nobody has sent yet:", {
            metres: formatCm(
              unsent.reduce((sum, l) => sum + l.quantityC, 0),
              locale,
            ),
          })}{" "}
          {[...new Set(unsent.map((l) => l.orderCode))].map((code, i) => (
            <Fragment key={code}>
              {i > 0 ? ", " : null}
              <Link href={orderPath(code)}>{code}</Link>
            </Fragment>
          ))}
          . {t("Cutting does not count on them: send those before you order more.")}
        </p>
      ) : null}
    </Notice>
  );
}

/** How near the purchase is to the least: by its price, which is what counts, where prices are known. */
function leastPurchase(plan: CuttingPlan, currency: string, { t, locale }: Words): string {
  const { newDrumPriceMinor: price, newDrumPriceLowerBoundMinor: leastPrice } = plan;
  if (price !== undefined && leastPrice !== undefined && price > 0) {
    return price <= leastPrice
      ? t("No plan with as few late runs pays less than {{leastPrice}}: this one is as good as can be.", {
          leastPrice: formatMoney(leastPrice, currency, locale),
        })
      : t(
          "No plan with as few late runs pays less than {{leastPrice}}: at most {{price}} more than needed.",
          {
            leastPrice: formatMoney(leastPrice, currency, locale),
            price: formatMoney(price - leastPrice, currency, locale),
          },
        );
  }
  const gap = plan.newDrumCount - plan.newDrumLowerBound;
  return gap === 0
    ? t(
        "No plan with as few late runs needs fewer than {{newDrumLowerBound}}: this one is as good as can be.",
        { newDrumLowerBound: plan.newDrumLowerBound },
      )
    : t(
        "No plan with as few late runs needs fewer than {{newDrumLowerBound}}: at most {{gap}} more than needed.",
        { newDrumLowerBound: plan.newDrumLowerBound, gap },
      );
}

interface CutTableProps extends Whereabouts {
  drums: readonly DrumPlan[];
  made: ReadonlyMap<string, CutMade>;
  sawCm: number;
  mayCut: boolean;
  today: CalendarDate;
}

/** Days ahead that the list shows at once; later cuts are planned anew before anybody makes them. */
const SOON_DAYS = 14;

/** Cuts of the coming days first; the rest opens on demand. */
async function CutTable({
  drums,
  made,
  sawCm,
  mayCut,
  today,
  standsAt,
  kitPlaces,
  stays,
  marks,
}: CutTableProps) {
  const { t } = await serverWords();
  const rows = drums.flatMap((d) => {
    const isHere = !d.buy && d.drum.placeId !== "on order";
    const open = d.cuts.filter((c) => !made.has(c.runId));
    return d.cuts.map((c): CutRow => {
      const cut = made.has(c.runId) ? c : atMark(c, marks);
      return { drum: d, cut, isHere, after: open[open.indexOf(c) - 1] };
    });
  });
  const soonTo = addDays(today, SOON_DAYS);
  // By day, so that today's work stands together; on one drum in the order of the marks.
  const byDay = (a: CutRow, b: CutRow) => daysBetween(b.cut.cutOn, a.cut.cutOn);
  const soon = rows.filter((r) => r.cut.cutOn <= soonTo).sort(byDay);
  const later = rows.filter((r) => r.cut.cutOn > soonTo).sort(byDay);
  return (
    <>
      {soon.length > 0 ? (
        <CutRows
          caption={t("To cut in the next two weeks, marks from the outer end of the drum as received")}
          rows={soon}
          {...{ made, sawCm, mayCut, today, standsAt, kitPlaces, stays, marks }}
        />
      ) : (
        <p>{t("Nothing to cut in the next two weeks.")}</p>
      )}
      {later.length > 0 ? (
        <Disclosure summary={`${t("{{count}} later cuts", { count: later.length })}`}>
          <CutRows
            caption={t("Later cuts")}
            rows={later}
            {...{ made, sawCm, mayCut, today, standsAt, kitPlaces, stays, marks }}
          />
        </Disclosure>
      ) : null}
    </>
  );
}

interface CutRow {
  drum: DrumPlan;
  cut: DrumCut;
  isHere: boolean;
  /** Cut of the same drum that comes before it and is not made yet: cuts are made in the order of their marks. */
  after?: DrumCut;
}

interface CutRowsProps extends Whereabouts {
  caption: string;
  rows: readonly CutRow[];
  made: ReadonlyMap<string, CutMade>;
  sawCm: number;
  mayCut: boolean;
  today: CalendarDate;
}

async function CutRows(props: CutRowsProps) {
  const { caption, rows, made, sawCm, mayCut, today, standsAt, kitPlaces, stays } = props;
  const { t, locale } = await serverWords();
  return (
    <ScrollRegion label={caption}>
      <table className="ui-facts ui-facts-stack">
        <caption>{caption}</caption>
        <thead>
          <tr>
            <th scope="col">{t("Run")}</th>
            <th scope="col">{t("Drum")}</th>
            <th scope="col">{t("Kit at")}</th>
            <th scope="col" data-align="end">
              {t("Length")}
            </th>
            <th scope="col" data-align="end">
              {t("From mark")}
            </th>
            <th scope="col" data-align="end">
              {t("To mark")}
            </th>
            <th scope="col">{t("Cut on")}</th>
            <th scope="col">{t("State")}</th>
          </tr>
        </thead>
        <tbody>
          {rows.map(({ drum: d, cut: c, isHere, after }) => (
            <tr key={c.runId} id={cutAnchor(c.runId)} style={{ scrollMarginTop: "5rem" }}>
              <th scope="row" data-label={t("Run")}>
                {runWords(c.runId)}
              </th>
              <td data-label={t("Drum")}>
                {isHere ? (
                  <Link href={ledgerPath({ drum: d.drum.serial })}>{d.drum.serial}</Link>
                ) : (
                  d.drum.serial
                )}
                {isHere ? (
                  <span className="text-quiet block whitespace-nowrap">
                    {t("stands at {{place}}", { place: standsAt.get(d.drum.serial) ?? d.drum.placeId })}
                  </span>
                ) : null}
              </td>
              <td data-label={t("Kit at")}>
                <KitAt
                  place={kitPlaces.get(c.runId) ?? c.wantedAt}
                  {...{ c, d, standsAt }}
                  isMade={made.has(c.runId)}
                />
              </td>
              <td data-label={t("Length")} data-align="end">
                {formatCm(c.lengthCm, locale)}
              </td>
              <td data-label={t("From mark")} data-align="end">
                {formatCm(c.fromMarkCm, locale)}
              </td>
              <td data-label={t("To mark")} data-align="end">
                {formatCm(c.toMarkCm, locale)}
              </td>
              <td data-label={t("Cut on")}>
                {formatDate(c.cutOn, "weekday", locale)}{" "}
                {c.cutOn > today || made.has(c.runId) ? null : (
                  <StateMark state={c.cutOn === today ? "under way" : "late"}>
                    {c.cutOn === today ? t("today") : t("passed")}
                  </StateMark>
                )}
                {isHere && !made.has(c.runId) && c.cutOn > stays.until && !stays.begun.has(c.runId) ? (
                  <span className="text-quiet block">{t("may still move")}</span>
                ) : null}
              </td>
              <td data-label={t("State")}>
                <CutState
                  {...{ d, c, isHere, after, sawCm, mayCut }}
                  cut={made.get(c.runId)}
                  standsAt={standsAt.get(d.drum.serial)}
                  kitPlace={kitPlaces.get(c.runId)}
                />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}

/** The warehouse whose kit wants the piece; where the drum stands elsewhere, that it goes there and when it is there. */
async function KitAt(props: {
  place: string | undefined;
  c: DrumCut;
  d: DrumPlan;
  standsAt: ReadonlyMap<string, string>;
  isMade: boolean;
}) {
  const { t, locale } = await serverWords();
  const { place, c, d, standsAt, isMade } = props;
  if (!place) return "–";
  const from = standsAt.get(d.drum.serial) ?? d.drum.comesTo;
  if (from === undefined || from === place || isMade) return place;
  return (
    <>
      {place}
      <span className="text-quiet block">
        {c.arriveOn
          ? t("goes over, there on {{day}}", { day: formatDate(c.arriveOn, "weekday", locale) })
          : t("goes over")}
      </span>
    </>
  );
}

async function CutState(props: {
  d: DrumPlan;
  c: DrumCut;
  cut: CutMade | undefined;
  isHere: boolean;
  after?: DrumCut;
  sawCm: number;
  mayCut: boolean;
  standsAt: string | undefined;
  kitPlace: string | undefined;
}) {
  const { t, locale } = await serverWords();
  const { d, c, cut, isHere, after, sawCm, mayCut, standsAt, kitPlace } = props;
  if (cut) {
    return (
      <StateMark state="done">
        {t("{{quantity}} by {{postedBy}}", {
          quantity: formatCm(cut.quantityC, locale),
          postedBy: cut.postedBy,
        })}
      </StateMark>
    );
  }
  if (!isHere)
    return <StateMark state="open">{d.buy ? t("drum to be bought") : t("drum on order")}</StateMark>;
  if (after)
    return <StateMark state="planned">{t("after {{run}}", { run: runWords(after.runId) })}</StateMark>;
  if (!mayCut) return <StateMark state="planned" />;
  return (
    <CutButton
      drumSerial={d.drum.serial}
      runId={c.runId}
      label={runWords(c.runId)}
      lengthCm={c.lengthCm}
      fromMarkCm={c.fromMarkCm}
      sawCm={sawCm}
      {...{ standsAt, kitPlace }}
    />
  );
}

async function DrumAccounts({ rows }: { rows: readonly DrumRow[] }) {
  const { t, locale } = await serverWords();
  if (rows.length === 0) return null;
  return (
    <Panel
      title={t("Every metre received")}
      note={t(
        "By the ledger, without the cuts still to come: received = cut + saw allowance + other + left.",
      )}
      flush
    >
      <ScrollRegion label={t("Account of every drum")}>
        <table className="ui-facts ui-facts-stack">
          <thead>
            <tr>
              <th scope="col">{t("Drum")}</th>
              <th scope="col">{t("Cable")}</th>
              <th scope="col">{t("Place")}</th>
              <th scope="col" data-align="end">
                {t("Received")}
              </th>
              <th scope="col" data-align="end">
                {t("Cut (length)")}
              </th>
              <th scope="col" data-align="end">
                {t("Saw allowance")}
              </th>
              <th scope="col" data-align="end">
                {t("Other")}
              </th>
              <th scope="col" data-align="end">
                {t("Left")}
              </th>
            </tr>
          </thead>
          <tbody>
            {rows.map((r) => (
              <tr key={r.serial}>
                <th scope="row" data-label={t("Drum")}>
                  <Link href={ledgerPath({ drum: r.serial })}>{r.serial}</Link>{" "}
                  <Link href={`/stock/labels?${new URLSearchParams({ kind: "drum", code: r.serial })}`}>
                    {t("Label")}
                    <span className="sr-only"> {r.serial}</span>
                  </Link>
                </th>
                <td data-label={t("Cable")}>{r.itemCode}</td>
                <td data-label={t("Place")} className="whitespace-nowrap">
                  {r.placeCode ?? t("used up")}
                </td>
                <td data-label={t("Received")} data-align="end">
                  {formatCm(r.receivedC, locale)}
                </td>
                <td data-label={t("Cut (length)")} data-align="end">
                  {formatCm(r.cutC, locale)}
                </td>
                <td data-label={t("Saw allowance")} data-align="end">
                  {formatCm(r.allowanceC, locale)}
                </td>
                <td data-label={t("Other")} data-align="end">
                  {formatCm(r.otherC, locale)}
                </td>
                <td data-label={t("Left")} data-align="end">
                  {formatCm(r.remainingC, locale)}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollRegion>
    </Panel>
  );
}

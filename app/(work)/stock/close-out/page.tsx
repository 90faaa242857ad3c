import type { Metadata } from "next";
import Link from "next/link";
import { homeToday } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { requireRole } from "@/app/_server/session";
import { Disclosure } from "@/app/_ui/Disclosure";
import { EmptyState } from "@/app/_ui/EmptyState";
import { formatDate } from "@/app/_ui/format";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark } from "@/app/_ui/StateMark";
import type { StateName } from "@/app/_ui/states";
import { sayVisit } from "@/app/(work)/plan/sayVisit";
import { database } from "@/db/open";
import { loadCatalogue } from "@/db/queries/catalogue";
import { loadCloseOut, loadSerialAccounts, loadUnbookedUse, type UnbookedUse } from "@/db/queries/closeOut";
import { type KitRow, loadKitRows } from "@/db/queries/kitRows";
import { planInForce } from "@/db/queries/plans";
import { loadProgrammeState } from "@/db/queries/progress";
import type { HopState } from "@/lib/programme";
import type { CloseOutLine, SerialAccount, SerialState } from "@/lib/stock";
import type { CalendarDate } from "@/lib/time";
import { hopPath } from "../../hops/hopStates";
import { amountC, itemPath, kitPath, STOCK_ROLES, serialPath } from "../words";

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await serverWords()).t("Close-out") };
}

/** As the Programme page counts them: Finished and To accept together. */
const isWorkDone = (state: HopState | undefined): boolean => state === "done" || state === "to accept";

/** Where the reports of a visit stand. */
const recordPath = (visitId: string): string => `${hopPath(visitId.split("/")[0]!)}?tab=record`;

/** Hop by hop: issued = installed + returned + scrapped, and what does not add up. */
export default async function CloseOutPage() {
  await requireRole(...STOCK_ROLES);
  const { t } = await serverWords();
  const db = database();
  const units = new Map(loadCatalogue(db).map((i) => [i.code, { name: i.name, unit: i.unit }]));
  const states = new Map(loadProgrammeState(db, homeToday(db)).hops.map((h) => [h.hopCode, h.byPlan]));
  const radios = new Set(
    loadCatalogue(db)
      .filter((i) => i.category === "ODU")
      .map((i) => i.code),
  );
  const accounts = loadSerialAccounts(db);
  const plan = planInForce(db);
  const kits = plan ? loadKitRows(db, plan.id) : [];
  const issued = kits.filter((k) => k.state === "issued");
  const hops = loadCloseOut(db).map((h) => {
    const state = states.get(h.hopCode);
    const serials = accounts.get(h.hopCode) ?? [];
    return {
      ...h,
      serials,
      kits: issued.filter((k) => k.hopCode === h.hopCode),
      missing: serials.filter((s) => s.state === "missing").length,
      isWorked: isWorkDone(state),
      isToAccept: state === "to accept",
    };
  });
  const worked = hops.filter((h) => h.isWorked);
  const running = hops.filter((h) => !h.isWorked);
  const inLedger = new Set(hops.map((h) => h.hopCode));
  const elsewhere = [...states].filter(([code, state]) => isWorkDone(state) && !inLedger.has(code)).length;
  const mismatch = worked.filter((h) => h.openLines > 0 || h.missing > 0);
  return (
    <>
      <PageHead
        crumbs={[{ label: t("Stock"), href: "/stock" }]}
        title={t("Close-out")}
        lead={t(
          "What went out for a hop must come to what was installed, returned, scrapped and left over; a piece that went on hold as faulty has come back. Of cable: what was cut for its runs, and what the crew reported used and left.",
        )}
      />
      <Unbooked uses={loadUnbookedUse(db)} units={units} planned={new Set(kits.map((k) => k.visitId))} />
      {hops.length === 0 ? (
        <EmptyState title={t("Nothing has gone out for any hop yet")}>
          {t("Once a kit is issued or a run is cut, its hop stands here until everything is accounted for.")}
        </EmptyState>
      ) : (
        <div className="grid grid-cols-1 gap-4">
          <Panel
            title={
              worked.length === 0
                ? elsewhere > 0
                  ? t("No hop whose work is done has material in the ledger")
                  : t("No hop's work is done yet")
                : mismatch.length === 0
                  ? t("Every hop whose work is done adds up")
                  : t("{{count}} hops whose work is done do not add up", { count: mismatch.length })
            }
            note={
              worked.length === 0
                ? undefined
                : t(
                    "{{count}} hops whose work is done have material from the ledger, {{toAccept}} of them still to accept. What is open lies on the vehicle, or was used without a report: return it on the kit's page, or record scrap for the visit.",
                    { count: worked.length, toAccept: worked.filter((h) => h.isToAccept).length },
                  )
            }
          >
            {worked.length === 0 ? (
              <p>{t("Once the work on a hop with issued kits or cut runs is done, it stands here.")}</p>
            ) : null}
            {elsewhere > 0 ? (
              <p className="text-quiet">
                {t(
                  "{{count}} hops whose work is done have no row in the ledger: nothing was issued or cut for them here.",
                  {
                    count: elsewhere,
                  },
                )}
              </p>
            ) : null}
            {worked.map((h) => (
              <Hop key={h.hopCode} {...h} open={h.openLines > 0 || h.missing > 0} {...{ units, radios }} />
            ))}
          </Panel>
          {running.length > 0 ? (
            <Panel
              title={t("{{count}} hops in work", { count: running.length })}
              note={t("Open quantities are on the way to the tower.")}
            >
              {running.map((h) => (
                <Hop key={h.hopCode} {...h} open={false} {...{ units, radios }} />
              ))}
            </Panel>
          ) : null}
        </div>
      )}
    </>
  );
}

/** What reports say was used and the ledger does not know: nobody would look for it otherwise. */
async function Unbooked({
  uses,
  units,
  planned,
}: {
  uses: readonly UnbookedUse[];
  units: HopProps["units"];
  /** Visits whose kit the plan in force has, issued or not. */
  planned: ReadonlySet<string>;
}) {
  const words = await serverWords();
  const { t, amount } = words;
  if (uses.length === 0) return null;
  return (
    <Panel
      className="mb-4"
      title={t("{{count}} lines reported as used, not on the vehicle by the books", { count: uses.length })}
      note={t(
        "Find out where it came from: a kit that was not issued by the books, a run that was not confirmed as cut, or another vehicle. Issued there, what the crew reported is off the vehicle with it; otherwise its next report of the visit takes it off.",
      )}
      flush
    >
      <ScrollRegion label={t("Reported as used, not booked")}>
        <table className="ui-facts ui-facts-stack">
          <thead>
            <tr>
              <th scope="col">{t("Visit")}</th>
              <th scope="col">{t("Item")}</th>
              <th scope="col" data-align="end">
                {t("Reported, not booked")}
              </th>
            </tr>
          </thead>
          <tbody>
            {uses.map((u) => (
              <tr key={`${u.visitId} ${u.itemCode}`}>
                <th scope="row" data-label={t("Visit")}>
                  <Link href={planned.has(u.visitId) ? kitPath(u.visitId) : recordPath(u.visitId)}>
                    {sayVisit(u.visitId, words)}
                  </Link>
                </th>
                <td data-label={t("Item")}>
                  <Link href={itemPath(u.itemCode)}>{u.itemCode}</Link> {units.get(u.itemCode)?.name}
                </td>
                <td data-label={t("Reported, not booked")} data-align="end">
                  {amount(u.quantityC / 100, units.get(u.itemCode)?.unit ?? "piece")}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollRegion>
    </Panel>
  );
}

interface HopProps {
  hopCode: string;
  /** What went out for it by the plan in force: unused material is returned there. */
  kits: readonly KitRow[];
  lines: readonly CloseOutLine[];
  openLines: number;
  open: boolean;
  units: ReadonlyMap<string, { name: string; unit: string }>;
  /** Items that are followed by serial. */
  radios: ReadonlySet<string>;
  serials: readonly SerialAccount[];
}

/** Of radios that are installed: how many hang whose serials nobody has read. */
async function Unread({ line, serials }: { line: CloseOutLine; serials: readonly SerialAccount[] }) {
  const { t } = await serverWords();
  const read = serials.filter(
    (s) => s.itemCode === line.itemCode && s.state !== "back" && s.state !== "out",
  ).length;
  const count = Math.round(line.installedC / 100) - read;
  return count > 0 ? <small> {t("{{count}} without a serial", { count })}</small> : null;
}

const SERIAL_STATES: Record<SerialState, StateName> = {
  hangs: "met",
  installed: "met",
  elsewhere: "met",
  out: "under way",
  back: "done",
  gone: "done",
  missing: "short",
};

async function SerialTable({ hopCode, serials }: { hopCode: string; serials: readonly SerialAccount[] }) {
  const { t, locale } = await serverWords();
  const dayOf = (on: CalendarDate | null) => (on ? formatDate(on, "full", locale) : "–");
  const stateWords = ({ state, where }: SerialAccount): string => {
    if (state === "hangs") return t("hangs there");
    if (state === "installed") return t("installed, position not read");
    if (state === "elsewhere") return t("hangs at {{hop}}", { hop: where ?? "" });
    if (state === "out") return t("left with its kit, on {{vehicle}}", { vehicle: where ?? "" });
    if (state === "back") return t("back at {{place}}", { place: where ?? "" });
    if (state === "gone") return t("left the places: {{kind}}", { kind: t(where ?? "") });
    return t("missing: taken down and nowhere since");
  };
  return (
    <ScrollRegion label={t("Radios of {{hop}} by serial", { hop: hopCode })}>
      <table className="ui-facts ui-facts-stack">
        <thead>
          <tr>
            <th scope="col">{t("Serial")}</th>
            <th scope="col">{t("Item")}</th>
            <th scope="col">{t("Received on")}</th>
            <th scope="col">{t("Hung on")}</th>
            <th scope="col">{t("Taken down on")}</th>
            <th scope="col">{t("Where it is")}</th>
          </tr>
        </thead>
        <tbody>
          {serials.map((s) => (
            <tr key={s.serial}>
              <th scope="row" data-label={t("Serial")}>
                <Link href={serialPath(s.serial)}>{s.serial}</Link>
              </th>
              <td data-label={t("Item")}>{s.itemCode}</td>
              <td data-label={t("Received on")}>{dayOf(s.receivedOn)}</td>
              <td data-label={t("Hung on")}>
                {dayOf(s.hungOn)} {s.position ? <small>{s.position}</small> : null}
              </td>
              <td data-label={t("Taken down on")}>{dayOf(s.endedOn)}</td>
              <td data-label={t("Where it is")}>
                <StateMark state={SERIAL_STATES[s.state]}>{stateWords(s)}</StateMark>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}

async function Hop({ hopCode, kits, lines, openLines, open, units, radios, serials }: HopProps) {
  const words = await serverWords();
  const { t } = words;
  const missing = serials.filter((s) => s.state === "missing").length;
  return (
    <Disclosure
      open={open}
      summary={
        <>
          {hopCode}:{" "}
          {openLines === 0
            ? t("all {{count}} items accounted for", { count: lines.length })
            : t("{{openLines}} of {{count}} items open", { openLines, count: lines.length })}
          {missing > 0 ? (
            <>
              {" "}
              <StateMark state="short">{t("{{count}} radios missing", { count: missing })}</StateMark>
            </>
          ) : null}
        </>
      }
    >
      <p className="flex flex-wrap gap-x-4 gap-y-1">
        <Link href={`/hops/${encodeURIComponent(hopCode)}`}>{t("Hop {{hop}}", { hop: hopCode })}</Link>
        {kits.map((k) => (
          <Link key={k.visitId} href={kitPath(k.visitId)}>
            {t("Kit, {{end}}", { end: t(`${k.side} end`) })}
          </Link>
        ))}
      </p>
      <ScrollRegion label={t("Material of {{hop}}", { hop: hopCode })}>
        <table className="ui-facts ui-facts-stack">
          <thead>
            <tr>
              <th scope="col">{t("Item")}</th>
              {[t("Issued"), t("Installed"), t("Returned"), t("Scrapped or left over")].map((word) => (
                <th key={word} scope="col" data-align="end">
                  {word}
                </th>
              ))}
              <th scope="col">{t("Adds up?")}</th>
            </tr>
          </thead>
          <tbody>
            {lines.map((l) => {
              const { name, unit } = units.get(l.itemCode) ?? { name: "", unit: "piece" };
              return (
                <tr key={l.itemCode}>
                  <th scope="row" data-label={t("Item")}>
                    <Link href={itemPath(l.itemCode)}>{l.itemCode}</Link> <small>{name}</small>
                  </th>
                  <td data-label={t("Issued")} data-align="end">
                    {amountC(l.issuedC, unit, words)}
                  </td>
                  <td data-label={t("Installed")} data-align="end">
                    {amountC(l.installedC, unit, words)}
                    {radios.has(l.itemCode) ? <Unread line={l} serials={serials} /> : null}
                  </td>
                  <td data-label={t("Returned")} data-align="end">
                    {amountC(l.returnedC, unit, words)}
                  </td>
                  <td data-label={t("Scrapped or left over")} data-align="end">
                    {amountC(l.scrappedC, unit, words)}
                  </td>
                  <td data-label={t("Adds up?")}>
                    {l.openC === 0 ? (
                      <StateMark state="met">{t("yes")}</StateMark>
                    ) : l.openC > 0 ? (
                      <StateMark state="warn">
                        {t("{{open}} open", { open: amountC(l.openC, unit, words) })}
                      </StateMark>
                    ) : (
                      <StateMark state="short">
                        {t("{{open}} more than issued", { open: amountC(-l.openC, unit, words) })}
                      </StateMark>
                    )}
                    <OnVehicle line={l} unit={unit} />
                  </td>
                </tr>
              );
            })}
          </tbody>
        </table>
      </ScrollRegion>
      {serials.length > 0 ? <SerialTable hopCode={hopCode} serials={serials} /> : null}
    </Disclosure>
  );
}

/** What of a line rides on a vehicle by intent: a piece that its need was rounded up by, a part of an opened unit. */
async function OnVehicle({ line, unit }: { line: CloseOutLine; unit: string }) {
  const words = await serverWords();
  const { t } = words;
  const { openC, openedC, carriedC, vehicles } = line;
  const of = { amount: amountC(Math.abs(carriedC), unit, words), vehicle: vehicles.join(", ") };
  const said =
    carriedC > 0
      ? t("{{amount}} carried on {{vehicle}} for the next visits", of)
      : carriedC < 0
        ? t("{{amount}} from what {{vehicle}} carried", of)
        : openC !== 0 || openedC === 0
          ? undefined
          : openedC > 0
            ? t("the rest is opened on the vehicle")
            : t("from what was opened for another hop");
  return said === undefined ? null : <small> {said}</small>;
}

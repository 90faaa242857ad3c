import type { Metadata } from "next";
import Link from "next/link";
import { homeToday } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { requireRole } from "@/app/_server/session";
import { LinkButton } from "@/app/_ui/Button";
import { CrewLoadChart } from "@/app/_ui/charts/CrewLoadChart";
import { SCurveChart } from "@/app/_ui/charts/SCurveChart";
import { EmptyState } from "@/app/_ui/EmptyState";
import { formatDate, formatNumber, formatShare } from "@/app/_ui/format";
import type { Words } from "@/app/_ui/language/words";
import { Notice } from "@/app/_ui/Notice";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { Stat, StatRow } from "@/app/_ui/Stat";
import { remembered } from "@/db/dataState";
import { database } from "@/db/open";
import { loadCatalogue } from "@/db/queries/catalogue";
import { type HopRow, loadCrewWeeks, loadProgrammeState } from "@/db/queries/progress";
import { loadPromiseCauses } from "@/db/queries/promiseCauses";
import { dataSinceRun } from "@/db/queries/risk";
import { itemsThatStop } from "@/db/queries/runsOut";
import { type HopListRow, loadHopRows } from "@/db/queries/siteViews";
import { loadWaiting, type Waiting } from "@/db/queries/waiting";
import { type HopState, lastOpening, type PromiseCause, progressCurve, summary } from "@/lib/programme";
import { HopStateMark } from "../hops/HopStateMark";
import { furtherWords } from "../hops/heldWords";
import { causeKey, PromiseCauseText } from "../plan/PromiseCauseText";
import { WhyUnplaced } from "../plan/WhyUnplaced";
import { FinishPanel } from "./FinishPanel";
import { outdatedWords } from "./finish/outdatedWords";
import { OutdatedLine } from "./OutdatedLine";
import { stateTiles } from "./stateTiles";

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await serverWords()).t("Programme") };
}

export default async function ProgrammePage() {
  const words = await serverWords();
  const { t, locale } = words;
  const visitor = await requireRole("administrator", "manager", "logistics");
  const db = database();
  const today = homeToday(db);
  const { plan, risk, hops } = loadProgrammeState(db, today);
  if (hops.length === 0) {
    return (
      <>
        <PageHead title={t("Programme")} />
        <EmptyState
          title={t("No hops yet")}
          actions={<LinkButton href="/import">{t("Bring in sites and hops")}</LinkButton>}
        >
          {t("The programme appears here once its sites and hops are in.")}
        </EmptyState>
      </>
    );
  }
  const short = plan ? itemsThatStop(db, plan.id) : [];
  const { sum, curve } = remembered(db, `programme ${today}`, ["design", "plan", "reports", "rules"], () => ({
    sum: summary(hops),
    curve: progressCurve(hops, today),
  }));
  const weeks = plan && loadCrewWeeks(db, plan);
  const itemNames = new Map(loadCatalogue(db).map((i) => [i.code, i.name]));
  const threats = hops
    .filter(threatens)
    .sort(
      (a, b) =>
        (a.promisedOn ?? "9").localeCompare(b.promisedOn ?? "9") || a.hopCode.localeCompare(b.hopCode),
    );
  const shown = threats.slice(0, THREATS_SHOWN);
  const causes = loadPromiseCauses(db, plan, shown, today);
  const outdated = risk && outdatedWords(risk, dataSinceRun(db, risk), words);
  const listed = new Map(
    loadHopRows(
      db,
      today,
      shown.map((h) => h.hopCode),
    ).map((row) => [row.code, row]),
  );
  return (
    <>
      <PageHead
        title={t("Programme")}
        lead={t("Are we on promise, and what threatens it. As of {{day}}.", {
          day: formatDate(today, "full", locale),
        })}
        actions={
          <>
            <LinkButton href="/plan">{t("Open the plan")}</LinkButton>
            <LinkButton href="/sites?tab=hops">{t("All hops")}</LinkButton>
            <LinkButton href="/programme/hours">{t("Hours learned")}</LinkButton>
            <LinkButton href="/programme/use">{t("Use learned")}</LinkButton>
          </>
        }
      />
      {visitor.role === "logistics" ? null : <WaitsForApproval waiting={loadWaiting(db)} />}
      <StatRow>
        {stateTiles(sum, words).map((tile) => (
          <Stat
            key={tile.state}
            label={tile.label}
            href={tile.href}
            figure={formatNumber(tile.count, 0, locale)}
            limit={tile.limit}
            tone={tile.tone}
          />
        ))}
        <Stat
          label={t("Items that run out")}
          figure={formatNumber(short.length, 0, locale)}
          limit={
            short[0]
              ? t("the first shelf is empty on {{day}}, transfers not counted", {
                  day: formatDate(short[0].runsOutOn, "weekday", locale),
                })
              : t("all kits covered")
          }
          tone={short.length > 0 ? "warn" : "plain"}
          href="/stock?tab=runs-out"
        />
      </StatRow>
      <div className="mt-4 grid gap-4 xl:grid-cols-2">
        <div className="grid content-start gap-4 min-w-0">
          <Panel
            foot={
              risk
                ? t(
                    "P50 and P80: finished by then in one run of two, and in four of five, of the plan in force.",
                  )
                : t(
                    "Not simulated yet: P50 is the plan in force, P80 adds to each hop what past weather adds to its own visits in one year of five.",
                  )
            }
          >
            <SCurveChart points={curve} today={today} />
          </Panel>
          {weeks ? (
            <Panel>
              <CrewLoadChart
                weeks={weeks.mondays}
                crews={weeks.crews.map((c) => ({
                  id: c.code,
                  code: `${c.code} ${c.name}`,
                  weeks: c.weeks,
                }))}
              />
            </Panel>
          ) : (
            <Panel title={t("No plan in force yet")}>
              <p>
                {t("The hops have no dates until a plan is made.")}{" "}
                <Link href="/plan">{t("Make the first plan")}</Link>.
              </p>
            </Panel>
          )}
        </div>
        {plan ? <FinishPanel risk={risk?.risk} hops={hops} today={today} outdated={outdated} /> : null}
        <Panel
          title={t("What threatens it")}
          note={t("Earliest promise first.")}
          flush
          className="xl:col-span-2"
        >
          {outdated && shown.length > 0 ? <OutdatedLine why={outdated} className="px-4 py-2" /> : null}
          <ScrollRegion label={t("Hops that need attention")}>
            <table className="ui-facts">
              <thead>
                <tr>
                  <th scope="col">{t("Hop")}</th>
                  <th scope="col">{t("State")}</th>
                  <th scope="col">{t("Promised")}</th>
                  <th scope="col">{t("Planned")}</th>
                  <th scope="col">P50</th>
                  <th scope="col">P80</th>
                  <th scope="col">{t("Why")}</th>
                </tr>
              </thead>
              <tbody>
                {shown.map((h) => (
                  <tr key={h.hopCode}>
                    <th scope="row">
                      <Link href={`/hops/${h.hopCode}`}>{h.hopCode}</Link>
                    </th>
                    <td>
                      <HopStateMark state={h.state} />
                    </td>
                    <td className="whitespace-nowrap">{formatDate(h.promisedOn, "day", locale)}</td>
                    <td className="whitespace-nowrap">{plannedWords(h, words)}</td>
                    <td className="whitespace-nowrap">{formatDate(h.p50On, "day", locale)}</td>
                    <td className="whitespace-nowrap">{formatDate(h.p80On, "day", locale)}</td>
                    <td className="min-w-64">
                      {h.heldBy ? (
                        <>
                          <WhyUnplaced reason={h.heldBy} words={words} />
                          {h.state === "late" ? <div>{threatWords(h, words)}</div> : null}
                          <Further row={listed.get(h.hopCode)} words={words} />
                          <Causes causes={causes.get(h.hopCode) ?? []} words={words} />
                        </>
                      ) : (
                        <Threat hop={h} causes={causes.get(h.hopCode) ?? []} words={words} />
                      )}
                    </td>
                  </tr>
                ))}
              </tbody>
            </table>
          </ScrollRegion>
          {threats.length > THREATS_SHOWN ? (
            <p className="px-4 py-2">
              <Link href="/sites?tab=hops">
                {t("{{count}} more hops in the list of hops", { count: threats.length - THREATS_SHOWN })}
              </Link>
            </p>
          ) : null}
        </Panel>
        <Panel
          title={t("What runs out")}
          note={t(
            "Without new orders. Runs out: the first day on which a shelf is empty, transfers not counted. Work stops later or never there: Stock names the first day on which a kit lacks something.",
          )}
          flush
          className="xl:col-span-2"
        >
          {short.length === 0 ? (
            <p className="px-4 py-3">{t("Stock and orders on the way cover every planned kit.")}</p>
          ) : (
            <ScrollRegion label={t("Items that run out")}>
              <table className="ui-facts">
                <thead>
                  <tr>
                    <th scope="col">{t("Item")}</th>
                    <th scope="col">{t("Runs out")}</th>
                    <th scope="col">{t("Stops after proposed transfers")}</th>
                    <th scope="col">{t("First site")}</th>
                  </tr>
                </thead>
                <tbody>
                  {short.slice(0, THREATS_SHOWN).map((n) => (
                    <tr key={n.itemCode}>
                      <th scope="row">
                        <Link href={`/stock/items/${encodeURIComponent(n.itemCode)}`}>{n.itemCode}</Link>{" "}
                        <span className="font-normal text-quiet">{itemNames.get(n.itemCode)}</span>
                      </th>
                      <td>{formatDate(n.runsOutOn, "weekday", locale)}</td>
                      <td>{t("{{count}} visits", { count: n.stops.length })}</td>
                      <td>{n.stops[0]?.siteCode}</td>
                    </tr>
                  ))}
                </tbody>
              </table>
            </ScrollRegion>
          )}
          {short.length > THREATS_SHOWN ? (
            <p className="px-4 py-2">
              <Link href="/stock?tab=runs-out">
                {t("{{count}} more items in the list of what runs out", {
                  count: short.length - THREATS_SHOWN,
                })}
              </Link>
            </p>
          ) : null}
        </Panel>
      </div>
    </>
  );
}

/** Logistics proposes and counts; a manager lets it go on. */
async function WaitsForApproval({ waiting: { orders, counts } }: { waiting: Waiting }) {
  const { t } = await serverWords();
  if (orders + counts === 0) return null;
  return (
    <Notice kind="info" title={t("Waits for your approval")}>
      {orders > 0 ? (
        <>
          <Link href="/stock?tab=orders">{t("{{count}} orders", { count: orders })}</Link>{" "}
        </>
      ) : null}
      {counts > 0 ? <Link href="/stock/counts">{t("{{count}} stock counts", { count: counts })}</Link> : null}
    </Notice>
  );
}

const THREATENING: ReadonlySet<HopState> = new Set(["late", "held", "at risk"]);

const threatens = ({ state, heldBy }: HopRow): boolean =>
  THREATENING.has(state) || (state === "not planned" && heldBy !== undefined);

const THREATS_SHOWN = 12;

/** How much more holds a hop than the reason before it. */
function Further({ row, words }: { row: HopListRow | undefined; words: Words }) {
  const further = row && furtherWords(row, words);
  return further ? <div className="text-quiet">{words.t("also {{further}}", { further })}</div> : null;
}

/** How likely the promise is, and what is known to stand against it. */
function Threat({ hop, causes, words }: { hop: HopRow; causes: readonly PromiseCause[]; words: Words }) {
  return (
    <>
      {threatWords(hop, words)}
      <Causes causes={causes} words={words} />
    </>
  );
}

function Causes({ causes, words }: { causes: readonly PromiseCause[]; words: Words }) {
  return (
    <>
      {causes.map((cause) => (
        <div key={causeKey(cause)} className="text-quiet">
          <PromiseCauseText cause={cause} words={words} />
        </div>
      ))}
    </>
  );
}

/** The planned day, or that of a gate that opens after it. */
function plannedWords({ plannedOn, shutGates = [] }: HopRow, { t, locale }: Words): string {
  const opensOn = lastOpening(shutGates);
  return plannedOn && opensOn && opensOn > plannedOn
    ? t("not before {{day}}", { day: formatDate(opensOn, "day", locale) })
    : formatDate(plannedOn, "day", locale);
}

function threatWords(h: HopRow, words: Words): string {
  const { t, locale } = words;
  if (h.byPlan === "not planned") return t("past its promise, and not in the plan in force");
  if (h.state === "late") return words.daysLate(h.daysLate ?? 0);
  // The simulation went by the gates as they were.
  if ((h.shutGates ?? []).length > 0) return t("planned before a gate opens");
  return h.promiseMetShare === undefined
    ? t("P80 after the promise")
    : t("promise met in {{share}} of runs", { share: formatShare(h.promiseMetShare, 0, locale) });
}

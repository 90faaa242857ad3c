import type { Metadata } from "next";
import Link from "next/link";
import { homeToday } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { activeRiskJob } from "@/app/_server/riskAgain";
import { requireRole } from "@/app/_server/session";
import { LinkButton } from "@/app/_ui/Button";
import { CriticalityChart } from "@/app/_ui/charts/CriticalityChart";
import { EmptyState } from "@/app/_ui/EmptyState";
import { formatDate, formatNumber, formatShare, NO_VALUE } from "@/app/_ui/format";
import type { Words } from "@/app/_ui/language/words";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { Stat, StatRow } from "@/app/_ui/Stat";
import { Tabs } from "@/app/_ui/Tabs";
import { database } from "@/db/open";
import { loadProgrammeState } from "@/db/queries/progress";
import { dataSinceRun, type FinishDrivers, loadDrivers, type VisitDriver } from "@/db/queries/risk";
import { type CrewLimit, hopsBehind, missedPromises, type RiskByName, surenessOf } from "@/lib/programme";
import { whyWords } from "../../plan/why";
import { SKILL_WORDS } from "../../rules/words";
import { AssessLine } from "./AssessLine";
import { CrewDrivers, HopFinishes, ItemDrivers, VisitDrivers } from "./DriverTables";
import { outdatedWords } from "./outdatedWords";
import {
  CAUSE_WORDS,
  dateOrLater,
  finishRowsOf,
  lastPromise,
  START_WORDS,
  workPhrase,
  yearsWords,
} from "./words";

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await serverWords()).t("What drives the finish") };
}

const TABS = ["visits", "crews", "items", "hops"] as const;

interface FinishPageProps {
  searchParams: Promise<Record<string, string | undefined>>;
}

export default async function FinishPage({ searchParams }: FinishPageProps) {
  const words = await serverWords();
  const { t, locale } = words;
  await requireRole("administrator", "manager", "logistics");
  const params = await searchParams;
  const tab = TABS.find((t) => t === params.by) ?? "visits";
  const db = database();
  const today = homeToday(db);
  const { plan, risk: stored, hops } = loadProgrammeState(db, today);
  const head = (
    <PageHead
      title={t("What drives the finish")}
      crumbs={[{ label: t("Programme"), href: "/programme" }]}
      lead={t(
        "How sure the plan in force is, and which visits, crews and kits decide when the programme is finished.",
      )}
    />
  );
  if (!plan) {
    return (
      <>
        {head}
        <EmptyState
          title={t("No plan in force yet")}
          actions={<LinkButton href="/plan">{t("Open the plan")}</LinkButton>}
        >
          {t(
            "A plan in force is run through drawn hours of work and past weather; its finish is shown here.",
          )}
        </EmptyState>
      </>
    );
  }
  const activeJobId = activeRiskJob(db)?.id ?? null;
  if (!stored?.risk.programme) {
    return (
      <>
        {head}
        <AssessLine
          words={t("Plan {{plan}} has not been run yet.", { plan: String(plan.id) })}
          activeJobId={activeJobId}
          isFirst
        />
      </>
    );
  }
  const { risk } = stored;
  const finish = stored.risk.programme;
  const drivers = loadDrivers(db, plan, risk);
  const finishRows = finishRowsOf(risk, hops);
  const missed = missedPromises(hops, today);
  const age =
    outdatedWords(stored, dataSinceRun(db, stored), words) ??
    (risk.asOf !== today ? t("That was an earlier day: work it out again.") : "");
  const ran = t(
    "Plan {{plan}}, run {{count}} times from {{day}} on through drawn hours of work and {{years}}, crews and order kept.",
    {
      plan: String(plan.id),
      count: risk.runs,
      day: formatDate(risk.asOf, "full", locale),
      years: yearsWords(risk, words),
    },
  );
  return (
    <>
      {head}
      <AssessLine words={age ? `${ran} ${age}` : ran} activeJobId={activeJobId} isFirst={false} />
      <StatRow>
        <Stat label={t("Last promise")} figure={formatDate(lastPromise(hops), "day", locale)} />
        <Stat
          label={t("Planned finish")}
          figure={formatDate(finish.plannedOn, "day", locale)}
          limit={t("last placed visit")}
        />
        <Stat
          label="P50"
          figure={dateOrLater(finish.p50On, words)}
          limit={t("finished by then in one run of two")}
        />
        <Stat label="P80" figure={dateOrLater(finish.p80On, words)} limit={t("in four runs of five")} />
        <Stat label="P90" figure={dateOrLater(finish.p90On, words)} limit={t("in nine runs of ten")} />
        <Stat
          label={t("All promises kept")}
          figure={formatShare(surenessOf(risk, missed).allPromisesMetShare, 0, locale)}
          limit={t("of runs")}
        />
      </StatRow>
      <Tabs
        label={t("What drives the finish, by")}
        tabs={[
          {
            href: "/programme/finish",
            label: t("Visits"),
            count: drivers.visits.length,
            current: tab === "visits",
          },
          {
            href: "/programme/finish?by=crews",
            label: t("Crews"),
            count: drivers.crews.length,
            current: tab === "crews",
          },
          {
            href: "/programme/finish?by=items",
            label: t("Kit items"),
            count: drivers.items.length,
            current: tab === "items",
          },
          {
            href: "/programme/finish?by=hops",
            label: t("Finish of each hop"),
            count: finishRows.length,
            current: tab === "hops",
          },
        ]}
      />
      {tab === "hops" ? <HopFinishes rows={finishRows} /> : <DriversOf tab={tab} drivers={drivers} />}
      <div className="mt-4 grid gap-4 xl:grid-cols-2">
        <LostHours lostH={risk.lostH} />
        <ChainBegins starts={risk.starts} />
        {drivers.slips.length > 0 ? <Slips rows={drivers.slips} /> : null}
        {drivers.standIns.length > 0 ? <StandIns rows={drivers.standIns} /> : null}
      </div>
    </>
  );
}

async function DriversOf({ tab, drivers }: { tab: "visits" | "crews" | "items"; drivers: FinishDrivers }) {
  const { t, say } = await serverWords();
  if (tab === "visits") {
    const bars = drivers.visits.map((v) => ({ label: `${v.hopCode} ${say(workPhrase(v))}`, share: v.share }));
    return (
      <>
        <CriticalityChart
          title={t("Visits that set the finish most often")}
          of={t("Visit")}
          bars={bars}
          level={2}
        />
        <VisitDrivers rows={drivers.visits} />
      </>
    );
  }
  const rows = drivers[tab];
  const bars = rows.map((r) => ({ label: r.code, share: r.share }));
  const [title, of] =
    tab === "crews"
      ? ([t("Crews that set the finish most often"), t("Crew")] as const)
      : ([t("Kit items that set the finish most often"), t("Item")] as const);
  return (
    <>
      {rows.length > 0 ? <CriticalityChart title={title} of={of} bars={bars} level={2} /> : null}
      {tab === "crews" ? <CrewDrivers rows={rows} /> : <ItemDrivers rows={rows} />}
    </>
  );
}

async function LostHours({ lostH }: Pick<RiskByName, "lostH">) {
  const { t, locale } = await serverWords();
  return (
    <Panel title={t("What takes the crews' hours")} note={t("Crew hours lost in a run, in the mean.")} flush>
      <ScrollRegion label={t("Hours lost by cause")}>
        <table className="ui-facts">
          <thead>
            <tr>
              <th scope="col">{t("Cause")}</th>
              <th scope="col">{t("Hours")}</th>
            </tr>
          </thead>
          <tbody>
            {lostH.map((l) => (
              <tr key={l.cause}>
                <th scope="row">{t(CAUSE_WORDS[l.cause])}</th>
                <td>{formatNumber(l.hours, 1, locale)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollRegion>
    </Panel>
  );
}

async function ChainBegins({ starts }: Pick<RiskByName, "starts">) {
  const { t, locale } = await serverWords();
  return (
    <Panel
      title={t("What the chain begins with")}
      note={t(
        "Walked back from the last visit: what kept the first one of the chain from beginning earlier.",
      )}
      flush
    >
      <ScrollRegion label={t("What the chain begins with")}>
        <table className="ui-facts">
          <thead>
            <tr>
              <th scope="col">{t("Held by")}</th>
              <th scope="col">{t("Runs")}</th>
            </tr>
          </thead>
          <tbody>
            {starts.map((s) => (
              <tr key={s.of}>
                <th scope="row">{t(START_WORDS[s.of])}</th>
                <td>{formatShare(s.share, 0, locale)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollRegion>
    </Panel>
  );
}

interface VisitTableProps<R extends VisitDriver> {
  title: string;
  note: string;
  rows: readonly R[];
  /** What is said of each beside its crew and day. */
  columns: readonly { head: string; of: (row: R) => string; className?: string }[];
}

async function VisitTable<R extends VisitDriver>({ title, note, rows, columns }: VisitTableProps<R>) {
  const { t, say, locale } = await serverWords();
  return (
    <Panel title={title} note={note} flush>
      <ScrollRegion label={title}>
        <table className="ui-facts">
          <thead>
            <tr>
              {[t("Visit"), t("Crew"), t("Planned"), ...columns.map((c) => c.head)].map((head) => (
                <th key={head} scope="col">
                  {head}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.slice(0, MOST_SHOWN).map((r) => (
              <tr key={r.visitId}>
                <th scope="row">
                  <VisitLink visit={r}>{say(workPhrase(r))}</VisitLink>
                </th>
                <td>{r.crewCode}</td>
                <td>{formatDate(r.startOn, "weekday", locale)}</td>
                {columns.map((c) => (
                  <td key={c.head} className={c.className}>
                    {c.of(r)}
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollRegion>
    </Panel>
  );
}

async function Slips({ rows }: { rows: FinishDrivers["slips"] }) {
  const { t, locale } = await serverWords();
  return (
    <VisitTable
      title={t("Visits that slip past a leave of their crew")}
      note={t(
        "Not done before their crew is away or lacks people for days: they wait until it is back, and other hops wait for them. Of those that wait for each other only the first is counted in a run. Move them earlier, or give them to another crew.",
      )}
      rows={rows}
      columns={[
        { head: t("Crew away from"), of: (r) => formatDate(r.gap.fromOn, "full", locale) },
        { head: t("Runs"), of: (r) => formatShare(r.share, 0, locale) },
        { head: t("Hops that wait"), of: (r) => formatNumber(hopsBehind(r), 0, locale) },
      ]}
    />
  );
}

async function StandIns({ rows }: { rows: FinishDrivers["standIns"] }) {
  const words = await serverWords();
  const { t, locale } = words;
  return (
    <VisitTable
      title={t("Visits that would need a stand-in")}
      note={t(
        "Share of runs in which they are done on a day when their crew lacks people of its own and gets none back; the runs take it that others stand in.",
      )}
      rows={rows}
      columns={[
        { head: t("Runs"), of: (r) => formatShare(r.share, 0, locale) },
        { head: t("Why"), of: (r) => whyStandIn(r.limit, words), className: "min-w-52" },
      ]}
    />
  );
}

/** As the run reckoned with it. */
function whyStandIn(limit: CrewLimit | undefined, words: Words): string {
  const { t, locale } = words;
  if (limit?.short)
    return t("on the planned day {{short}}", { short: whyWords(`the crew is ${limit.short} short`, words) });
  if (limit?.certificate)
    return t("slips past {{day}}, when the certificate of {{name}} for {{skill}} ends", {
      day: formatDate(limit.certificate.endsOn, "full", locale),
      name: limit.certificate.memberName,
      skill: t(SKILL_WORDS[limit.certificate.skill]),
    });
  return limit?.staffedUntil
    ? t("slips past {{day}}, the last day with people of its own", {
        day: formatDate(limit.staffedUntil, "full", locale),
      })
    : NO_VALUE;
}

const VisitLink = ({
  visit: { visitId, hopCode },
  children,
}: {
  visit: { visitId: string; hopCode: string };
  children: string;
}) => (
  <Link href={`/plan?visit=${encodeURIComponent(visitId)}`}>
    {hopCode} {children}
  </Link>
);

const MOST_SHOWN = 12;

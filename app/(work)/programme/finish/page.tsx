import type { Metadata } from "next";
import { homeToday } from "@/app/_server/clock";
import { requireRole } from "@/app/_server/session";
import { LinkButton } from "@/app/_ui/Button";
import { CriticalityChart } from "@/app/_ui/charts/CriticalityChart";
import { EmptyState } from "@/app/_ui/EmptyState";
import { formatCount, formatDate, formatNumber, formatShare } from "@/app/_ui/format";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { Stat, StatRow } from "@/app/_ui/Stat";
import { Tabs } from "@/app/_ui/Tabs";
import { database } from "@/db/open";
import { activeJobOfKind } from "@/db/queries/jobs";
import { loadProgrammeState } from "@/db/queries/progress";
import { type FinishDrivers, loadDrivers } from "@/db/queries/risk";
import type { RiskByName } from "@/lib/programme";
import { AssessLine } from "./AssessLine";
import { CrewDrivers, HopFinishes, ItemDrivers, VisitDrivers } from "./DriverTables";
import { CAUSE_WORDS, lastPromise, START_WORDS, workWords, yearsWords } from "./words";

export const metadata: Metadata = { title: "What drives the finish" };

const TABS = ["visits", "crews", "items", "hops"] as const;

interface FinishPageProps {
  searchParams: Promise<Record<string, string | undefined>>;
}

export default async function FinishPage({ searchParams }: FinishPageProps) {
  await requireRole("administrator", "manager", "logistics");
  const params = await searchParams;
  const tab = TABS.find((t) => t === params.by) ?? "visits";
  const db = database();
  const { plan, risk: stored, hops } = loadProgrammeState(db);
  const head = (
    <PageHead
      title="What drives the finish"
      crumbs={[{ label: "Programme", href: "/programme" }]}
      lead="How sure the plan in force is, and which visits, crews and kits decide when the programme is finished."
    />
  );
  if (!plan) {
    return (
      <>
        {head}
        <EmptyState
          title="No plan in force yet"
          actions={<LinkButton href="/plan">Open the plan</LinkButton>}
        >
          A plan in force is run through drawn hours of work and past weather; its finish is shown here.
        </EmptyState>
      </>
    );
  }
  const activeJobId = activeJobOfKind(db, "risk")?.id ?? null;
  if (!stored?.risk.programme) {
    return (
      <>
        {head}
        <AssessLine words={`Plan ${plan.id} has not been run yet.`} activeJobId={activeJobId} isFirst />
      </>
    );
  }
  const { risk } = stored;
  const finish = stored.risk.programme;
  const today = homeToday(db);
  const drivers = loadDrivers(db, plan, risk);
  const promisedOn = new Map(hops.map((h) => [h.hopCode, h.promisedOn]));
  const age =
    stored.isOutdated || risk.asOf !== today
      ? ` That was ${stored.isOutdated ? "before the plan was changed by hand" : "an earlier day"}: work it out again.`
      : "";
  return (
    <>
      {head}
      <AssessLine
        words={`Plan ${plan.id}, run ${formatCount(risk.runs, "time")} from ${formatDate(risk.asOf)} on through drawn hours of work and ${yearsWords(risk)}, crews and order kept.${age}`}
        activeJobId={activeJobId}
        isFirst={false}
      />
      <StatRow>
        <Stat label="Last promise" figure={formatDate(lastPromise(hops), "day")} />
        <Stat label="Planned finish" figure={formatDate(finish.plannedOn, "day")} limit="last placed visit" />
        <Stat label="P50" figure={dateOrLater(finish.p50On)} limit="finished by then in one run of two" />
        <Stat label="P80" figure={dateOrLater(finish.p80On)} limit="in four runs of five" />
        <Stat label="P90" figure={dateOrLater(finish.p90On)} limit="in nine runs of ten" />
        <Stat label="All promises kept" figure={formatShare(risk.allPromisesMetShare)} limit="of runs" />
      </StatRow>
      <Tabs
        label="What drives the finish, by"
        tabs={[
          {
            href: "/programme/finish",
            label: "Visits",
            count: drivers.visits.length,
            current: tab === "visits",
          },
          {
            href: "/programme/finish?by=crews",
            label: "Crews",
            count: drivers.crews.length,
            current: tab === "crews",
          },
          {
            href: "/programme/finish?by=items",
            label: "Kit items",
            count: drivers.items.length,
            current: tab === "items",
          },
          {
            href: "/programme/finish?by=hops",
            label: "Finish of each hop",
            count: risk.hops.length,
            current: tab === "hops",
          },
        ]}
      />
      {tab === "hops" ? (
        <HopFinishes
          rows={risk.hops.map(({ hopCode, plannedOn, p50On, p80On, promiseMetShare }) => ({
            hopCode,
            plannedOn,
            p50On,
            p80On,
            promiseMetShare,
            promisedOn: promisedOn.get(hopCode),
          }))}
        />
      ) : (
        <DriversOf tab={tab} drivers={drivers} />
      )}
      <div className="mt-4 grid gap-4 xl:grid-cols-2">
        <LostHours lostH={risk.lostH} />
        <ChainBegins starts={risk.starts} />
        {drivers.standIns.length > 0 ? <StandIns rows={drivers.standIns} /> : null}
      </div>
    </>
  );
}

const dateOrLater = (on: Parameters<typeof formatDate>[0]) => (on ? formatDate(on, "day") : "later");

function DriversOf({ tab, drivers }: { tab: "visits" | "crews" | "items"; drivers: FinishDrivers }) {
  if (tab === "visits") {
    const bars = drivers.visits.map((v) => ({ label: `${v.hopCode} ${workWords(v)}`, share: v.share }));
    return (
      <>
        <CriticalityChart title="Visits that set the finish most often" of="Visit" bars={bars} level={2} />
        <VisitDrivers rows={drivers.visits} />
      </>
    );
  }
  const rows = drivers[tab];
  const bars = rows.map((r) => ({ label: r.code, share: r.share }));
  const [title, of] =
    tab === "crews"
      ? (["Crews that set the finish most often", "Crew"] as const)
      : (["Kit items that set the finish most often", "Item"] as const);
  return (
    <>
      {rows.length > 0 ? <CriticalityChart title={title} of={of} bars={bars} level={2} /> : null}
      {tab === "crews" ? <CrewDrivers rows={rows} /> : <ItemDrivers rows={rows} />}
    </>
  );
}

function LostHours({ lostH }: Pick<RiskByName, "lostH">) {
  return (
    <Panel title="What takes the crews' hours" note="Crew hours lost in a run, in the mean." flush>
      <ScrollRegion label="Hours lost by cause">
        <table className="ui-facts">
          <thead>
            <tr>
              <th scope="col">Cause</th>
              <th scope="col">Hours</th>
            </tr>
          </thead>
          <tbody>
            {lostH.map((l) => (
              <tr key={l.cause}>
                <th scope="row">{CAUSE_WORDS[l.cause]}</th>
                <td>{formatNumber(l.hours, 1)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollRegion>
    </Panel>
  );
}

function ChainBegins({ starts }: Pick<RiskByName, "starts">) {
  return (
    <Panel
      title="What the chain begins with"
      note="Walked back from the last visit: what kept the first one of the chain from beginning earlier."
      flush
    >
      <ScrollRegion label="What the chain begins with">
        <table className="ui-facts">
          <thead>
            <tr>
              <th scope="col">Held by</th>
              <th scope="col">Runs</th>
            </tr>
          </thead>
          <tbody>
            {starts.map((s) => (
              <tr key={s.of}>
                <th scope="row">{START_WORDS[s.of]}</th>
                <td>{formatShare(s.share)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollRegion>
    </Panel>
  );
}

function StandIns({ rows }: { rows: FinishDrivers["standIns"] }) {
  return (
    <Panel
      title="Visits that would need a stand-in"
      note="They slip past the last day on which their crew has the people: a certificate runs out."
      flush
    >
      <ScrollRegion label="Visits that would need a stand-in">
        <table className="ui-facts">
          <thead>
            <tr>
              <th scope="col">Visit</th>
              <th scope="col">Crew</th>
              <th scope="col">Planned</th>
              <th scope="col">Runs</th>
            </tr>
          </thead>
          <tbody>
            {rows.slice(0, STAND_INS_SHOWN).map((r) => (
              <tr key={r.visitId}>
                <th scope="row">
                  {r.hopCode} {workWords(r)}
                </th>
                <td>{r.crewCode}</td>
                <td>{formatDate(r.startOn, "weekday")}</td>
                <td>{formatShare(r.share)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollRegion>
    </Panel>
  );
}

const STAND_INS_SHOWN = 12;

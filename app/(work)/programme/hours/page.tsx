import type { Metadata } from "next";
import Link from "next/link";
import { learnedHours } from "@/app/_server/calibrationEdits";
import { homeZone } from "@/app/_server/clock";
import { MAY_CHANGE } from "@/app/_server/ruleChange";
import { requireRole } from "@/app/_server/session";
import { LinkButton } from "@/app/_ui/Button";
import { EstimateActualChart } from "@/app/_ui/charts/EstimateActualChart";
import { EmptyState } from "@/app/_ui/EmptyState";
import { formatCount, formatInstant, formatNumber } from "@/app/_ui/format";
import { Notice } from "@/app/_ui/Notice";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { Stat, StatRow } from "@/app/_ui/Stat";
import { Tabs } from "@/app/_ui/Tabs";
import { database } from "@/db/open";
import { loadRejections } from "@/db/queries/actuals";
import { policyHistory } from "@/db/queries/catalogue";
import { completedEnds } from "@/db/queries/workedVisits";
import {
  type ActualVisit,
  type Backtest,
  expectedOf,
  isBelieved,
  isRejected,
  LEAST_ACTUALS,
  type Proposal,
  partName,
} from "@/lib/calibration";
import { History } from "../../rules/History";
import { type ProposalRow, ProposalTable } from "../ProposalTable";
import { rejectProposals } from "./actions";
import { BacktestTable } from "./BacktestTable";
import { FactorsInForce, Rejections } from "./InForce";
import { PracticeTable } from "./PracticeTable";
import { biasWords, figureOf, LEFT_OUT_WORDS, LEVEL_WORDS, percent, subjectOf } from "./words";

export const metadata: Metadata = { title: "Hours: estimated and worked" };

const BY = {
  crew: { label: "Crew", of: (b: Backtest) => b.byCrew },
  scheme: { label: "Scheme", of: (b: Backtest) => b.byScheme },
  work: { label: "Work", of: (b: Backtest) => b.byWork },
  task: { label: "Task", of: (b: Backtest) => b.byPart },
} as const;
type ByName = keyof typeof BY;

interface HoursPageProps {
  searchParams: Promise<Record<string, string | undefined>>;
}

export default async function HoursPage({ searchParams }: HoursPageProps) {
  const visitor = await requireRole("administrator", "manager", "logistics");
  const params = await searchParams;
  const by = (Object.keys(BY) as ByName[]).find((t) => t === params.by) ?? "crew";
  const db = database();
  const { actuals, fitted, open, test, held } = learnedHours(db);
  const { calibration, norms } = actuals;
  const head = (
    <PageHead
      title="Hours: estimated and worked"
      crumbs={[{ label: "Programme", href: "/programme" }]}
      lead="How far the estimates were off, and the factors that the actual hours speak for. Nothing changes until a person accepts it."
      actions={
        <>
          <LinkButton href="/programme/use">Use learned</LinkButton>
          <LinkButton href="/import">Bring in actual hours</LinkButton>
          <LinkButton href="/rules?tab=hours">Hour norms</LinkButton>
        </>
      }
    />
  );
  if (!test.all)
    return (
      <>
        {head}
        <Waiting count={actuals.waiting.length} />
        <EmptyState
          title="No finished visits with hours yet"
          actions={<LinkButton href="/import">Bring in actual hours</LinkButton>}
        >
          Crews report hours on My week; hours of earlier work come in from a file.
        </EmptyState>
      </>
    );
  const { inForce, proposed } = test.all;
  const nameOf = (part: string) => partName(part, norms);
  const rejections = loadRejections(db);
  const undecided = open.filter((p) => !isRejected(p, rejections));
  const mayDecide = MAY_CHANGE["hour calibration"].includes(visitor.role);
  return (
    <>
      {head}
      <Waiting count={actuals.waiting.length} />
      {fitted.leftOut.length > 0 ? (
        <Notice kind="warn" title={`${formatCount(fitted.leftOut.length, "report")} left out`}>
          {fitted.leftOut.map((v) => `${v.visitId.replaceAll("/", " ")} (${v.crewCode})`).join(", ")}:{" "}
          {LEFT_OUT_WORDS}.
        </Notice>
      ) : null}
      <StatRow>
        <Stat label="Finished visits" figure={inForce.actuals} limit="with an estimate to compare" />
        <Stat
          label="Error in force"
          figure={percent(inForce.mape)}
          limit={`mean of a visit; in all ${biasWords(inForce)}`}
          tone={inForce.mape > 0.25 ? "warn" : "plain"}
        />
        <Stat
          label="Error as proposed"
          figure={percent(proposed?.mape)}
          limit="on hops held out: factors that never saw them"
        />
        <Stat
          label="Between P10 and P90"
          figure={percent(inForce.coverage)}
          limit="in force; four in five would be right"
          tone={(inForce.coverage ?? 0) < 0.6 ? "warn" : "plain"}
        />
        <Stat label="The same as proposed" figure={percent(proposed?.coverage)} limit="on hops held out" />
        <Stat label="Proposals" figure={undecided.length} limit="wait for a decision" />
      </StatRow>
      <div className="mt-4 grid gap-4">
        <div className="grid gap-4 xl:grid-cols-2">
          <Panel>
            <EstimateActualChart
              title="Worked against estimated, factors in force"
              level={2}
              series={SERIES}
              points={actuals.visits
                .filter(isBelieved)
                .map((v) => pointOf(v, expectedOf(v, calibration).meanMin))}
            />
          </Panel>
          <Panel>
            <EstimateActualChart
              title="Worked against estimated, as proposed, each hop held out"
              level={2}
              series={SERIES}
              points={held.map((h) => pointOf(h.visit, h.meanMin))}
            />
          </Panel>
        </div>
        <Panel
          title="Proposed factors"
          note={
            undecided.length > 0
              ? `Drawn toward 1 while few actuals stand behind them; ${formatCount(LEAST_ACTUALS, "actual")} at least. They belong together: what tasks explain is not charged to crews, nor a crew to all work.`
              : undefined
          }
          flush
        >
          {undecided.length > 0 ? (
            <ProposalTable
              about={{
                kind: "hour calibration",
                reject: rejectProposals,
                one: "factor",
                countHead: "Actuals",
                moreWhen: "actual hours are in",
              }}
              rows={undecided.map((p) => rowOf(p, nameOf))}
              basedOn={calibration.version}
              mayDecide={mayDecide}
            />
          ) : (
            <p className="px-4 py-3">
              None: the factors in force are within two per cent of what the actual hours say, or were decided
              on.
            </p>
          )}
        </Panel>
        <Panel title="Back-test" note="Error: mean of |worked − estimated| / worked." flush>
          <div className="px-4 pt-3">
            <Tabs
              label="Back-test by"
              tabs={(Object.keys(BY) as ByName[]).map((name) => ({
                href: `/programme/hours?by=${name}`,
                label: BY[name].label,
                count: BY[name].of(test).length,
                current: name === by,
              }))}
            />
          </div>
          {BY[by].of(test).length > 0 ? (
            <BacktestTable
              label={`Back-test by ${BY[by].label.toLowerCase()}`}
              head={BY[by].label}
              lines={BY[by].of(test)}
              withProposed={by !== "task"}
            />
          ) : (
            <p className="px-4 py-3">
              No crew timed single tasks yet. On My week the report has room for them; a file may bring them
              in.
            </p>
          )}
        </Panel>
        <Panel
          title="Practice"
          note={`Each doubling of the ends done takes ${percent(norms.learning.rate)} of the time, down to the norm after ${norms.learning.floorAfterEnds}; ${norms.learning.endsBefore} are taken as done before the first report (hour norms, from memory and our own choice).`}
          flush
        >
          <PracticeTable ends={completedEnds(db)} learning={norms.learning} />
        </Panel>
        <Panel title="Factors in force" note={`Version ${calibration.version}.`} flush>
          <FactorsInForce calibration={calibration} partName={nameOf} />
        </Panel>
        <History
          kind="hour calibration"
          basedOn={calibration.version}
          effectFirst
          mayEdit={mayDecide}
          rows={policyHistory(db, "hour calibration").map((v) => ({
            version: v.version,
            by: v.changedBy,
            at: formatInstant(v.changedAt, homeZone(db)),
            reason: v.reason,
          }))}
        />
        {rejections.length > 0 ? (
          <Panel title="Rejected" note="A rejected proposal comes back when more actuals speak for it." flush>
            <Rejections rows={rejections} zone={homeZone(db)} partName={nameOf} />
          </Panel>
        ) : null}
        <p className="text-quiet">
          Weight of the prior in actuals:{" "}
          {Object.entries(fitted.weights)
            .map(
              ([level, w]) =>
                `${level} ${w.k >= 1000 ? "1000, no difference seen" : formatNumber(w.k, 1)}${w.isFromData ? "" : " (our choice, too few to tell)"}`,
            )
            .join("; ")}
          . Norms are delivered from memory and common practice; hours are planning figures, the{" "}
          <Link href="/rules?tab=hours">norms</Link> say where each comes from.
        </p>
      </div>
    </>
  );
}

const SERIES = ["install", "alignment"];

const pointOf = (v: ActualVisit, meanMin: number) => ({
  label: `${v.hopCode} ${v.side} ${v.kind}, crew ${v.crewCode}`,
  series: v.kind,
  estimateH: meanMin / 60,
  actualH: v.workedMin / 60,
});

function rowOf(p: Proposal, nameOf: (part: string) => string): ProposalRow {
  const factor = (x: number | undefined) => (x === undefined ? "\u2013" : figureOf(p.level, x));
  return {
    id: p.id,
    proposed: p.proposed,
    level: LEVEL_WORDS[p.level],
    subject: subjectOf(p, nameOf),
    actuals: formatCount(p.actuals, "actual"),
    inForceWords: figureOf(p.level, p.inForce),
    proposedWords: figureOf(p.level, p.proposed),
    plainWords: factor(p.plainFactor),
    betweenWords: p.low === undefined ? "\u2013" : `${factor(p.low)} and ${factor(p.high)}`,
  };
}

function Waiting({ count }: { count: number }) {
  if (count === 0) return null;
  return (
    <Notice kind="info" title={`${formatCount(count, "finished visit waits", "finished visits wait")}`}>
      Their estimates are being worked out under the rules in force, or their hop has none. Look again when
      the long work is done.
    </Notice>
  );
}

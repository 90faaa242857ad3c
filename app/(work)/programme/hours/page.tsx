import type { Metadata } from "next";
import Link from "next/link";
import { learnedHours } from "@/app/_server/calibrationEdits";
import { homeZone } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { MAY_CHANGE } from "@/app/_server/ruleChange";
import { requireRole } from "@/app/_server/session";
import { LinkButton } from "@/app/_ui/Button";
import { EstimateActualChart } from "@/app/_ui/charts/EstimateActualChart";
import { EmptyState } from "@/app/_ui/EmptyState";
import { formatInstant, formatNumber } from "@/app/_ui/format";
import { places, withParts } from "@/app/_ui/language/parts";
import type { Words } from "@/app/_ui/language/words";
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
  FARTHEST_RATIO,
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
import { biasWords, figureOf, LEVEL_WORDS, percent, subjectOf } from "./words";

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await serverWords()).t("Hours: estimated and worked") };
}

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
  const words = await serverWords();
  const { t, locale } = words;
  const visitor = await requireRole("administrator", "manager", "logistics");
  const params = await searchParams;
  const by = (Object.keys(BY) as ByName[]).find((t) => t === params.by) ?? "crew";
  const db = database();
  const { actuals, fitted, open, test, held } = learnedHours(db);
  const { calibration, norms } = actuals;
  const head = (
    <PageHead
      title={t("Hours: estimated and worked")}
      crumbs={[{ label: t("Programme"), href: "/programme" }]}
      lead={t(
        "How far the estimates were off, and the factors that the actual hours speak for. Nothing changes until a person accepts it.",
      )}
      actions={
        <>
          <LinkButton href="/programme/use">{t("Use learned")}</LinkButton>
          <LinkButton href="/import">{t("Bring in actual hours")}</LinkButton>
          <LinkButton href="/rules?tab=hours">{t("Hour norms")}</LinkButton>
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
          title={
            actuals.waiting.length > 0
              ? t("Nothing to compare until their estimates are made")
              : t("No finished visits with hours yet")
          }
          actions={<LinkButton href="/import">{t("Bring in actual hours")}</LinkButton>}
        >
          {t("Crews report hours on My week; hours of earlier work come in from a file.")}
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
        <Notice kind="warn" title={t("{{count}} reports left out", { count: fitted.leftOut.length })}>
          {fitted.leftOut.map((v) => `${v.visitId.replaceAll("/", " ")} (${v.crewCode})`).join(", ")}:{" "}
          {t("more than {{ratio}} times off the estimate: taken for an error of entry.", {
            ratio: FARTHEST_RATIO,
          })}
        </Notice>
      ) : null}
      <StatRow>
        <Stat
          label={t("Finished visits")}
          figure={inForce.actuals}
          limit={t("with an estimate to compare")}
        />
        <Stat
          label={t("Error in force")}
          figure={percent(inForce.mape, locale)}
          limit={t("mean of a visit; in all {{bias}}", { bias: biasWords(inForce, words) })}
          tone={inForce.mape > 0.25 ? "warn" : "plain"}
        />
        <Stat
          label={t("Error as proposed")}
          figure={percent(proposed?.mape, locale)}
          limit={t("on hops held out: factors that never saw them")}
        />
        <Stat
          label={t("Between P10 and P90")}
          figure={percent(inForce.coverage, locale)}
          limit={t("in force; four in five would be right")}
          tone={(inForce.coverage ?? 0) < 0.6 ? "warn" : "plain"}
        />
        <Stat
          label={t("The same as proposed")}
          figure={percent(proposed?.coverage, locale)}
          limit={t("on hops held out")}
        />
        <Stat label={t("Proposals")} figure={undecided.length} limit={t("wait for a decision")} />
      </StatRow>
      <div className="mt-4 grid gap-4">
        <div className="grid gap-4 xl:grid-cols-2">
          <Panel>
            <EstimateActualChart
              title={t("Worked against estimated, factors in force")}
              level={2}
              series={SERIES.map((kind) => t(kind))}
              points={actuals.visits
                .filter(isBelieved)
                .map((v) => pointOf(v, expectedOf(v, calibration).meanMin, words))}
            />
          </Panel>
          <Panel>
            <EstimateActualChart
              title={t("Worked against estimated, as proposed, each hop held out")}
              level={2}
              series={SERIES.map((kind) => t(kind))}
              points={held.map((h) => pointOf(h.visit, h.meanMin, words))}
            />
          </Panel>
        </div>
        <Panel
          title={t("Proposed factors")}
          note={
            undecided.length > 0
              ? t(
                  "Drawn toward 1 while few actuals stand behind them; {{count}} actuals at least. They belong together: what tasks explain is not charged to crews, nor a crew to all work.",
                  { count: LEAST_ACTUALS },
                )
              : undefined
          }
          flush
        >
          {undecided.length > 0 ? (
            <ProposalTable
              about={{
                kind: "hour calibration",
                reject: rejectProposals,
              }}
              rows={undecided.map((p) => rowOf(p, nameOf, words))}
              basedOn={calibration.version}
              mayDecide={mayDecide}
            />
          ) : (
            <p className="px-4 py-3">
              {t(
                "None: the factors in force are within two per cent of what the actual hours say, or were decided on.",
              )}
            </p>
          )}
        </Panel>
        <Panel title={t("Back-test")} note={t("Error: mean of |worked − estimated| / worked.")} flush>
          <div className="px-4 pt-3">
            <Tabs
              label={t("Back-test by")}
              tabs={(Object.keys(BY) as ByName[]).map((name) => ({
                href: `/programme/hours?by=${name}`,
                label: t(BY[name].label),
                count: BY[name].of(test).length,
                current: name === by,
              }))}
            />
          </div>
          {BY[by].of(test).length > 0 ? (
            <BacktestTable
              label={t("Back-test by {{what}}", { what: t(BY[by].label.toLowerCase()) })}
              head={t(BY[by].label)}
              lines={BY[by].of(test).map((line) => ({
                ...line,
                name: lineName(by, "name" in line ? String(line.name) : line.key, words),
              }))}
              withProposed={by !== "task"}
            />
          ) : (
            <p className="px-4 py-3">
              {t(
                "No crew timed single tasks yet. On My week the report has room for them; a file may bring them in.",
              )}
            </p>
          )}
        </Panel>
        <Panel
          title={t("Practice")}
          note={t(
            "Each doubling of the ends done takes {{share}} of the time, down to the norm after {{floor}}; {{before}} are taken as done before the first report (hour norms, from memory and our own choice).",
            {
              share: percent(norms.learning.rate, locale),
              floor: norms.learning.floorAfterEnds,
              before: norms.learning.endsBefore,
            },
          )}
          flush
        >
          <PracticeTable ends={completedEnds(db)} learning={norms.learning} />
        </Panel>
        <Panel
          title={t("Factors in force")}
          note={t("Version {{version}}.", { version: String(calibration.version) })}
          flush
        >
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
            at: formatInstant(v.changedAt, homeZone(db), locale),
            reason: v.reason,
          }))}
        />
        {rejections.length > 0 ? (
          <Panel
            title={t("Rejected")}
            note={t("A rejected proposal comes back when more actuals speak for it.")}
            flush
          >
            <Rejections rows={rejections} zone={homeZone(db)} partName={nameOf} />
          </Panel>
        ) : null}
        <p className="text-quiet">
          {withParts(
            t(
              "Weight of the prior in actuals: {{weights}}. Norms are delivered from memory and common practice; hours are planning figures, the {{norms}} say where each comes from.",
              {
                ...places("norms"),
                weights: Object.entries(fitted.weights)
                  .map(([level, w]) => {
                    const name = t(level);
                    const weight = w.k >= 1000 ? t("1000, no difference seen") : formatNumber(w.k, 1, locale);
                    return `${name} ${weight}${w.isFromData ? "" : t(" (our choice, too few to tell)")}`;
                  })
                  .join("; "),
              },
            ),
            { norms: <Link href="/rules?tab=hours">{t("norms")}</Link> },
          )}
        </p>
      </div>
    </>
  );
}

const SERIES = ["install", "alignment"] as const;

const pointOf = (v: ActualVisit, meanMin: number, { t }: Words) => ({
  label: t("{{hop}} {{side}} {{kind}}, crew {{crew}}", {
    hop: v.hopCode,
    side: t(v.side),
    kind: t(v.kind),
    crew: v.crewCode,
  }),
  series: t(v.kind),
  estimateH: meanMin / 60,
  actualH: v.workedMin / 60,
});

/** A work of the norms, a task, a crew or a scheme, as the page says it. */
const lineName = (by: ByName, name: string, { t, task }: Words): string =>
  by === "task" ? task(name) : by === "crew" ? name : t(name);

function rowOf(p: Proposal, nameOf: (part: string) => string, words: Words): ProposalRow {
  const { t } = words;
  const factor = (x: number | undefined) => (x === undefined ? "\u2013" : figureOf(p.level, x, words));
  return {
    id: p.id,
    proposed: p.proposed,
    level: t(LEVEL_WORDS[p.level]),
    subject: subjectOf(p, nameOf, words),
    actuals: t("{{count}} actuals", { count: p.actuals }),
    inForceWords: figureOf(p.level, p.inForce, words),
    proposedWords: figureOf(p.level, p.proposed, words),
    plainWords: factor(p.plainFactor),
    betweenWords:
      p.low === undefined ? "\u2013" : t("{{a}} and {{b}}", { a: factor(p.low), b: factor(p.high) }),
  };
}

async function Waiting({ count }: { count: number }) {
  const { t } = await serverWords();
  if (count === 0) return null;
  return (
    <Notice kind="info" title={t("{{count}} finished visits wait", { count })}>
      {t(
        "Their estimates are being worked out under the rules in force, or their hop has none. Look again when the long work is done.",
      )}
    </Notice>
  );
}

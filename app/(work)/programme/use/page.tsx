import type { Metadata } from "next";
import Link from "next/link";
import { homeZone } from "@/app/_server/clock";
import { MAY_CHANGE } from "@/app/_server/ruleChange";
import { requireRole } from "@/app/_server/session";
import { learnedUse } from "@/app/_server/useEdits";
import { LinkButton } from "@/app/_ui/Button";
import { EmptyState } from "@/app/_ui/EmptyState";
import { formatCount, formatInstant, formatNumber, formatShare } from "@/app/_ui/format";
import { Notice } from "@/app/_ui/Notice";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { Stat, StatRow } from "@/app/_ui/Stat";
import { database } from "@/db/open";
import { loadRejections } from "@/db/queries/actuals";
import { policyHistory } from "@/db/queries/catalogue";
import { FARTHEST_USE, isRejected, LEAST_ENDS, type UseErrors, type UseProposal } from "@/lib/calibration";
import type { TakeoffRule } from "@/lib/takeoff";
import { History } from "../../rules/History";
import { type ProposalRow, ProposalTable } from "../ProposalTable";
import { rejectUse } from "./actions";
import { RejectedUse } from "./RejectedUse";

export const metadata: Metadata = { title: "Material: counted and used" };

/** What ends used beside what the take-off counted, and the allowances that follow; a person decides. */
export default async function UsePage() {
  const visitor = await requireRole("administrator", "manager", "logistics");
  const db = database();
  const { material, fitted, open, test } = learnedUse(db);
  const { rules, rulesVersion, lines } = material;
  const head = (
    <PageHead
      title="Material: counted and used"
      crumbs={[{ label: "Programme", href: "/programme" }]}
      lead="How far the take-off's allowances were off, by row of the rules, from what crews reported as used. Nothing changes until a person accepts it."
      actions={
        <>
          <LinkButton href="/programme/hours">Hours</LinkButton>
          <LinkButton href="/rules?tab=takeoff">Take-off rows</LinkButton>
        </>
      }
    />
  );
  if (lines.length === 0)
    return (
      <>
        {head}
        <EmptyState title="No finished end has reported its material yet">
          Crews report what they used on My week, line by line of the kit.
        </EmptyState>
      </>
    );
  const rejections = loadRejections(db, "material");
  const undecided = open.filter((p) => !isRejected(p, rejections));
  const mayDecide = MAY_CHANGE["takeoff rules"].includes(visitor.role);
  const nameOf = (id: string) => rules.get(id)?.name ?? id;
  const [before, after] = overall(test);
  return (
    <>
      {head}
      {fitted.leftOut.length > 0 ? (
        <Notice kind="warn" title={`${formatCount(fitted.leftOut.length, "line")} left out`}>
          {[...new Set(fitted.leftOut.map((l) => `${l.hopCode} ${nameOf(l.ruleId)}`))]
            .slice(0, 12)
            .join(", ")}
          : more than {FARTHEST_USE} times off what the design counts, or nothing used; taken for errors of
          entry.
        </Notice>
      ) : null}
      <StatRow>
        <Stat
          label="Finished ends"
          figure={formatNumber(material.ends)}
          limit="with their material reported"
        />
        <Stat label="Off in force" figure={formatShare(before)} limit="of what was used, line by line" />
        <Stat
          label="Off as proposed"
          figure={formatShare(after)}
          limit="on hops held out: allowances that never saw them"
        />
        <Stat label="Proposals" figure={formatNumber(undecided.length)} limit="wait for a decision" />
      </StatRow>
      <div className="mt-4 grid gap-4">
        <Panel
          title="Proposed allowances"
          note="Drawn toward the allowance in force as long as few ends stand behind it. Accepting makes a new version of the take-off rows; the effect on the programme is shown first."
          flush
        >
          {undecided.length > 0 ? (
            <ProposalTable
              about={{
                kind: "takeoff rules",
                reject: rejectUse,
                one: "allowance",
                countHead: "Ends",
                moreWhen: "ends have reported",
              }}
              rows={undecided.map((p) => rowOf(p, rules))}
              basedOn={rulesVersion}
              mayDecide={mayDecide}
            />
          ) : (
            <p className="px-4 py-3">
              None: the allowances in force are within a point of what was used, or were decided on.
            </p>
          )}
        </Panel>
        <Panel
          title="Row by row"
          note={`Off: sum of |used − foretold| over what was used. As proposed: by allowances fitted to other hops. Rows with fewer than ${LEAST_ENDS} ends make no proposal.`}
          flush
        >
          <BacktestTable rows={test} nameOf={nameOf} />
        </Panel>
        <History
          kind="takeoff rules"
          basedOn={rulesVersion}
          effectFirst
          mayEdit={mayDecide}
          rows={policyHistory(db, "takeoff rules").map((v) => ({
            version: v.version,
            by: v.changedBy,
            at: formatInstant(v.changedAt, homeZone(db)),
            reason: v.reason,
          }))}
        />
        {rejections.length > 0 ? (
          <Panel title="Rejected" note="A rejected proposal comes back when more ends speak for it." flush>
            <RejectedUse rows={rejections} zone={homeZone(db)} nameOf={nameOf} />
          </Panel>
        ) : null}
        <p className="text-quiet">
          True allowances lie {formatNumber(fitted.betweenSd * 100, 1)} points around those in force
          {fitted.isFromData ? ", as the rows tell" : ", our choice: too few rows to tell"}. Of{" "}
          {formatCount(material.shared, "reported line")} several rows ask for the item, so no row can be
          told; runs of cable are cut to measure and stand apart. The figures delivered are common practice or
          from memory; the <Link href="/rules?tab=takeoff">rows</Link> say where each comes from.
        </p>
      </div>
    </>
  );
}

/** Shares off in force and as proposed, over all rows, each end's lines weighing the same. */
function overall(test: readonly UseErrors[]): [number, number] {
  const ends = test.reduce((sum, t) => sum + t.ends, 0);
  const mean = (of: (t: UseErrors) => number) => test.reduce((sum, t) => sum + t.ends * of(t), 0) / ends;
  return [mean((t) => t.inForce), mean((t) => t.proposed)];
}

const points = (factor: number) => formatShare(factor - 1, 1);

function rowOf(p: UseProposal, rules: ReadonlyMap<string, TakeoffRule>): ProposalRow {
  const rule = rules.get(p.ruleId);
  const from = rule?.allowanceFrom ? ", from a figure that other rows share" : "";
  return {
    id: p.id,
    proposed: p.proposed,
    level: `Allowance on what the design counts (${rule?.category ?? "row"})`,
    subject: rule?.name ?? p.ruleId,
    actuals: formatCount(p.actuals, "end"),
    inForceWords: `${points(p.inForce)}${from}`,
    proposedWords: points(p.proposed),
    plainWords: points(p.plainFactor),
    betweenWords: `${points(p.low)} and ${points(p.high)}`,
  };
}

function BacktestTable({ rows, nameOf }: { rows: readonly UseErrors[]; nameOf: (id: string) => string }) {
  return (
    <ScrollRegion label="Rows of the take-off, counted and used" className="max-md:px-4">
      <table className="ui-facts ui-facts-stack">
        <thead>
          <tr>
            <th scope="col">Row</th>
            {["Ends", "Off in force", "Off as proposed", "In all, in force", "In all, as proposed"].map(
              (word) => (
                <th key={word} scope="col" data-align="end">
                  {word}
                </th>
              ),
            )}
          </tr>
        </thead>
        <tbody>
          {rows.map((r) => (
            <tr key={r.ruleId}>
              <th scope="row" data-label="Row">
                {nameOf(r.ruleId)}
              </th>
              <td data-label="Ends" data-align="end">
                {r.ends}
              </td>
              <td data-label="Off in force" data-align="end">
                {formatShare(r.inForce, 1)}
              </td>
              <td data-label="Off as proposed" data-align="end">
                {formatShare(r.proposed, 1)}
              </td>
              <td data-label="In all, in force" data-align="end">
                {biasWords(r.biasInForce)}
              </td>
              <td data-label="In all, as proposed" data-align="end">
                {biasWords(r.biasProposed)}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}

/** "3.1 % too little". */
function biasWords(bias: number): string {
  if (Math.abs(bias) < 0.0005) return "as used";
  return `${formatShare(Math.abs(bias), 1)} too ${bias < 0 ? "little" : "much"}`;
}

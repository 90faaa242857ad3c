import type { Metadata } from "next";
import Link from "next/link";
import { homeZone } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { MAY_CHANGE } from "@/app/_server/ruleChange";
import { requireRole } from "@/app/_server/session";
import { learnedUse } from "@/app/_server/useEdits";
import { LinkButton } from "@/app/_ui/Button";
import { EmptyState } from "@/app/_ui/EmptyState";
import { formatInstant, formatNumber, formatShare } from "@/app/_ui/format";
import { places, withParts } from "@/app/_ui/language/parts";
import type { Words } from "@/app/_ui/language/words";
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

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await serverWords()).t("Material: counted and used") };
}

/** What ends used beside what the take-off counted, and the allowances that follow; a person decides. */
export default async function UsePage() {
  const words = await serverWords();
  const { t, locale } = words;
  const visitor = await requireRole("administrator", "manager", "logistics");
  const db = database();
  const { material, fitted, open, test } = learnedUse(db);
  const { rules, rulesVersion, lines } = material;
  const head = (
    <PageHead
      title={t("Material: counted and used")}
      crumbs={[{ label: t("Programme"), href: "/programme" }]}
      lead={t(
        "How far the take-off's allowances were off, by row of the rules, from what crews reported as used. Nothing changes until a person accepts it.",
      )}
      actions={
        <>
          <LinkButton href="/programme/hours">{t("Hours")}</LinkButton>
          <LinkButton href="/rules?tab=takeoff">{t("Take-off rows")}</LinkButton>
        </>
      }
    />
  );
  if (lines.length === 0)
    return (
      <>
        {head}
        <EmptyState title={t("No finished end has reported its material yet")}>
          {t("Crews report what they used on My week, line by line of the kit.")}
        </EmptyState>
      </>
    );
  const rejections = loadRejections(db, "material");
  const undecided = open.filter((p) => !isRejected(p, rejections));
  const mayDecide = MAY_CHANGE["takeoff rules"].includes(visitor.role);
  const nameOf = (id: string) => t(rules.get(id)?.name ?? id);
  const [before, after] = overall(test);
  return (
    <>
      {head}
      {fitted.leftOut.length > 0 ? (
        <Notice kind="warn" title={t("{{count}} lines left out", { count: fitted.leftOut.length })}>
          {[...new Set(fitted.leftOut.map((l) => `${l.hopCode} ${nameOf(l.ruleId)}`))]
            .slice(0, 12)
            .join(", ")}
          {t(
            ": more than {{ratio}} times off what the design counts, or nothing used; taken for errors of entry.",
            { ratio: FARTHEST_USE },
          )}
        </Notice>
      ) : null}
      <StatRow>
        <Stat
          label={t("Finished ends")}
          figure={formatNumber(material.ends, 0, locale)}
          limit={t("with their material reported")}
        />
        <Stat
          label={t("Off in force")}
          figure={formatShare(before, 0, locale)}
          limit={t("of what was used, line by line")}
        />
        <Stat
          label={t("Off as proposed")}
          figure={formatShare(after, 0, locale)}
          limit={t("on hops held out: allowances that never saw them")}
        />
        <Stat
          label={t("Proposals")}
          figure={formatNumber(undecided.length, 0, locale)}
          limit={t("wait for a decision")}
        />
      </StatRow>
      <div className="mt-4 grid gap-4">
        <Panel
          title={t("Proposed allowances")}
          note={t(
            "Drawn toward the allowance in force as long as few ends stand behind it. Accepting makes a new version of the take-off rows; the effect on the programme is shown first.",
          )}
          flush
        >
          {undecided.length > 0 ? (
            <ProposalTable
              about={{
                kind: "takeoff rules",
                reject: rejectUse,
              }}
              rows={undecided.map((p) => rowOf(p, rules, words))}
              basedOn={rulesVersion}
              mayDecide={mayDecide}
            />
          ) : (
            <p className="px-4 py-3">
              {t("None: the allowances in force are within a point of what was used, or were decided on.")}
            </p>
          )}
        </Panel>
        <Panel
          title={t("Row by row")}
          note={t(
            "Off: sum of |used − foretold| over what was used. As proposed: by allowances fitted to other hops. Rows with fewer than {{ends}} ends make no proposal.",
            { ends: LEAST_ENDS },
          )}
          flush
        >
          <BacktestTable rows={test} nameOf={nameOf} />
          <p className="px-4 py-3 text-quiet">
            {t(
              "Stock is ordered in sums, so an allowance is fitted to what was used in all, and proposed only where hops held out come nearer to that. Line by line a row can be further off all the same: where most ends use what the design counts and a few use more.",
            )}
          </p>
        </Panel>
        <History
          kind="takeoff rules"
          basedOn={rulesVersion}
          effectFirst
          mayEdit={mayDecide}
          rows={policyHistory(db, "takeoff rules").map((v) => ({
            version: v.version,
            by: v.changedBy,
            at: formatInstant(v.changedAt, homeZone(db), locale),
            reason: v.reason,
          }))}
        />
        {rejections.length > 0 ? (
          <Panel
            title={t("Rejected")}
            note={t("A rejected proposal comes back when more ends speak for it.")}
            flush
          >
            <RejectedUse rows={rejections} zone={homeZone(db)} nameOf={nameOf} />
          </Panel>
        ) : null}
        <p className="text-quiet">
          {fitted.isFromData
            ? t("True allowances lie {{points}} points around those in force, as the rows tell.", {
                points: formatNumber(fitted.betweenSd * 100, 1, locale),
              })
            : t(
                "True allowances lie {{points}} points around those in force, our choice: too few rows to tell.",
                {
                  points: formatNumber(fitted.betweenSd * 100, 1, locale),
                },
              )}{" "}
          {withParts(
            t(
              "Of {{count}} reported lines several rows ask for the item, so no row can be told; runs of cable are cut to measure and stand apart. The figures delivered are common practice or from memory; the {{rows}} say where each comes from.",
              { ...places("rows"), count: material.shared },
            ),
            { rows: <Link href="/rules?tab=takeoff">{t("rows")}</Link> },
          )}
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

function rowOf(
  p: UseProposal & { test: UseErrors },
  rules: ReadonlyMap<string, TakeoffRule>,
  words: Words,
): ProposalRow {
  const { t, locale } = words;
  const points = (factor: number) => formatShare(factor - 1, 1, locale);
  const rule = rules.get(p.ruleId);
  const from = rule?.allowanceFrom ? t(", from a figure that other rows share") : "";
  return {
    id: p.id,
    proposed: p.proposed,
    level: t(
      "Allowance on what the design counts ({{category}}); in all, on hops held out: {{before}} in force, {{after}} as proposed",
      {
        category: t(rule?.category ?? "row"),
        before: biasWords(p.test.biasInForce, words),
        after: biasWords(p.test.biasProposed, words),
      },
    ),
    subject: t(rule?.name ?? p.ruleId),
    actuals: t("{{count}} ends", { count: p.actuals }),
    inForceWords: `${points(p.inForce)}${from}`,
    proposedWords: points(p.proposed),
    plainWords: points(p.plainFactor),
    betweenWords: t("{{a}} and {{b}}", { a: points(p.low), b: points(p.high) }),
  };
}

async function BacktestTable({
  rows,
  nameOf,
}: {
  rows: readonly UseErrors[];
  nameOf: (id: string) => string;
}) {
  const words = await serverWords();
  const { t, locale } = words;
  return (
    <ScrollRegion label={t("Rows of the take-off, counted and used")} className="max-md:px-4">
      <table className="ui-facts ui-facts-stack">
        <thead>
          <tr>
            <th scope="col">{t("Row")}</th>
            {USE_HEADS.map((word) => (
              <th key={word} scope="col" data-align="end">
                {t(word)}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((r) => (
            <tr key={r.ruleId}>
              <th scope="row" data-label={t("Row")}>
                {nameOf(r.ruleId)}
              </th>
              <td data-label={t("Ends")} data-align="end">
                {r.ends}
              </td>
              <td data-label={t("Off in force")} data-align="end">
                {formatShare(r.inForce, 1, locale)}
              </td>
              <td data-label={t("Off as proposed")} data-align="end">
                {formatShare(r.proposed, 1, locale)}
              </td>
              <td data-label={t("In all, in force")} data-align="end">
                {biasWords(r.biasInForce, words)}
              </td>
              <td data-label={t("In all, as proposed")} data-align="end">
                {biasWords(r.biasProposed, words)}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}

const USE_HEADS = ["Ends", "Off in force", "Off as proposed", "In all, in force", "In all, as proposed"];

/** "3.1 % too little". */
function biasWords(bias: number, { t, locale }: Words): string {
  if (Math.abs(bias) < 0.0005) return t("as used");
  const share = formatShare(Math.abs(bias), 1, locale);
  return bias < 0 ? t("{{share}} too little", { share }) : t("{{share}} too much", { share });
}

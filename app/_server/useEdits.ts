/** Accepting and rejecting allowances that the reported use speaks for. */
import { remembered } from "@/db/dataState";
import type { Db } from "@/db/open";
import { rulesInForce } from "@/db/queries/programme";
import { loadUsedMaterial, type UsedMaterial } from "@/db/queries/useLearned";
import {
  backtestUse,
  type FittedUse,
  learnUse,
  proposedAllowances,
  provenAllowances,
  type UseErrors,
  type UseProposal,
} from "@/lib/calibration";
import { ok, type Problem, type Result, refused } from "@/lib/result";
import type { TakeoffRule } from "@/lib/takeoff";
import type { ActionDefinition } from "./carryOut";
import { keepRejections, rejectInput, type WantedProposal } from "./rejections";
import { MAY_CHANGE } from "./ruleChange";

export interface LearnedUse {
  material: UsedMaterial;
  fitted: FittedUse;
  /** All that follow from the uses, rejected ones too. */
  open: readonly (UseProposal & { test: UseErrors })[];
  test: readonly UseErrors[];
}

export function learnedUse(db: Db): LearnedUse {
  return remembered(db, "learned use", ["design", "reports", "rules"], () => {
    const material = loadUsedMaterial(db);
    const fitted = learnUse(material.lines, material.inForce);
    const test = backtestUse(material.lines, material.inForce);
    return { material, fitted, open: provenAllowances(proposedAllowances(fitted), test), test };
  });
}

function movedProposals(wanted: readonly WantedProposal[], now: ReadonlyMap<string, UseProposal>): Problem[] {
  return wanted
    .filter((w) => now.get(w.id)?.proposed !== w.proposed)
    .map(({ id, proposed }) => {
      const known = now.get(id);
      return {
        path: id,
        rule: "proposal-moved",
        value: proposed,
        message: known
          ? `The reported use now speaks for a factor of ${known.proposed}, not ${proposed}; a report came in meanwhile.`
          : "The reported use no longer speaks for this allowance; a report may have come in meanwhile.",
        remedy: "Reload the page and decide on what it shows.",
      };
    });
}

/** The rows in force with these allowances in them; refused when one is not what the person saw. */
export function acceptedAllowances(db: Db, wanted: readonly WantedProposal[]): Result<TakeoffRule[]> {
  const now = new Map(learnedUse(db).open.map((p) => [p.id, p]));
  const problems = movedProposals(wanted, now);
  if (problems.length > 0) return refused(...problems);
  const allowances = new Map(wanted.map((w) => [now.get(w.id)!.ruleId, now.get(w.id)!.proposed - 1]));
  return ok(
    rulesInForce(db).takeoffRules.map((rule) => {
      const allowance = allowances.get(rule.id);
      if (allowance === undefined) return rule;
      // What was learned is the row's own: a figure that other rows share stays as it is.
      const { allowanceFrom: _, ...own } = rule;
      return { ...own, allowance: Math.round(allowance * 1000) / 1000 };
    }),
  );
}

/** Turns proposals down: they come back when more ends speak for them. */
export const rejectUseAction: ActionDefinition<typeof rejectInput, { rejected: number }> = {
  name: "reject-use-proposals",
  roles: MAY_CHANGE["takeoff rules"],
  input: rejectInput,
  run: ({ proposals: wanted, reason }, { db, visitor, now }) => {
    const known = new Map(learnedUse(db).open.map((p) => [p.id, p]));
    const problems = movedProposals(wanted, known);
    if (problems.length > 0) return refused(...problems);
    return ok(
      keepRejections(db, { proposals: wanted, reason }, known, {
        name: visitor.name,
        at: now,
        action: "reject allowances",
        subject: "rules:takeoff rules",
      }),
    );
  },
};

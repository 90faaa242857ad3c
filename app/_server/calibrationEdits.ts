/** Accepting and rejecting what the actual hours propose, and what it would do to the plan in force. */
import { remembered } from "@/db/dataState";
import type { Db } from "@/db/open";
import { crewFactors, type LoadedActuals, loadActuals } from "@/db/queries/actuals";
import { loadKeptHops } from "@/db/queries/estimates";
import { loadPlanVisits, planInForce } from "@/db/queries/plans";
import { calibrationInForce, rulesInForce } from "@/db/queries/programme";
import { doneVisits } from "@/db/queries/reports";
import { completedEnds } from "@/db/queries/workedVisits";
import {
  accept,
  type Backtest,
  backtest,
  calibrate,
  type Fitted,
  type HeldOut,
  type HourCalibration,
  heldOut,
  type Proposal,
  proposals,
} from "@/lib/calibration";
import { practiceFactor } from "@/lib/hours";
import { type HoursEffect, hoursEffect, parseVisitId } from "@/lib/programme";
import { ok, type Problem, type Result, refused } from "@/lib/result";
import type { ActionDefinition } from "./carryOut";
import { homeToday } from "./clock";
import { keepRejections, rejectInput } from "./rejections";

/** What the actual hours say as they are now. */
export interface LearnedHours {
  actuals: LoadedActuals;
  fitted: Fitted;
  /** All that follow from the actuals, rejected ones too. */
  open: readonly Proposal[];
  test: Backtest;
  /** Each hop's visits as foretold by the others'. */
  held: readonly HeldOut[];
}

export function learnedHours(db: Db): LearnedHours {
  const today = homeToday(db);
  return remembered(db, `learned hours ${today}`, ["design", "crews", "reports", "rules"], () => {
    const actuals = loadActuals(db, today);
    const fitted = calibrate(actuals, { inForce: actuals.calibration });
    const held = heldOut(actuals);
    return {
      actuals,
      fitted,
      open: proposals(fitted, actuals.calibration),
      test: backtest(actuals, actuals.calibration, held),
      held,
    };
  });
}

const moved = (id: string, wanted: number, now: number | undefined): Problem => ({
  path: id,
  rule: "proposal-moved",
  value: wanted,
  message:
    now === undefined
      ? "The actual hours no longer speak for this factor; a report may have come in meanwhile."
      : `The actual hours now speak for ${now}, not for ${wanted}; a report came in meanwhile.`,
  remedy: "Reload the page and decide on what it shows.",
});

/** The calibration in force with these proposals in it; refused when one of them is not what the person saw. */
export function acceptedFactors(
  db: Db,
  wanted: readonly { id: string; proposed: number }[],
): Result<HourCalibration> {
  const now = new Map(learnedHours(db).open.map((p) => [p.id, p]));
  const problems = wanted
    .filter((w) => now.get(w.id)?.proposed !== w.proposed)
    .map((w) => moved(w.id, w.proposed, now.get(w.id)?.proposed));
  if (problems.length > 0) return refused(...problems);
  const { version: _, ...body } = accept(
    calibrationInForce(db),
    wanted.map((w) => now.get(w.id)!),
  );
  return ok({ ...body, version: 0 });
}

/** Hours of the visits still to do in the plan in force, as they are and as these factors would make them. */
export function effectOnHours(db: Db, after: HourCalibration): HoursEffect {
  const plan = planInForce(db);
  const done = doneVisits(db);
  const visits = (plan ? loadPlanVisits(db, plan.id) : []).flatMap((v) =>
    v.crewCode && v.startOn && !done.has(v.visitId) && !v.isWithdrawn
      ? [{ visitId: v.visitId, crewCode: v.crewCode, startOn: v.startOn }]
      : [],
  );
  const hops = [...new Set(visits.flatMap((v) => parseVisitId(v.visitId)?.hopCode ?? []))];
  const { paces, schemes } = crewFactors(db, homeToday(db));
  const { learning } = rulesInForce(db).norms;
  const ends = completedEnds(db);
  return hoursEffect(
    visits,
    schemes,
    new Map([...loadKeptHops(db, hops)].map(([code, w]) => [code, w.estimates])),
    (crewCode, scheme) =>
      (paces.get(crewCode) ?? 1) * practiceFactor(ends[crewCode]?.[scheme] ?? 0, learning),
    calibrationInForce(db),
    after,
  );
}

/** Turns proposals down: they come back when more actual hours speak for them. */
export const rejectProposalsAction: ActionDefinition<typeof rejectInput, { rejected: number }> = {
  name: "reject-hour-proposals",
  roles: ["administrator", "manager"],
  input: rejectInput,
  run: ({ proposals: wanted, reason }, { db, visitor, now }) => {
    const known = new Map(learnedHours(db).open.map((p) => [p.id, p]));
    const gone = wanted.filter((w) => known.get(w.id)?.proposed !== w.proposed);
    if (gone.length > 0)
      return refused(...gone.map((w) => moved(w.id, w.proposed, known.get(w.id)?.proposed)));
    return ok(
      keepRejections(db, { proposals: wanted, reason }, known, {
        name: visitor.name,
        at: now,
        action: "reject hour calibration",
        subject: "rules:hour calibration",
      }),
    );
  },
};

"use server";

import { z } from "zod";
import { defineAction } from "@/app/_server/action";
import { homeZone, today } from "@/app/_server/clock";
import { startJob } from "@/app/_server/jobs";
import {
  acceptMove,
  brokenRules,
  noSuchPlan,
  openPlan,
  publish,
  refusalOfBroken,
  staleEdit,
  takeBackMove,
} from "@/app/_server/planEdits";
import { reachOfVisit } from "@/app/_server/regions";
import type { Db } from "@/db/open";
import { deleteDraft, loadPlan, loadPlanVisits, setPinned } from "@/db/queries/plans";
import { addLogEntry } from "@/db/queries/reports";
import { effectOfMove, jointPartnerOf } from "@/lib/programme";
import { ok, refused } from "@/lib/result";
import type { CalendarDate } from "@/lib/time";

const PLANNERS = ["administrator", "manager"] as const;

const date = z.custom<CalendarDate>(
  (v) => typeof v === "string" && /^\d{4}-\d{2}-\d{2}$/.test(v) && !Number.isNaN(Date.parse(v)),
  "a date such as 2026-03-16",
);
const edit = z.object({ planId: z.number().int().positive(), revision: z.number().int().positive() });

const homeDay = (db: Db) => today(homeZone(db), db);

/** Opens the plan outside the transaction: putting its problem together can take seconds. */
async function opened({ planId, revision }: z.output<typeof edit>, db: Db) {
  const stale = staleEdit(loadPlan(db, planId), planId, revision);
  if (stale) return refused(stale);
  const open = openPlan(db, planId, homeDay(db));
  return open ? ok(open) : refused(noSuchPlan(planId));
}

/** Starts the search for a plan; gives the job's id. */
export const solve = defineAction({
  name: "solve-plan",
  roles: PLANNERS,
  changesData: false,
  input: z.object({
    weeks: z.number("a number of weeks").int().min(1, "at least 1 week").max(52, "at most 52 weeks"),
    seconds: z.number("a number of seconds").int().min(1, "at least 1 second").max(3600, "at most an hour"),
    seed: z.string().trim().min(1, "any word or number").max(60),
    frozenDays: z.number("a number of days").int().min(0).max(60, "at most 60 days"),
  }),
  run: (input, { db, visitor }) =>
    ok(startJob(db, "plan", { ...input, createdBy: visitor.name }, visitor.userId)),
});

export const acceptVisitMove = defineAction({
  name: "move-visit",
  roles: PLANNERS,
  input: edit.extend({
    visitId: z.string().min(1),
    crewCode: z.string().min(1),
    on: date,
    startMin: z.number().int().min(0).max(1439).optional(),
    /** Set by a planner who has read which hard rules break: the draft cannot be put in force with them. */
    acceptsBroken: z.boolean().default(false),
  }),
  prepare: async (input, { db }) => {
    const open = await opened(input, db);
    if (!open.ok) return open;
    const effect = effectOfMove(open.value.problem, open.value.plan, input);
    return effect.ok ? ok({ open: open.value, effect: effect.value }) : effect;
  },
  run: (input, { db, visitor, now }, { open, effect }) => {
    if (effect.broken.length > 0 && !input.acceptsBroken) return refused(...refusalOfBroken(effect.broken));
    return acceptMove(db, open, input, effect, { by: visitor.name, at: now });
  },
  revalidate: ["/plan"],
});

export const takeBack = defineAction({
  name: "take-back-move",
  roles: PLANNERS,
  input: edit,
  prepare: (input, { db }) => opened(input, db),
  run: (_input, { db, visitor, now }, open) => takeBackMove(db, open, { by: visitor.name, at: now }),
  revalidate: ["/plan"],
});

/** Pins or frees a visit, joint work with its other end. */
export const pinVisit = defineAction({
  name: "pin-visit",
  roles: PLANNERS,
  reach: ({ visitId }) => reachOfVisit(visitId),
  input: edit.extend({ visitId: z.string().min(1), isPinned: z.boolean() }),
  run: ({ planId, revision, visitId, isPinned }, { db, visitor, now }) => {
    const stale = staleEdit(loadPlan(db, planId), planId, revision);
    if (stale) return refused(stale);
    const rows = loadPlanVisits(db, planId);
    const visit = rows.find((r) => r.visitId === visitId);
    const partner = visit && jointPartnerOf(visit);
    const ids = rows.map((r) => r.visitId).filter((id) => id === visitId || id === partner);
    let at = revision;
    for (const id of ids) if (setPinned(db, planId, id, isPinned, at)) at++;
    if (at === revision) {
      return refused({
        path: "visitId",
        rule: "not-placed",
        value: visitId,
        message: `${visitId} has no place in plan ${planId}, so there is nothing to pin.`,
        remedy: "Move it onto a crew and day first.",
      });
    }
    addLogEntry(db, {
      at: now,
      userName: visitor.name,
      action: isPinned ? "pin visit" : "free visit",
      subject: `plan ${planId}`,
      detail: { visitId },
    });
    return ok({ revision: at });
  },
  revalidate: ["/plan"],
});

/** Puts a draft in force after the judge has passed it; needs and kits are netted anew, and how sure it is worked out. */
export const putPlanInForce = defineAction({
  name: "put-plan-in-force",
  roles: PLANNERS,
  input: edit.extend({ replaces: z.number().int().positive().nullable() }),
  prepare: async (input, { db }) => {
    const open = await opened(input, db);
    if (!open.ok) return open;
    const broken = brokenRules(open.value);
    return broken.length > 0 ? refused(...refusalOfBroken(broken)) : open;
  },
  run: ({ replaces }, { db, visitor, now }, open) => {
    const done = publish(db, open, replaces, { by: visitor.name, at: now });
    if (!done.ok) return done;
    const jobId = startJob(db, "net", {}, visitor.userId);
    startJob(db, "risk", {}, visitor.userId);
    return ok({ ...done.value, jobId });
  },
  revalidate: ["/plan", "/programme", "/stock", "/kits"],
});

export const discardDraft = defineAction({
  name: "discard-draft",
  roles: PLANNERS,
  input: edit,
  run: ({ planId, revision }, { db, visitor, now }) => {
    const head = loadPlan(db, planId);
    const stale = staleEdit(head, planId, revision);
    if (stale) return refused(stale);
    if (!deleteDraft(db, planId, revision)) {
      return refused({
        path: "planId",
        rule: "not-a-draft",
        value: planId,
        message: `Plan ${planId} is ${head?.state ?? "gone"}; only drafts are discarded.`,
        remedy: "Put another plan in force instead.",
      });
    }
    addLogEntry(db, { at: now, userName: visitor.name, action: "discard draft", subject: `plan ${planId}` });
    return ok({ planId });
  },
  revalidate: ["/plan"],
});

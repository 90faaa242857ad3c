"use server";

import { z } from "zod";
import { defineAction } from "@/app/_server/action";
import { homeZone, today } from "@/app/_server/clock";
import { startJob } from "@/app/_server/jobs";
import { serverWords } from "@/app/_server/language";
import {
  brokenRules,
  effectOfGroup,
  type Hand,
  noSuchPlan,
  openPlan,
  publish,
  refusalOfBroken,
  staleEdit,
  timesNow,
} from "@/app/_server/planEdits";
import {
  acceptMoves,
  acceptTimes,
  carryReturn,
  type Direction,
  openReturn,
  pinVisits,
} from "@/app/_server/planMoves";
import { reachOfVisit, shiftRefusal } from "@/app/_server/regions";
import { riskAgain } from "@/app/_server/riskAgain";
import type { Visitor } from "@/app/_server/session";
import type { Db } from "@/db/open";
import { addLogEntry } from "@/db/queries/log";
import { deleteDraft, loadPlan, loadPlanVisits } from "@/db/queries/plans";
import { phrase } from "@/lib/phrase";
import { effectOfMove, jointPartnerOf, type NamedEffect } from "@/lib/programme";
import { ok, type Result, refused, sentences } from "@/lib/result";
import type { CalendarDate } from "@/lib/time";
import { brokenWords } from "./why";

const PLANNERS = ["administrator", "manager"] as const;

const date = z.custom<CalendarDate>(
  (v) => typeof v === "string" && /^\d{4}-\d{2}-\d{2}$/.test(v) && !Number.isNaN(Date.parse(v)),
  "a date such as 2026-03-16",
);
const edit = z.object({ planId: z.number().int().positive(), revision: z.number().int().positive() });

const group = z.array(z.string().min(1)).min(1, "at least one visit").max(200, "at most 200 visits at once");

const handOf = (visitor: Visitor, now: number): Hand => ({
  userId: visitor.userId,
  by: visitor.name,
  at: now,
});

const homeDay = (db: Db) => today(homeZone(db), db);

/** Opens the plan outside the transaction: putting its problem together can take seconds. */
async function opened({ planId, revision }: z.output<typeof edit>, db: Db) {
  const stale = staleEdit(db, planId, revision);
  if (stale) return refused(stale);
  const open = openPlan(db, planId, homeDay(db));
  return open ? ok(open) : refused(noSuchPlan(planId));
}

/** The plan, when it breaks no hard rule. */
async function judged(input: z.output<typeof edit>, db: Db) {
  const open = await opened(input, db);
  if (!open.ok) return open;
  const { broken } = brokenRules(open.value);
  return broken.length > 0 ? refused(...refusalOfBroken(brokenWords(broken, await serverWords()))) : open;
}

/** An effect that moves only what the visitor's regions hold. */
function inReach(db: Db, visitor: Visitor, effect: Result<NamedEffect>): Result<NamedEffect> {
  const outside = effect.ok && shiftRefusal(db, visitor, effect.value.shifts);
  return outside ? refused(outside) : effect;
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
  reach: ({ visitId }) => reachOfVisit(visitId),
  input: edit.extend({
    visitId: z.string().min(1),
    crewCode: z.string().min(1),
    on: date,
    startMin: z.number().int().min(0).max(1439).optional(),
    /** Set by a planner who has read which hard rules break: the draft cannot be put in force with them. */
    acceptsBroken: z.boolean().default(false),
  }),
  prepare: async (input, { db, visitor }) => {
    const open = await opened(input, db);
    if (!open.ok) return open;
    const effect = inReach(db, visitor, effectOfMove(open.value.problem, open.value.plan, input));
    return effect.ok ? ok({ open: open.value, effect: effect.value, words: await serverWords() }) : effect;
  },
  run: (input, { db, visitor, now }, { open, effect, words }) => {
    if (effect.broken.length > 0 && !input.acceptsBroken)
      return refused(...refusalOfBroken(brokenWords(effect.broken, words)));
    return acceptMoves(db, open, [input.visitId], effect, handOf(visitor, now));
  },
  revalidate: ["/plan"],
});

/** Moves several visits as one: by days, to a crew, or both. */
export const acceptGroupMove = defineAction({
  name: "move-visits",
  roles: PLANNERS,
  reach: ({ visitIds }) => visitIds.flatMap(reachOfVisit),
  input: edit.extend({
    visitIds: group,
    byDays: z
      .number("a number of days")
      .int("whole days")
      .min(-366, "at most 366 days")
      .max(366, "at most 366 days"),
    crewCode: z.string().min(1).optional(),
    acceptsBroken: z.boolean().default(false),
  }),
  prepare: async (input, { db, visitor }) => {
    const open = await opened(input, db);
    if (!open.ok) return open;
    const effect = inReach(db, visitor, effectOfGroup(open.value, input));
    return effect.ok ? ok({ open: open.value, effect: effect.value, words: await serverWords() }) : effect;
  },
  run: (input, { db, visitor, now }, { open, effect, words }) => {
    if (effect.broken.length > 0 && !input.acceptsBroken)
      return refused(...refusalOfBroken(brokenWords(effect.broken, words)));
    return acceptMoves(db, open, input.visitIds, effect, handOf(visitor, now));
  },
  revalidate: ["/plan"],
});

/** Gives every visit the times that follow from the data as they are now; none leaves its crew and day. */
export const takeTimesNow = defineAction({
  name: "take-times-now",
  roles: PLANNERS,
  input: edit,
  prepare: async (input, { db }) => {
    const open = await opened(input, db);
    if (!open.ok) return open;
    const effect = timesNow(open.value);
    return effect.ok ? ok({ open: open.value, effect: effect.value }) : effect;
  },
  run: (_input, { db, visitor, now }, { open, effect }) =>
    acceptTimes(db, open, effect, handOf(visitor, now)),
  revalidate: ["/plan"],
});

/** Undo and redo name the edit that the planner read on the button, not the plan's revision: what others did is kept. */
function returning(direction: Direction) {
  return defineAction({
    name: `${direction}-plan-edit`,
    roles: PLANNERS,
    // Only one's own edits are undone; what they move is held against the regions below.
    reach: "any",
    input: z.object({
      planId: z.number().int().positive(),
      editNo: z.number().int().positive(),
      acceptsBroken: z.boolean().default(false),
    }),
    prepare: async (input, { db, visitor }) => {
      const back = openReturn(db, input, direction, visitor.userId, homeDay(db));
      if (!back.ok) return back;
      const { edit, effect } = back.value;
      const moved = effect?.shifts ?? edit.changes.map((c) => c.after);
      const outside = shiftRefusal(db, visitor, moved);
      return outside ? refused(outside) : ok({ back: back.value, words: await serverWords() });
    },
    run: ({ acceptsBroken }, { db, visitor, now }, { back, words }) => {
      const broken = brokenWords(back.effect?.broken ?? [], words).map((b) => b.message);
      // Nothing is done yet: the planner reads what it would break and is asked.
      if (broken.length > 0 && !acceptsBroken) return ok({ isDone: false, broken });
      const done = carryReturn(db, back, direction, handOf(visitor, now));
      return done.ok ? ok({ isDone: true, broken }) : done;
    },
    revalidate: ["/plan"],
  });
}

export const undoEdit = returning("undo");
export const redoEdit = returning("redo");

/** Pins or frees visits, joint work with its other end. */
export const pin = defineAction({
  name: "pin-visits",
  roles: PLANNERS,
  reach: ({ visitIds }) => visitIds.flatMap(reachOfVisit),
  input: edit.extend({ visitIds: group, isPinned: z.boolean() }),
  run: ({ planId, revision, visitIds, isPinned }, { db, visitor, now }) => {
    const wanted = new Set(visitIds);
    for (const row of loadPlanVisits(db, planId)) {
      const partner = wanted.has(row.visitId) && jointPartnerOf(row);
      if (partner) wanted.add(partner);
    }
    return pinVisits(db, { planId, revision }, [...wanted], isPinned, handOf(visitor, now));
  },
  revalidate: ["/plan"],
});

/** Whether a draft could be put in force; the rules that it breaks come back as problems. Asked before the question. */
export const judgeDraft = defineAction({
  name: "judge-draft",
  roles: PLANNERS,
  changesData: false,
  input: edit,
  prepare: async (input, { db }) => judged(input, db),
  run: () => ok(null),
});

/** Puts a draft in force after the judge has passed it; needs and kits are netted anew, and how sure it is worked out. */
export const putPlanInForce = defineAction({
  name: "put-plan-in-force",
  roles: PLANNERS,
  input: edit.extend({ replaces: z.number().int().positive().nullable() }),
  prepare: async (input, { db }) => judged(input, db),
  run: ({ replaces }, { db, visitor, now }, open) => {
    const done = publish(db, open, replaces, handOf(visitor, now));
    if (!done.ok) return done;
    const jobId = startJob(db, "net", {}, visitor.userId);
    startJob(db, "risk", {}, visitor.userId);
    return ok({ ...done.value, jobId });
  },
  revalidate: ["/plan", "/programme", "/stock", "/kits"],
});

/** Has a draft run through hours and weather, so that it can be compared with the plan in force. Gives the job's id. */
export const assessDraft = defineAction({
  name: "assess-draft",
  roles: PLANNERS,
  reach: "any",
  changesData: false,
  input: z.object({ planId: z.number().int().positive() }),
  run: ({ planId }, { db, visitor }) =>
    loadPlan(db, planId) ? ok(riskAgain(db, visitor, planId)) : refused(noSuchPlan(planId)),
});

export const discardDraft = defineAction({
  name: "discard-draft",
  roles: PLANNERS,
  input: edit,
  run: ({ planId, revision }, { db, visitor, now }) => {
    const head = loadPlan(db, planId);
    const stale = staleEdit(db, planId, revision);
    if (stale) return refused(stale);
    if (!deleteDraft(db, planId, revision)) {
      return refused({
        path: "planId",
        rule: "not-a-draft",
        value: planId,
        ...sentences(
          phrase("Plan {{plan}} is {{state}}; only drafts are discarded.", {
            plan: String(planId),
            state: phrase(head?.state ?? "gone"),
          }),
          phrase("Put another plan in force instead."),
        ),
      });
    }
    addLogEntry(db, { at: now, userName: visitor.name, action: "discard draft", subject: `plan ${planId}` });
    return ok({ planId });
  },
  revalidate: ["/plan"],
});

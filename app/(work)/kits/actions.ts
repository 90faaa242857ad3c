"use server";

import { z } from "zod";
import { defineAction } from "@/app/_server/action";
import { homeToday } from "@/app/_server/clock";
import { andNet } from "@/app/_server/netAgain";
import { reachOfVisit } from "@/app/_server/regions";
import { issueKit, issueMissing, takeBackIssue } from "@/db/queries/kitIssue";
import { pickLine } from "@/db/queries/kitPicking";
import { returnFromKit } from "@/db/queries/kitReturn";
import { pickSerials } from "@/db/queries/kitSerials";
import { findRunAgain, loseRun } from "@/db/queries/lostRuns";
import { planInForce } from "@/db/queries/plans";
import { pickBySerial } from "@/db/queries/serialPick";
import { phrase } from "@/lib/phrase";
import { type Problem, refused, sentences } from "@/lib/result";

const STORE = ["logistics", "manager", "administrator"] as const;

const NO_PLAN: Problem = {
  path: "plan",
  rule: "no-plan",
  ...sentences(
    phrase("There is no plan in force, so there are no kits."),
    phrase("Put a plan in force first."),
  ),
};

const visitId = z.string().min(3).max(160);
const quantity = z.number("a number").min(0, "not below nought").max(1_000_000);

const counted = z.number("how many things lie in the box").int("a whole number").min(0);
const countedBy = z.string().trim().min(2, "give the name of who counted, two letters at least").max(120);

/** Writes how much of a line is in the box. Sent again it writes the same. */
export const pick = defineAction({
  name: "pick-line",
  roles: STORE,
  reach: ({ visitId }) => reachOfVisit(visitId),
  input: z.object({ visitId, lineNo: z.number().int().positive(), quantity }),
  run: ({ visitId, lineNo, quantity }, { db, visitor, now }) => {
    const plan = planInForce(db);
    if (!plan) return refused(NO_PLAN);
    const pickedC = Math.round(quantity * 100);
    return pickLine(db, plan.id, visitId, lineNo, pickedC, { name: visitor.name, at: now });
  },
  revalidate: ["/kits", "/stock"],
});

const serials = z.array(z.string().trim().min(1).max(60)).max(100);

/** Writes which pieces of a line lie in the box. Sent again it writes the same. */
export const readSerials = defineAction({
  name: "read-serials",
  roles: STORE,
  reach: ({ visitId }) => reachOfVisit(visitId),
  input: z.object({ visitId, lineNo: z.number().int().positive(), serials }),
  run: (input, { db, visitor, now }) => {
    const plan = planInForce(db);
    if (!plan) return refused(NO_PLAN);
    return pickSerials(db, plan.id, input, { name: visitor.name, at: now });
  },
  revalidate: ["/kits"],
});

/** Ticks the line of a piece by its serial. Sent again it writes the same. */
export const pickPiece = defineAction({
  name: "pick-piece",
  roles: STORE,
  reach: ({ visitId }) => reachOfVisit(visitId),
  input: z.object({ visitId, serial: z.string().trim().min(1).max(60) }),
  run: (input, { db, visitor, now }) => {
    const plan = planInForce(db);
    if (!plan) return refused(NO_PLAN);
    return pickBySerial(db, plan.id, input, { name: visitor.name, at: now });
  },
  revalidate: ["/kits", "/stock"],
});

export const issue = defineAction({
  name: "issue-kit",
  roles: STORE,
  reach: ({ visitId }) => reachOfVisit(visitId),
  input: z.object({
    visitId,
    vehiclePlace: z.string().min(1, "choose the vehicle").max(60),
    isOtherVehicle: z.boolean().optional(),
    counted,
    countedBy,
    shortReason: z.string().trim().max(300).optional(),
  }),
  run: (input, { db, visitor, now }) => {
    const plan = planInForce(db);
    if (!plan) return refused(NO_PLAN);
    return andNet(
      issueKit(db, plan, { ...input, today: homeToday(db) }, { name: visitor.name, at: now }),
      db,
      visitor,
    );
  },
  revalidate: ["/kits"],
});

/** Sends after an issued kit what it lacks. */
export const issueRest = defineAction({
  name: "issue-missing",
  roles: STORE,
  reach: ({ visitId }) => reachOfVisit(visitId),
  input: z.object({
    visitId,
    vehiclePlace: z.string().min(1, "choose the vehicle").max(60),
    counted,
    countedBy,
    lines: z
      .array(z.object({ lineNo: z.number().int().positive(), quantity, serials: serials.optional() }))
      .max(500),
  }),
  run: ({ lines, ...input }, { db, visitor, now }) => {
    const plan = planInForce(db);
    if (!plan) return refused(NO_PLAN);
    const note = {
      ...input,
      today: homeToday(db),
      lines: lines.map(({ quantity: q, ...l }) => ({ ...l, quantityC: Math.round(q * 100) })),
    };
    return andNet(issueMissing(db, plan, note, { name: visitor.name, at: now }), db, visitor);
  },
  revalidate: ["/kits"],
});

const runOfKit = { visitId, lineNo: z.number().int().positive() };

/** Notes that the cut run of an issued kit is lost or spoilt: another is wanted. */
export const lostRun = defineAction({
  name: "run-lost",
  roles: STORE,
  reach: ({ visitId }) => reachOfVisit(visitId),
  input: z.object({ ...runOfKit, reason: z.string().trim().min(3, "a few words").max(300) }),
  run: (input, { db, visitor, now }) => {
    const plan = planInForce(db);
    if (!plan) return refused(NO_PLAN);
    const note = { ...input, today: homeToday(db) };
    return andNet(loseRun(db, plan, note, { name: visitor.name, at: now }), db, visitor);
  },
  revalidate: ["/kits", "/stock"],
});

/** The lost run of an issued kit turned up. */
export const foundRun = defineAction({
  name: "run-found",
  roles: STORE,
  reach: ({ visitId }) => reachOfVisit(visitId),
  input: z.object(runOfKit),
  run: (input, { db, visitor, now }) => {
    const plan = planInForce(db);
    if (!plan) return refused(NO_PLAN);
    return andNet(findRunAgain(db, plan, input, { name: visitor.name, at: now }), db, visitor);
  },
  revalidate: ["/kits", "/stock"],
});

export const giveBack = defineAction({
  name: "return-from-kit",
  roles: STORE,
  reach: ({ visitId }) => reachOfVisit(visitId),
  input: z.object({
    visitId,
    toPlace: z.string().min(1, "choose the warehouse").max(60),
    key: z.string().min(8),
    lines: z.array(
      z.object({
        itemCode: z.string().min(1),
        lotCode: z.string(),
        owner: z.enum(["contractor", "customer"]),
        quantity,
        serials: serials.optional(),
      }),
    ),
  }),
  run: (input, { db, visitor, now }) =>
    andNet(
      returnFromKit(
        db,
        {
          visitId: input.visitId,
          toPlace: input.toPlace,
          key: input.key,
          today: homeToday(db),
          lines: input.lines.map(({ quantity: q, ...l }) => ({ ...l, quantityC: Math.round(q * 100) })),
        },
        { name: visitor.name, at: now },
      ),
      db,
      visitor,
    ),
  revalidate: ["/kits"],
});

export const undoIssue = defineAction({
  name: "take-issue-back",
  roles: STORE,
  reach: ({ visitId }) => reachOfVisit(visitId),
  input: z.object({ visitId, reason: z.string().trim().min(3, "a few words").max(300) }),
  run: (input, { db, visitor, now }) => {
    const plan = planInForce(db);
    if (!plan) return refused(NO_PLAN);
    return andNet(
      takeBackIssue(db, plan, input.visitId, input.reason, homeToday(db), { name: visitor.name, at: now }),
      db,
      visitor,
    );
  },
  revalidate: ["/kits"],
});

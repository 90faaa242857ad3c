"use server";

import { z } from "zod";
import { defineAction } from "@/app/_server/action";
import { homeToday } from "@/app/_server/clock";
import { andNet, netAgain } from "@/app/_server/netAgain";
import { reconcile } from "@/app/_server/reconcile";
import { cutsMoved, visitOfRun } from "@/db/queries/drumViews";
import { confirmCut, recordMovement, takeBack } from "@/db/queries/movements";
import { approveOrder, changeOrder, closeOrder, postponeLine, sendOrder } from "@/db/queries/orderSteps";
import { loadCutting, planInForce } from "@/db/queries/plans";
import { rulesInForce } from "@/db/queries/programme";
import { proposeOrders } from "@/db/queries/proposeOrders";
import { receiveOrder } from "@/db/queries/receiving";
import { isDrum, readLabel } from "@/lib/labels";
import { phrase } from "@/lib/phrase";
import { ok, type Problem, refused, sentences } from "@/lib/result";
import { type ApprovingRole, SCRAP_REASONS } from "@/lib/stock";
import { code, date, hundredths, LOGISTICS, money, NO_PLAN, quantity, reason, STORE } from "./fields";

/** Of radios that come in: those that were read. */
const serials = z.array(code).max(500).optional();

/** Nets the plan in force anew; gives the job's id. */
export const net = defineAction({
  name: "net",
  roles: STORE,
  changesData: false,
  input: z.object({}),
  run: (_input, { db, visitor }) => {
    const id = netAgain(db, visitor);
    return id ? ok(id) : refused(NO_PLAN);
  },
});

/** Holds every balance against the ledger; gives the job's id. */
export const checkBalances = defineAction({
  name: "reconcile",
  roles: STORE,
  changesData: false,
  input: z.object({}),
  run: (_input, { db, visitor }) => ok(reconcile(db, visitor.userId)),
});

export const propose = defineAction({
  name: "propose-orders",
  roles: STORE,
  input: z.object({
    /** Left out: everything that is due. */
    chosen: z
      .array(z.object({ itemCode: code, placeCode: code, withLater: z.boolean() }))
      .min(1, "choose a line at least")
      .max(5_000)
      .optional(),
  }),
  run: ({ chosen }, { db, visitor, now }) => {
    const plan = planInForce(db);
    return plan
      ? ok(proposeOrders(db, plan, homeToday(db), { name: visitor.name, at: now }, chosen))
      : refused(NO_PLAN);
  },
  revalidate: ["/stock"],
});

export const approve = defineAction({
  name: "approve-order",
  // Up to which amount is the organisation's to say: approveOrder.
  roles: STORE,
  input: z.object({ code }),
  run: (input, { db, visitor, now }) =>
    approveOrder(db, input.code, { name: visitor.name, at: now, role: visitor.role as ApprovingRole }),
});

export const send = defineAction({
  name: "send-order",
  roles: STORE,
  input: z.object({ code }),
  run: (input, { db, visitor, now }) =>
    andNet(sendOrder(db, input.code, homeToday(db), { name: visitor.name, at: now }), db, visitor),
});

export const close = defineAction({
  name: "close-order",
  roles: STORE,
  input: z.object({ code, reason }),
  run: (input, { db, visitor, now }) =>
    andNet(closeOrder(db, input.code, input.reason, { name: visitor.name, at: now }), db, visitor),
});

export const change = defineAction({
  name: "change-order",
  roles: STORE,
  input: z.object({
    code,
    supplier: z.string().trim().min(2, "name the supplier").max(120),
    lines: z.array(
      z.object({
        lineNo: z.number().int(),
        quantity: quantity.refine((n) => n > 0, "above nought"),
        dueOn: date,
        priceMinor: money.optional(),
      }),
    ),
  }),
  run: (input, { db, visitor, now }) =>
    changeOrder(
      db,
      input.code,
      {
        supplier: input.supplier,
        lines: input.lines.map(({ quantity: q, ...l }) => ({ ...l, quantityC: hundredths(q) })),
      },
      { name: visitor.name, at: now },
    ),
});

/** A supplier gives another day for what is still to come of a line. */
export const postpone = defineAction({
  name: "postpone-line",
  roles: STORE,
  input: z.object({ code, lineNo: z.number().int(), dueOn: date, reason }),
  run: ({ code: orderCode, ...change }, { db, visitor, now }) =>
    andNet(postponeLine(db, orderCode, change, { name: visitor.name, at: now }), db, visitor),
});

export const receive = defineAction({
  name: "receive-order",
  roles: LOGISTICS,
  reach: "any",
  input: z.object({
    code,
    on: date,
    key: z.string().min(8),
    /** Warehouse to which it came; absent = the order's. */
    placeCode: code.optional(),
    overReason: z.string().trim().max(300).optional(),
    lines: z.array(
      z.object({
        lineNo: z.number().int(),
        quantity,
        lotCode: code.optional(),
        expiresOn: date.optional(),
        sureOfExpired: date.optional(),
        drums: z
          .array(
            z.object({
              serial: code,
              length: quantity.refine((n) => n > 0, "above nought"),
              holdReason: reason.optional(),
            }),
          )
          .optional(),
        serials,
        /** Part of it that goes on hold at once. */
        hold: z.object({ quantity: quantity.refine((n) => n > 0, "above nought"), reason }).optional(),
      }),
    ),
  }),
  run: (input, { db, visitor, now }) =>
    andNet(
      receiveOrder(
        db,
        input.code,
        {
          on: input.on,
          today: homeToday(db),
          key: input.key,
          placeCode: input.placeCode,
          overReason: input.overReason || undefined,
          lines: input.lines.map((l) => ({
            lineNo: l.lineNo,
            quantityC: hundredths(l.quantity),
            lotCode: l.lotCode,
            expiresOn: l.expiresOn,
            sureOfExpired: l.sureOfExpired,
            drums: l.drums?.map((d) => ({
              serial: d.serial,
              lengthC: hundredths(d.length),
              holdReason: d.holdReason,
            })),
            serials: l.serials,
            hold: l.hold && { quantityC: hundredths(l.hold.quantity), reason: l.hold.reason },
          })),
        },
        { name: visitor.name, at: now },
      ),
      db,
      visitor,
    ),
});

/** Before a metre is booked. */
const wrongDrum = (wanted: string, scanned: string): Problem => ({
  path: "scanned",
  rule: "wrong-drum",
  value: scanned,
  ...sentences(
    phrase("The scanned label is of {{code}}; the run is cut from drum {{wanted}}. Nothing was booked.", {
      code: readLabel(scanned).code,
      wanted,
    }),
    phrase("Fetch drum {{wanted}}, or net again if it cannot be used.", { wanted }),
  ),
});

export const cutRun = defineAction({
  name: "cut-run",
  roles: LOGISTICS,
  input: z.object({
    drumSerial: code,
    runId: code,
    length: quantity.refine((n) => n > 0, "above nought"),
    /** What was read off the drum, where somebody scanned it. */
    scanned: z.string().trim().min(1).max(200).optional(),
  }),
  run: (input, { db, visitor, now }) => {
    if (input.scanned !== undefined && !isDrum(input.scanned, input.drumSerial))
      return refused(wrongDrum(input.drumSerial, input.scanned));
    const plan = planInForce(db);
    if (!plan) return refused(NO_PLAN);
    const wanted = loadCutting(db, plan.id)
      .flatMap((c) => c.drums)
      .find((d) => d.drum.serial === input.drumSerial)
      ?.cuts.find((c) => c.runId === input.runId);
    const visit = visitOfRun(db, plan.id, input.runId);
    if (!wanted || !visit)
      return refused({
        path: "run",
        rule: "run-not-listed",
        value: input.runId,
        ...sentences(
          phrase("The cutting list in force does not cut this run from drum {{drumSerial}}.", {
            drumSerial: input.drumSerial,
          }),
          phrase("Reload the page: needs may have been netted again since."),
        ),
      });
    const { sawAllowanceCm } = rulesInForce(db).cutPolicy;
    const on = homeToday(db);
    const result = confirmCut(
      db,
      {
        drumSerial: input.drumSerial,
        runId: input.runId,
        visitId: visit,
        label: `Run ${input.runId}`,
        lengthC: hundredths(input.length),
        plannedC: wanted.lengthCm,
        sawAllowanceC: sawAllowanceCm,
        on,
        planId: plan.id,
      },
      { name: visitor.name, at: now },
    );
    if (!result.ok) return result;
    const moved = cutsMoved(db, plan.id, input.drumSerial, sawAllowanceCm, on);
    return andNet(ok({ ...result.value, moved }), db, visitor);
  },
  revalidate: ["/stock", "/kits"],
});

export const takeRowBack = defineAction({
  name: "take-row-back",
  roles: LOGISTICS,
  reach: "any",
  input: z.object({ id: z.number().int().positive(), reason }),
  run: (input, { db, visitor, now }) =>
    andNet(takeBack(db, input.id, input.reason, homeToday(db), { name: visitor.name, at: now }), db, visitor),
  revalidate: ["/stock"],
});

export const record = defineAction({
  name: "record-movement",
  roles: LOGISTICS,
  reach: "any",
  input: z
    .object({
      kind: z.enum(["receipt", "transfer", "count adjustment", "scrap", "return"]),
      itemCode: code,
      fromPlace: code.optional(),
      toPlace: code.optional(),
      quantity,
      lotCode: code.optional(),
      expiresOn: date.optional(),
      sureOfExpired: date.optional(),
      drumSerial: code.optional(),
      serials,
      visitId: code.optional(),
      on: date,
      reason,
      scrapReason: z.enum(SCRAP_REASONS).optional(),
      key: z.string().min(8),
    })
    .superRefine(({ kind, scrapReason }, ctx) => {
      if ((kind === "scrap") === (scrapReason !== undefined)) return;
      ctx.addIssue({
        code: "custom",
        path: ["scrapReason"],
        message: kind === "scrap" ? "Choose why it is scrapped." : "Only scrap has a reason of the list.",
        input: scrapReason,
      });
    }),
  run: (input, { db, visitor, now }) =>
    andNet(
      recordMovement(db, { ...input, today: homeToday(db) }, { name: visitor.name, at: now }),
      db,
      visitor,
    ),
  revalidate: ["/stock"],
});

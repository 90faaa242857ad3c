"use server";

import { z } from "zod";
import { defineAction } from "@/app/_server/action";
import { homeToday } from "@/app/_server/clock";
import { andNet } from "@/app/_server/netAgain";
import { recordFault } from "@/db/queries/faultRecord";
import { promiseBack, stepFault } from "@/db/queries/faultSteps";
import { FAULT_CAUSES } from "@/lib/stock";
import { code, date, LOGISTICS, quantity, reason } from "../fields";

const id = z.number().int().positive();
const serial = z.string().trim().min(1, "copy it from the unit").max(60);

export const find = defineAction({
  name: "record-fault",
  roles: LOGISTICS,
  reach: "any",
  input: z.object({
    key: z.string().min(8).max(120),
    itemCode: code,
    serial: serial.optional(),
    drumSerial: code.optional(),
    quantity,
    cause: z.enum(FAULT_CAUSES),
    symptom: reason,
    fromPlace: code.optional(),
    warehouseCode: code,
    supplier: z.string().trim().max(120).optional(),
    visitId: code.optional(),
    foundOn: date,
  }),
  run: (input, { db, visitor, now }) =>
    andNet(recordFault(db, { ...input, today: homeToday(db) }, { name: visitor.name, at: now }), db, visitor),
  revalidate: ["/stock"],
});

/** The next step of a faulty piece: to repair, back, exchanged, released, scrapped. */
export const takeStep = defineAction({
  name: "step-fault",
  roles: LOGISTICS,
  reach: "any",
  input: z.object({
    id,
    on: date,
    reason,
    quantity: quantity.optional(),
    step: z.discriminatedUnion("kind", [
      z.object({
        kind: z.literal("to repair"),
        repairer: z.string().trim().min(2, "name who repairs it").max(120),
        reference: z.string().trim().max(60).optional(),
        expectedBackOn: date.optional(),
      }),
      z.object({ kind: z.literal("from repair"), placeCode: code }),
      z.object({ kind: z.literal("exchange"), placeCode: code, newSerial: serial.optional() }),
      z.object({ kind: z.literal("release"), placeCode: code }),
      z.object({ kind: z.literal("return"), isAwaited: z.boolean() }),
      z.object({ kind: z.literal("scrap") }),
    ]),
  }),
  run: (input, { db, visitor, now }) =>
    andNet(stepFault(db, { ...input, today: homeToday(db) }, { name: visitor.name, at: now }), db, visitor),
  revalidate: ["/stock"],
});

export const promise = defineAction({
  name: "promise-repair",
  roles: LOGISTICS,
  reach: "any",
  input: z.object({ id, expectedBackOn: date.nullable(), reason }),
  run: (input, { db, visitor, now }) =>
    andNet(promiseBack(db, input, { name: visitor.name, at: now }), db, visitor),
  revalidate: ["/stock"],
});

"use server";

import { z } from "zod";
import { defineAction } from "@/app/_server/action";
import { homeToday } from "@/app/_server/clock";
import { andNet } from "@/app/_server/netAgain";
import { planInForce } from "@/db/queries/plans";
import { cancelTransfer, moveTransfer, planTransfers } from "@/db/queries/transfers";
import { refused } from "@/lib/result";
import { code, date, hundredths, LOGISTICS, NO_PLAN, quantity, reason } from "./fields";

const id = z.number().int().positive();

/** Decides on proposed transfers: the netting counts on them from now on. */
export const plan = defineAction({
  name: "plan-transfers",
  roles: LOGISTICS,
  input: z.object({
    /** As the page showed them. */
    shown: z
      .array(z.object({ itemCode: code, fromPlace: code, toPlace: code, quantity, sendOn: date }))
      .min(1, "choose at least one")
      .max(5_000),
  }),
  run: ({ shown }, { db, visitor, now }) => {
    const inForce = planInForce(db);
    const lines = shown.map(({ quantity: q, ...of }) => ({ ...of, quantityC: hundredths(q) }));
    return inForce
      ? andNet(planTransfers(db, inForce.id, lines, { name: visitor.name, at: now }), db, visitor)
      : refused(NO_PLAN);
  },
  revalidate: ["/stock"],
});

export const move = defineAction({
  name: "move-transfer",
  roles: LOGISTICS,
  input: z.object({ id, quantity: quantity.refine((n) => n > 0, "above nought"), on: date }),
  run: (input, { db, visitor, now }) => {
    const note = {
      id: input.id,
      quantityC: hundredths(input.quantity),
      on: input.on,
      today: homeToday(db),
    };
    return andNet(moveTransfer(db, note, { name: visitor.name, at: now }), db, visitor);
  },
  revalidate: ["/stock", "/kits"],
});

export const cancel = defineAction({
  name: "cancel-transfer",
  roles: LOGISTICS,
  input: z.object({ id, reason }),
  run: (input, { db, visitor, now }) =>
    andNet(cancelTransfer(db, input.id, input.reason, { name: visitor.name, at: now }), db, visitor),
  revalidate: ["/stock"],
});

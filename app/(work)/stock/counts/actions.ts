"use server";

import { z } from "zod";
import { type ActionContext, defineAction } from "@/app/_server/action";
import { homeToday } from "@/app/_server/clock";
import { andNet } from "@/app/_server/netAgain";
import { approveCount, askRecount, cancelCount } from "@/db/queries/countApproval";
import { addFound, type CountBy, countThing, handInCount, startCount } from "@/db/queries/countWork";
import { code, date, hundredths, LOGISTICS, MANAGERS, quantity, reason, STORE } from "../fields";

const id = z.number().int().positive();
const by = ({ visitor, now }: ActionContext): CountBy => ({
  userId: visitor.userId,
  name: visitor.name,
  at: now,
});

// Stock is not divided by regions, and neither are its counts.
export const start = defineAction({
  name: "start-count",
  roles: LOGISTICS,
  reach: "any",
  input: z.object({ placeCode: code }),
  run: ({ placeCode }, context) => startCount(context.db, placeCode, by(context)),
  revalidate: ["/stock/counts"],
});

export const count = defineAction({
  name: "count-line",
  roles: LOGISTICS,
  reach: "any",
  input: z.object({ id, lineNo: z.number().int().positive(), quantity }),
  run: (input, context) =>
    countThing(
      context.db,
      { id: input.id, lineNo: input.lineNo, quantityC: hundredths(input.quantity) },
      by(context),
    ),
});

export const found = defineAction({
  name: "count-found",
  roles: LOGISTICS,
  reach: "any",
  input: z.object({
    id,
    itemCode: code,
    lotCode: z.string().trim().max(60),
    expiresOn: date.optional(),
    sureOfExpired: date.optional(),
    quantity: quantity.refine((n) => n > 0, "above nought"),
  }),
  run: ({ quantity: q, ...input }, context) =>
    addFound(context.db, { ...input, quantityC: hundredths(q), today: homeToday(context.db) }, by(context)),
});

export const handIn = defineAction({
  name: "hand-in-count",
  roles: LOGISTICS,
  reach: "any",
  input: z.object({ id }),
  run: (input, context) => handInCount(context.db, input.id, by(context)),
  revalidate: ["/stock/counts"],
});

export const recount = defineAction({
  name: "ask-recount",
  roles: STORE,
  reach: "any",
  input: z.object({ id, reason, only: z.literal("used since").optional() }),
  run: (input, context) => askRecount(context.db, input.id, input.reason, by(context), input.only),
});

/** Posts the differences. Somebody who counted is refused, whatever the role. */
export const approve = defineAction({
  name: "approve-count",
  roles: MANAGERS,
  reach: "any",
  input: z.object({ id }),
  run: (input, context) =>
    andNet(
      approveCount(context.db, input.id, homeToday(context.db), by(context)),
      context.db,
      context.visitor,
    ),
  revalidate: ["/stock", "/stock/counts"],
});

export const cancel = defineAction({
  name: "cancel-count",
  roles: STORE,
  reach: "any",
  input: z.object({ id, reason }),
  run: (input, context) => cancelCount(context.db, input.id, input.reason, by(context)),
  revalidate: ["/stock/counts"],
});

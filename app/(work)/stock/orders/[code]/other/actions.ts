"use server";

import { z } from "zod";
import { defineAction } from "@/app/_server/action";
import { homeToday } from "@/app/_server/clock";
import { andNet } from "@/app/_server/netAgain";
import { receiveWrongItem } from "@/db/queries/wrongItems";
import { code, date, hundredths, LOGISTICS, quantity, reason } from "../../../fields";

/** Takes in what came with an order's delivery and is on none of its lines; it goes on hold at once. */
export const receiveOther = defineAction({
  name: "receive-wrong-item",
  roles: LOGISTICS,
  reach: "any",
  input: z.object({
    code,
    key: z.string().min(8).max(120),
    itemCode: code,
    quantity: quantity.refine((n) => n > 0, "above nought"),
    lotCode: code.optional(),
    expiresOn: date.optional(),
    drumSerial: code.optional(),
    serial: code.optional(),
    reason,
    on: date,
  }),
  run: ({ code: orderCode, quantity: came, ...note }, { db, visitor, now }) =>
    andNet(
      receiveWrongItem(
        db,
        orderCode,
        { ...note, quantityC: hundredths(came), today: homeToday(db) },
        { name: visitor.name, at: now },
      ),
      db,
      visitor,
    ),
  revalidate: ["/stock"],
});

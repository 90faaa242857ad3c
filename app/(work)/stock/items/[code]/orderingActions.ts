"use server";

import { z } from "zod";
import { defineAction } from "@/app/_server/action";
import { andNet } from "@/app/_server/netAgain";
import { changeOrdering } from "@/db/queries/ordering";
import { LOT_RULES } from "@/lib/stock";
import { code, LOGISTICS, money, quantity } from "../../fields";

/** How much of an item is ordered at a time, and what that is reckoned with. */
export const setOrdering = defineAction({
  name: "set-ordering",
  roles: LOGISTICS,
  input: z.object({
    code,
    lotRule: z.enum(LOT_RULES),
    orderMultiple: quantity.refine((n) => n > 0, "above nought"),
    minimumOrder: quantity,
    safetyStock: quantity,
    /** null = the figure of the rules. */
    orderCostMinor: money.nullable(),
    holdingSharePerYear: z
      .number("a share such as 0.2")
      .min(0, "not below nought")
      .max(2, "2 at most")
      .nullable(),
    priceBreaks: z
      .array(z.object({ fromQuantity: quantity.refine((n) => n > 0, "above nought"), priceMinor: money }))
      .max(12, "twelve prices at most"),
  }),
  run: ({ code: itemCode, ...change }, { db, visitor, now }) =>
    andNet(changeOrdering(db, itemCode, change, { name: visitor.name, at: now }), db, visitor),
  revalidate: ["/stock"],
});

"use server";

import { z } from "zod";
import { defineAction } from "@/app/_server/action";
import { andNet } from "@/app/_server/netAgain";
import { setSpareRule } from "@/db/queries/spares";
import { code, reason, STORE } from "../fields";

/** Decides how many spares of a variant a warehouse keeps, or leaves it to the rules again. */
export const decide = defineAction({
  name: "decide-spares",
  roles: STORE,
  input: z.object({
    itemCode: code,
    placeCode: code,
    rule: z.union([
      z.object({
        fixed: z.number("a whole number").int("a whole number").min(0, "not below nought").max(10_000),
      }),
      z.object({ level: z.number("a share").min(0.5, "half at least").max(0.9999, "below one") }),
      z.null(),
    ]),
    reason,
  }),
  run: (input, { db, visitor, now }) =>
    andNet(setSpareRule(db, input, { name: visitor.name, at: now }), db, visitor),
  revalidate: ["/stock"],
});

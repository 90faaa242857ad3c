"use server";

import { z } from "zod";
import { defineAction } from "@/app/_server/action";
import { homeToday } from "@/app/_server/clock";
import { andNet } from "@/app/_server/netAgain";
import { scrapRemnant } from "@/db/queries/offcuts";
import { SCRAP_REASONS } from "@/lib/stock";
import { code, hundredths, LOGISTICS, quantity } from "../fields";

export const scrapRest = defineAction({
  name: "scrap-remnant",
  roles: LOGISTICS,
  input: z.object({
    serial: code,
    remaining: quantity.refine((n) => n > 0, "above nought"),
    scrapReason: z.enum(SCRAP_REASONS, "Choose why it is scrapped."),
    note: z.string().trim().max(200),
  }),
  run: ({ serial, remaining, scrapReason, note }, { db, visitor, now }) =>
    andNet(
      scrapRemnant(
        db,
        {
          serial,
          remainingC: hundredths(remaining),
          scrapReason,
          note,
          today: homeToday(db),
          // The length is part of it: a drum whose scrap was taken back can be scrapped again after the next cut.
          key: `scrap ${serial} ${remaining} ${now}`,
        },
        { name: visitor.name, at: now },
      ),
      db,
      visitor,
    ),
  revalidate: ["/stock/offcuts"],
});

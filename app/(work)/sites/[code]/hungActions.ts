"use server";

import { z } from "zod";
import { defineAction } from "@/app/_server/action";
import { homeToday } from "@/app/_server/clock";
import { code, date } from "@/app/(work)/stock/fields";
import { hangUnit, takeDownUnit } from "@/db/queries/hung";

/** Says which serial hangs at a position of an end. */
export const hang = defineAction({
  name: "hang-radio",
  roles: ["logistics", "manager", "administrator"],
  reach: ({ hopCode }) => [hopCode],
  input: z.object({
    key: z.string().min(8).max(120),
    hopCode: code,
    side: z.enum(["near", "far"]),
    oduLabel: code,
    serial: code,
    on: date,
  }),
  run: (input, { db, visitor, now }) =>
    hangUnit(db, { ...input, today: homeToday(db) }, { name: visitor.name, at: now }),
  revalidate: ["/sites", "/stock"],
});

/** Says that it does not hang there any more. */
export const takeDown = defineAction({
  name: "take-down-radio",
  roles: ["logistics", "manager", "administrator"],
  reach: ({ hopCode }) => [hopCode],
  input: z.object({
    id: z.number().int().positive(),
    hopCode: code,
    on: date,
    why: z.enum(["exchanged", "moved", "written wrong"]),
  }),
  run: (input, { db, visitor, now }) =>
    takeDownUnit(db, { ...input, today: homeToday(db) }, { name: visitor.name, at: now }),
  revalidate: ["/sites", "/stock"],
});

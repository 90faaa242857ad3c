/** What actions of the store accept and who may call them. */

import { z } from "zod";
import { phrase } from "@/lib/phrase";
import { type Problem, sentences } from "@/lib/result";
import type { CalendarDate } from "@/lib/time";

export const STORE = ["logistics", "manager", "administrator"] as const;
export const MANAGERS = ["manager", "administrator"] as const;
export const LOGISTICS = ["logistics", "administrator"] as const;

export const date = z.custom<CalendarDate>(
  (v) => typeof v === "string" && /^\d{4}-\d{2}-\d{2}$/.test(v) && !Number.isNaN(Date.parse(v)),
  "a date such as 2026-03-16",
);
export const code = z.string().trim().min(1, "must not be empty").max(60);
export const quantity = z.number("a number").min(0, "not below nought").max(10_000_000);
/** Whole minor units of a currency. */
export const money = z
  .number("an amount")
  .int("whole minor units")
  .min(0, "not below nought")
  .max(100_000_000_000);
export const reason = z.string().trim().min(3, "a few words").max(300);
export const hundredths = (n: number) => Math.round(n * 100);

export const NO_PLAN: Problem = {
  path: "plan",
  rule: "no-plan",
  ...sentences(
    phrase("There is no plan in force, so nobody knows what is needed when."),
    phrase("Put a plan in force first."),
  ),
};

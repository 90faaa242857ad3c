/** Approval limits: who may change them. */
import { z } from "zod";
import { setApprovalLimit } from "@/db/queries/approval";
import { LIMITED_ROLES } from "@/lib/stock";
import type { ActionDefinition } from "./carryOut";

const input = z.object({
  role: z.enum(LIMITED_ROLES),
  currency: z.string().regex(/^[A-Z]{3}$/, "Three capital letters, such as EUR."),
  /** Null: no limit of its own in this currency. */
  upToMinor: z
    .number("Enter an amount.")
    .int("Whole minor units.")
    .min(0, "Not below nought.")
    .max(100_000_000_000, "A smaller amount.")
    .nullable(),
  reason: z.string().trim().min(3, "Say in a few words why.").max(300, "300 characters at most."),
});

export const setApprovalLimitAction: ActionDefinition<typeof input, null> = {
  name: "set-approval-limit",
  roles: ["administrator"],
  input,
  run: (change, { db, visitor, now }) => setApprovalLimit(db, change, { name: visitor.name, at: now }),
};

/** Who stands on orders as the one that orders. */
import { z } from "zod";
import { addLogEntry } from "@/db/queries/log";
import { readSetting, writeSetting } from "@/db/queries/settings";
import { ok } from "@/lib/result";
import type { ActionDefinition } from "./carryOut";

const input = z.object({
  name: z.string().trim().min(2, "Write the name of who orders.").max(120, "Use 120 characters at most."),
  address: z.string().trim().max(400, "Use 400 characters at most."),
  contact: z.string().trim().max(200, "Use 200 characters at most."),
});

export const keepBuyerAction: ActionDefinition<typeof input, null> = {
  name: "keep-buyer",
  roles: ["administrator"],
  input,
  run: (buyer, { db, visitor, now }) => {
    const from = readSetting(db, "buyer")?.name ?? null;
    writeSetting(db, "buyer", buyer);
    addLogEntry(db, {
      at: now,
      userName: visitor.name,
      action: "change buyer",
      subject: "orders",
      detail: { from, to: buyer.name },
    });
    return ok(null);
  },
};

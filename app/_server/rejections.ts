/** Turning down what reports propose, of hours or of material: the form, and the record with its reason. */

import { z } from "zod";
import type { Db } from "@/db/open";
import { addRejection } from "@/db/queries/actuals";
import { addLogEntry, type LogAction } from "@/db/queries/log";

export interface WantedProposal {
  id: string;
  /** As the person saw it: a proposal that moved meanwhile is refused. */
  proposed: number;
}

export const rejectInput = z.object({
  proposals: z
    .array(z.object({ id: z.string().min(1).max(200), proposed: z.number().positive() }))
    .min(1, "Choose at least one proposal.")
    .max(500),
  reason: z
    .string()
    .trim()
    .min(3, "Say in a few words why.")
    .max(300, "A reason may have 300 characters at most."),
});

/** @param known every wanted one is in it, as it stands now */
export function keepRejections(
  db: Db,
  { proposals, reason }: { proposals: readonly WantedProposal[]; reason: string },
  known: ReadonlyMap<string, { inForce: number; proposed: number; actuals: number }>,
  by: { name: string; at: number; action: LogAction; subject: string },
): { rejected: number } {
  for (const { id } of proposals) {
    const { inForce, proposed, actuals } = known.get(id)!;
    addRejection(db, {
      proposalId: id,
      inForce,
      proposed,
      actuals,
      reason,
      rejectedBy: by.name,
      rejectedAt: by.at,
    });
  }
  addLogEntry(db, {
    at: by.at,
    userName: by.name,
    action: by.action,
    subject: by.subject,
    detail: { reason, proposals },
  });
  return { rejected: proposals.length };
}

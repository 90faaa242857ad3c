/** What the organisation lets each role approve on its own. */

import { and, eq } from "drizzle-orm";
import { ok, type Result } from "@/lib/result";
import type { ApprovalLimit, LimitedRole } from "@/lib/stock";
import type { Db } from "../open";
import { approvalLimit, item, orderLine } from "../schema";
import { addLogEntry } from "./log";

export type ApprovalLimitRow = ApprovalLimit & { changedBy: string; changedAt: number };

export function loadApprovalLimits(db: Db): ApprovalLimitRow[] {
  return db.select().from(approvalLimit).orderBy(approvalLimit.role, approvalLimit.currency).all();
}

/** Currencies in which anything is priced, or a limit is set: those for which one can be asked. */
export function currenciesInUse(db: Db): string[] {
  const rows = [
    ...db.selectDistinct({ currency: item.currency }).from(item).all(),
    ...db.selectDistinct({ currency: orderLine.currency }).from(orderLine).all(),
    ...db.selectDistinct({ currency: approvalLimit.currency }).from(approvalLimit).all(),
  ];
  return [...new Set(rows.flatMap((r) => r.currency ?? []))].sort();
}

/** @param change.upToMinor null takes the limit away */
export function setApprovalLimit(
  db: Db,
  change: { role: LimitedRole; currency: string; upToMinor: number | null; reason: string },
  by: { name: string; at: number },
): Result<null> {
  const { role, currency, upToMinor } = change;
  const here = and(eq(approvalLimit.role, role), eq(approvalLimit.currency, currency));
  const before = db.select().from(approvalLimit).where(here).get()?.upToMinor ?? null;
  if (upToMinor === null) db.delete(approvalLimit).where(here).run();
  else {
    const values = { upToMinor, changedBy: by.name, changedAt: by.at };
    db.insert(approvalLimit)
      .values({ role, currency, ...values })
      .onConflictDoUpdate({ target: [approvalLimit.role, approvalLimit.currency], set: values })
      .run();
  }
  addLogEntry(db, {
    at: by.at,
    userName: by.name,
    action: "approval limit changed",
    subject: `role ${role}`,
    detail: { currency, from: before, to: upToMinor, reason: change.reason },
  });
  return ok(null);
}

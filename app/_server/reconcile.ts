/** Job "reconcile": at every start of the worker, and when somebody asks on the page of the ledger. */
import type { Db } from "@/db/open";
import { activeJobOfKind, jobsOfKind } from "@/db/queries/jobs";
import { countLedger, type LedgerDifference, ledgerDifferences } from "@/db/queries/ledger";
import { startJob } from "./jobs";

/** Differences that the result names; where there are more, something is wrong that no list explains. */
const NAMED = 20;

export interface Reconciled {
  /** Rows of the ledger that were summed up. */
  rows: number;
  /** Balances that differ. */
  differences: number;
  first: LedgerDifference[];
}

export function reconcileJob(_input: unknown, { db }: { db: Db }): Reconciled {
  const differences = ledgerDifferences(db);
  if (differences.length > 0)
    console.error(`ledger: ${differences.length} balance(s) differ from the sum of their movements`);
  return { rows: countLedger(db, {}), differences: differences.length, first: differences.slice(0, NAMED) };
}

export interface LastReconciled {
  /** By the machine's clock; null = never since jobs were forgotten. */
  done: { at: number; result: Reconciled } | null;
  activeJobId: string | null;
}

export function lastReconciled(db: Db): LastReconciled {
  const last = jobsOfKind(db, "reconcile").find((j) => j.state === "done");
  return {
    done: last?.endedAt ? { at: last.endedAt, result: last.result as Reconciled } : null,
    activeJobId: activeJobOfKind(db, "reconcile")?.id ?? null,
  };
}

/** Asks for it, unless it waits already; gives the job's id. */
export function reconcile(db: Db, by: string | null): string {
  const active = activeJobOfKind(db, "reconcile");
  return active?.state === "queued" ? active.id : startJob(db, "reconcile", {}, by);
}

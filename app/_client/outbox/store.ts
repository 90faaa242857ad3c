/** Reports that wait on this phone, in the browser's own database: they outlive a closed page and an empty battery. */
import type { Problem } from "@/lib/result";
import { phoneTable } from "../phoneTable";

export interface WaitingReport {
  /** Made once for the intent: however often it is sent, it counts once. */
  key: string;
  /** Who wrote it; another account on the same phone does not send it. */
  userId: string;
  visitId: string;
  /** What it is, for the list: site and visit. */
  label: string;
  /** Body for /api/reports. */
  report: Readonly<Record<string, unknown>>;
  /** The phone's clock, epoch milliseconds. */
  writtenAtMillis: number;
  /** Set when the server refused it; it waits for a person then. */
  problems?: readonly Problem[];
}

const table = phoneTable<WaitingReport>("bothends", "reports");

export const putReport = (r: WaitingReport) => table.put(r);

export const removeReport = (key: string) => table.remove(key);

/** Oldest first. */
export async function waitingReports(): Promise<WaitingReport[]> {
  const all = await table.all();
  return all.sort((a, b) => a.writtenAtMillis - b.writtenAtMillis);
}

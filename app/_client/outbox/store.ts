/** Reports that wait on this phone, in the browser's own database: they outlive a closed page and an empty battery. */
import type { Problem } from "@/lib/result";

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

const NAME = "bothends";
const TABLE = "reports";

function open(): Promise<IDBDatabase> {
  return new Promise((resolve, reject) => {
    const request = indexedDB.open(NAME, 1);
    request.onupgradeneeded = () => request.result.createObjectStore(TABLE, { keyPath: "key" });
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
}

async function inTable<T>(
  mode: IDBTransactionMode,
  work: (table: IDBObjectStore) => IDBRequest<T>,
): Promise<T> {
  const db = await open();
  try {
    return await new Promise<T>((resolve, reject) => {
      // "strict": on the disk before it counts as kept.
      const transaction = db.transaction(TABLE, mode, { durability: "strict" });
      const request = work(transaction.objectStore(TABLE));
      transaction.oncomplete = () => resolve(request.result);
      transaction.onerror = () => reject(transaction.error);
      transaction.onabort = () => reject(transaction.error);
    });
  } finally {
    db.close();
  }
}

export const putReport = (r: WaitingReport) => inTable("readwrite", (t) => t.put(r));

export const removeReport = (key: string) => inTable("readwrite", (t) => t.delete(key));

/** Oldest first. */
export async function waitingReports(): Promise<WaitingReport[]> {
  const all = (await inTable("readonly", (t) => t.getAll())) as WaitingReport[];
  return all.sort((a, b) => a.writtenAtMillis - b.writtenAtMillis);
}

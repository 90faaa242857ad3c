/** Photos that wait on this phone, in a database of their own: they outlive a closed page and an empty battery. */
import type { Problem } from "@/lib/result";

export interface WaitingPhoto {
  /** Made once for the photo: however often it is sent, it is kept once. */
  key: string;
  userId: string;
  visitId: string;
  subject: string;
  /** The phone's clock, epoch milliseconds. */
  takenAtMillis: number;
  /** Scaled down, as it goes out. A buffer: not every browser keeps blobs in its database. */
  bytes: ArrayBuffer;
  /** Of `bytes`: tells damage on the way. */
  crc32: string;
  /** False until the report is sent or the crew sends the photos by themselves: till then it can be taken away. */
  isReleased: boolean;
  /** Set when the server refused it; it waits for a person then. */
  problems?: readonly Problem[];
}

const NAME = "bothends photos";
const TABLE = "photos";
/** Tells every part of the page, and every other page, that something changed. */
const CHANNEL = "bothends photos";

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

export const putPhoto = (photo: WaitingPhoto) => inTable("readwrite", (t) => t.put(photo));

export const removeWaitingPhoto = (key: string) => inTable("readwrite", (t) => t.delete(key));

/** Of this person, in the order in which they were taken. */
export async function waitingPhotos(userId: string): Promise<WaitingPhoto[]> {
  const all = (await inTable("readonly", (t) => t.getAll())) as WaitingPhoto[];
  return all.filter((p) => p.userId === userId).sort((a, b) => a.takenAtMillis - b.takenAtMillis);
}

/** With the report: what was taken on the visit may go out from now on. */
export async function releasePhotos(userId: string, visitId: string): Promise<void> {
  for (const photo of await waitingPhotos(userId)) {
    if (photo.visitId === visitId && !photo.isReleased) await putPhoto({ ...photo, isReleased: true });
  }
  tellPhotos();
}

export function tellPhotos(): void {
  const channel = new BroadcastChannel(CHANNEL);
  channel.postMessage("changed");
  channel.close();
}

/** @returns stops listening */
export function hearPhotos(listener: () => void): () => void {
  const channel = new BroadcastChannel(CHANNEL);
  channel.onmessage = listener;
  return () => channel.close();
}

/** Photos that wait on this phone, in a database of their own: they outlive a closed page and an empty battery. */
import type { Problem } from "@/lib/result";
import { phoneTable } from "../phoneTable";

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

const table = phoneTable<WaitingPhoto>("bothends photos", "photos");
/** Tells every part of the page, and every other page, that something changed. */
const CHANNEL = "bothends photos";

export const putPhoto = (photo: WaitingPhoto) => table.put(photo);

export const removeWaitingPhoto = (key: string) => table.remove(key);

/** Of this person, in the order in which they were taken. */
export async function waitingPhotos(userId: string): Promise<WaitingPhoto[]> {
  const all = await table.all();
  return all.filter((p) => p.userId === userId).sort((a, b) => a.takenAtMillis - b.takenAtMillis);
}

/** Photos of anybody that only wait for a signal or a sign-in. */
export const photosToSend = async (): Promise<number> =>
  (await table.all()).filter((photo) => photo.isReleased).length;

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

/** Sends photos in pieces. A cut costs one piece: the next try asks what the server has and goes on from there. */
import { PIECE_BYTES } from "@/lib/photos";
import type { Problem } from "@/lib/result";
import { putPhoto, removeWaitingPhoto, tellPhotos, type WaitingPhoto, waitingPhotos } from "./store";

export type PhotoSendState = "sent" | "no signal" | "signed out" | "server busy";

type Answer =
  | { haveBytes: number; isKept: boolean }
  | { problems: readonly Problem[] }
  | Exclude<PhotoSendState, "sent">;

/** All that were released, oldest first; stops at the first that does not get through. */
export async function sendPhotos(userId: string): Promise<PhotoSendState> {
  return navigator.locks
    ? navigator.locks.request("bothends photos", () => sendInTurn(userId))
    : sendInTurn(userId);
}

async function sendInTurn(userId: string): Promise<PhotoSendState> {
  const waiting = (await waitingPhotos(userId)).filter((p) => p.isReleased && !p.problems);
  for (const photo of waiting) {
    const state = await sendOne(photo);
    tellPhotos();
    if (state !== "sent") return state;
  }
  return "sent";
}

async function sendOne(photo: WaitingPhoto): Promise<PhotoSendState> {
  let offset = 0;
  let piece = new ArrayBuffer(0); // nothing first: how much is there already?
  for (;;) {
    const answer = await post(photo, offset, piece);
    if (typeof answer === "string") return answer;
    if ("problems" in answer) {
      await putPhoto({ ...photo, problems: answer.problems });
      return "sent"; // it waits for a person; the others go on
    }
    if (answer.isKept) {
      await removeWaitingPhoto(photo.key);
      return "sent";
    }
    offset = answer.haveBytes;
    piece = photo.bytes.slice(offset, offset + PIECE_BYTES);
  }
}

async function post(photo: WaitingPhoto, offset: number, piece: ArrayBuffer): Promise<Answer> {
  const query = new URLSearchParams({
    visitId: photo.visitId,
    subject: photo.subject,
    takenAt: String(photo.takenAtMillis),
    totalBytes: String(photo.bytes.byteLength),
    crc32: photo.crc32,
    offset: String(offset),
  });
  let response: Response;
  try {
    response = await fetch(`/api/photos/${photo.key}?${query}`, { method: "POST", body: piece });
  } catch {
    return "no signal";
  }
  if (response.status === 401) return "signed out";
  if (response.status === 429 || response.status >= 500) return "server busy";
  try {
    const body = (await response.json()) as {
      ok: boolean;
      value: { haveBytes: number; isKept: boolean };
      problems?: Problem[];
    };
    return body.ok ? body.value : { problems: body.problems ?? [] };
  } catch {
    return "server busy"; // the answer broke off
  }
}

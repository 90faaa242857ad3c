/** A photo arrives in pieces, each of which may come twice; a manager may take one away. */

import { createHash } from "node:crypto";
import { z } from "zod";
import {
  addPiece,
  arrived,
  arrivedBytes,
  dropStale,
  forgetArriving,
  removePhotoFile,
  writePhoto,
} from "@/db/photoFiles";
import { addLogEntry } from "@/db/queries/log";
import { addPhoto, countPhotos, crewsOfVisit, deletePhoto, photoByKey } from "@/db/queries/photos";
import type { Role } from "@/db/schema/auth";
import {
  crc32,
  isPhotoKey,
  isPhotoSubject,
  PHOTO_MOST_BYTES,
  PHOTOS_MOST_PER_VISIT,
  takePhoto,
} from "@/lib/photos";
import { figure, phrase } from "@/lib/phrase";
import { parseVisitId } from "@/lib/programme";
import { ok, problem, type Result, refused } from "@/lib/result";
import type { ActionDefinition } from "./carryOut";
import { reachOfVisit } from "./regions";

export const PHOTO_SENDERS: readonly Role[] = ["crew lead", "manager", "administrator"];
/** A phone that lost its signal comes back within this. */
const ARRIVING_KEPT_MILLIS = 14 * 86_400_000;

const key = z.string().refine(isPhotoKey, "A photo's key has 32 hexadecimal digits.");

const pieceInput = z.object({
  key,
  visitId: z.string().min(1).max(200),
  subject: z.string().refine(isPhotoSubject, "Choose what the photo shows from the list."),
  takenAt: z.coerce.number().int().min(0).max(8.64e15),
  /** Of the whole photo as sent. */
  totalBytes: z.coerce
    .number()
    .int()
    .positive()
    .max(PHOTO_MOST_BYTES, `A photo may have up to ${PHOTO_MOST_BYTES / 1e6} MB.`),
  crc32: z.string().regex(/^[0-9a-f]{8}$/, "The photo's check sum has 8 hexadecimal digits."),
  offset: z.coerce.number().int().min(0),
  piece: z.instanceof(Uint8Array),
});
type Piece = z.output<typeof pieceInput>;

/** How much of the photo the server has: the sender goes on from there. */
export interface PieceTaken {
  haveBytes: number;
  isKept: boolean;
}

export const takePiece: ActionDefinition<typeof pieceInput, PieceTaken> = {
  name: "take-photo-piece",
  roles: PHOTO_SENDERS,
  reach: ({ visitId }) => reachOfVisit(visitId),
  input: pieceInput,
  run: (input, { db, visitor, now }) => {
    const known = photoByKey(db, input.key);
    if (known)
      return known.visitId === input.visitId
        ? ok({ haveBytes: input.totalBytes, isKept: true })
        : refused(
            problem(
              "key",
              "key-used-elsewhere",
              input.key,
              "This photo was sent for another visit.",
              "Add it anew.",
            ),
          );
    const crews = crewsOfVisit(db, input.visitId);
    if (!parseVisitId(input.visitId) || crews.size === 0)
      return refused(
        problem(
          "visitId",
          "visit-not-planned",
          input.visitId,
          "This visit is not in the plan in force, and nobody has reported it.",
          "Open My week again: the plan may have changed since the page was loaded.",
        ),
      );
    if (visitor.role === "crew lead" && !crews.has(visitor.crewId ?? ""))
      return refused(
        problem(
          "visitId",
          "other-crew",
          input.visitId,
          phrase("This visit belongs to crew {{crew}}.", { crew: [...crews].join(", ") }),
          "Its own crew lead, a rollout manager or an administrator may send its photos.",
        ),
      );
    if (countPhotos(db, input.visitId) >= PHOTOS_MOST_PER_VISIT)
      return refused(
        problem(
          "visitId",
          "too-many-photos",
          PHOTOS_MOST_PER_VISIT,
          phrase("The visit has {{most}} photos, which is the most.", {
            most: figure(PHOTOS_MOST_PER_VISIT, 0),
          }),
          "Discard this one, or have a rollout manager delete one that is not needed.",
        ),
      );
    if (arrivedBytes(input.key) === 0) dropStale(now - ARRIVING_KEPT_MILLIS);
    const haveBytes = addPiece(input.key, input.offset, input.piece);
    if (haveBytes < input.totalBytes) return ok({ haveBytes, isKept: false });
    const kept = keep(input, visitor.name, now);
    if (!kept.ok) {
      forgetArriving(input.key);
      return kept;
    }
    addPhoto(db, kept.value);
    forgetArriving(input.key);
    return ok({ haveBytes: input.totalBytes, isKept: true });
  },
};

/** The whole photo, checked, cleaned and written; the row that says so. */
function keep(input: Piece, sentBy: string, now: number): Result<Parameters<typeof addPhoto>[1]> {
  const bytes = arrived(input.key);
  if (bytes.length !== input.totalBytes || crc32(bytes) !== input.crc32)
    return refused(
      problem(
        "photo",
        "photo-damaged",
        bytes.length,
        "What arrived is not what the phone sent.",
        "Send it again: it starts from the beginning.",
      ),
    );
  const taken = takePhoto(bytes);
  if (!taken.ok) return taken;
  const { bytes: clean, widthPx, heightPx } = taken.value;
  writePhoto(input.key, clean);
  return ok({
    key: input.key,
    visitId: input.visitId,
    hopCode: parseVisitId(input.visitId)!.hopCode,
    subject: input.subject,
    widthPx,
    heightPx,
    sizeBytes: clean.length,
    sha256: sha256(clean),
    takenAt: input.takenAt,
    sentBy,
    receivedAt: now,
  });
}

const sha256 = (bytes: Uint8Array): string => createHash("sha256").update(bytes).digest("hex");

const removeInput = z.object({ key, visitId: z.string().min(1).max(200) });

export const removePhoto: ActionDefinition<typeof removeInput, null> = {
  name: "remove-photo",
  roles: ["manager", "administrator"],
  reach: ({ visitId }) => reachOfVisit(visitId),
  input: removeInput,
  run: ({ key, visitId }, { db, visitor, now }) => {
    const photo = photoByKey(db, key);
    if (photo?.visitId !== visitId)
      return refused(
        problem("key", "no-such-photo", key, "This photo is not there any more.", "Reload the page."),
      );
    deletePhoto(db, key);
    addLogEntry(db, {
      at: now,
      userName: visitor.name,
      action: "deleted a photo",
      subject: visitId,
      detail: { subject: photo.subject, sentBy: photo.sentBy, takenAt: photo.takenAt, sha256: photo.sha256 },
    });
    removePhotoFile(key);
    return ok(null);
  },
};

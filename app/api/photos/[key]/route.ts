/**
 * Photos of visits. POST takes a piece of one as its body; an empty body asks how much is there. GET gives a picture:
 * as a download that nothing draws or runs by itself, though a page may show it.
 */
import { problemResponse } from "@/app/_server/action";
import { bytesUpTo } from "@/app/_server/body";
import { carryOut, foreignOrigin, refusalOf } from "@/app/_server/carryOut";
import { machineNow, nowMillis } from "@/app/_server/clock";
import { PHOTO_SENDERS, takePiece } from "@/app/_server/photoEdits";
import { regionRefusal } from "@/app/_server/regions";
import { visitorOf } from "@/app/_server/session";
import { database } from "@/db/open";
import { readPhoto } from "@/db/photoFiles";
import { photoByKey } from "@/db/queries/photos";
import { isPhotoKey, PIECE_BYTES } from "@/lib/photos";
import type { Problem } from "@/lib/result";

interface Params {
  params: Promise<{ key: string }>;
}

const PIECE_TOO_LARGE: Problem = {
  path: "photo",
  rule: "body-too-large",
  message: `A piece of a photo has up to ${PIECE_BYTES} bytes.`,
  remedy: "Send it in smaller pieces.",
};

const NO_SUCH_PHOTO: Problem = {
  path: "key",
  rule: "no-such-photo",
  message: "There is no such photo.",
  remedy: "Reload the page: it may have been deleted.",
};

export async function POST(request: Request, next: Params): Promise<Response> {
  const foreign = foreignOrigin(request);
  if (foreign) return problemResponse([foreign]);
  const visitor = await visitorOf(request.headers);
  const refusal = refusalOf(visitor, PHOTO_SENDERS);
  if (refusal) return problemResponse([refusal]);
  const piece = await bytesUpTo(request, PIECE_BYTES);
  if (!piece) return problemResponse([PIECE_TOO_LARGE]);
  const db = database();
  const asked = Object.fromEntries(new URL(request.url).searchParams);
  const { key } = await next.params;
  // Its own key and offset make it count once: no answer needs to be remembered for each piece.
  const { result } = await carryOut(
    takePiece,
    { ...asked, key, piece },
    { db, visitor, key: undefined, now: nowMillis(db), machineNow: machineNow() },
  );
  return result.ok ? Response.json(result) : problemResponse(result.problems);
}

export async function GET(request: Request, next: Params): Promise<Response> {
  const visitor = await visitorOf(request.headers);
  const refusal = refusalOf(visitor, []);
  if (refusal || !visitor) return problemResponse(refusal ? [refusal] : []);
  const db = database();
  const { key } = await next.params;
  const photo = isPhotoKey(key) ? photoByKey(db, key) : undefined;
  const outside = photo && regionRefusal(db, visitor, [photo.hopCode]);
  if (outside) return problemResponse([outside]);
  const bytes = photo && readPhoto(photo.key);
  if (!photo || !bytes) return Response.json({ ok: false, problems: [NO_SUCH_PHOTO] }, { status: 404 });
  const name = `${photo.visitId} ${photo.subject} ${key.slice(0, 6)}`.replace(/[^A-Za-z0-9._-]/g, "_");
  return new Response(bytes as BodyInit, {
    headers: {
      "Content-Type": "image/jpeg",
      "Content-Disposition": `attachment; filename="${name}.jpg"`,
      // Never changes under its key; only this person's browser keeps it.
      "Cache-Control": "private, max-age=86400",
      "X-Content-Type-Options": "nosniff",
    },
  });
}

import { existsSync, mkdtempSync, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { carryOut, type Visitor } from "@/app/_server/carryOut";
import { type PieceTaken, removePhoto, takePiece } from "@/app/_server/photoEdits";
import { memoryDatabase } from "@/db/migrate";
import type { Db } from "@/db/open";
import { readPhoto } from "@/db/photoFiles";
import { saveItem } from "@/db/queries/catalogue";
import { saveHop, saveSite } from "@/db/queries/design";
import { loadLog } from "@/db/queries/log";
import { addPhoto, photoByKey, photosOfVisit } from "@/db/queries/photos";
import { addReport } from "@/db/queries/reports";
import { crc32, PHOTOS_MOST_PER_VISIT } from "@/lib/photos";
import { Random } from "@/lib/random";
import { DEFAULT_CATALOGUE } from "@/lib/takeoff";
import { calendarDate, type InstantMillis } from "@/lib/time";
import { makeHops, makeSites } from "@/seed/vellmark";
import { jpegOf, POSITION } from "../helpers/jpeg";
import { visitorAs } from "../helpers/visitor";

const NOW = Date.parse("2026-03-16T07:30:00Z") as InstantMillis;
const KEY = "0123456789abcdef0123456789abcdef";
const PIECE = 4000;

let db: Db;
let folder: string;
let visitId: string;

beforeEach(() => {
  folder = mkdtempSync(path.join(tmpdir(), "bothends-photos-"));
  vi.stubEnv("BOTHENDS_DATA", folder);
  db = memoryDatabase();
  const sites = makeSites(new Random("sites"), 20);
  for (const item of DEFAULT_CATALOGUE) saveItem(db, item);
  for (const site of sites) saveSite(db, site);
  const today = calendarDate("2026-03-16");
  const [hop] = makeHops(new Random("hops"), sites, DEFAULT_CATALOGUE, today, 3);
  saveHop(db, hop!);
  visitId = `${hop!.code}/near/install`;
  // No plan is in force any more: the crew that reported the visit may still send its photos.
  addReport(db, {
    key: "report",
    visitId,
    hopCode: hop!.code,
    crewCode: "C1",
    workedOn: today,
    outcome: "done",
    workedMin: 60,
    reportedBy: "Lead",
    reportedAt: NOW,
    note: "",
    uses: [],
  });
});

afterEach(() => {
  vi.unstubAllEnvs();
  rmSync(folder, { recursive: true, force: true });
});

const lead = (crewId: string): Visitor => ({ ...visitorAs("crew lead"), crewId });

async function send(bytes: Uint8Array, offset: number, over: object = {}, visitor = lead("C1")) {
  const piece = new Uint8Array(bytes.subarray(offset, offset + PIECE));
  const input = {
    key: KEY,
    visitId,
    subject: "label",
    takenAt: NOW,
    totalBytes: bytes.length,
    crc32: crc32(bytes),
    offset,
    piece,
    ...over,
  };
  const { result } = await carryOut(takePiece, input, {
    db,
    visitor,
    key: undefined,
    now: NOW,
    machineNow: NOW,
  });
  return result;
}

async function sendAll(bytes: Uint8Array, over: object = {}) {
  let offset = 0;
  for (;;) {
    const answer = await send(bytes, offset, over);
    if (!answer.ok || answer.value.isKept) return answer;
    offset = answer.value.haveBytes;
  }
}

const have = (answer: Awaited<ReturnType<typeof send>>): Partial<PieceTaken> | string | undefined =>
  answer.ok ? answer.value : answer.problems[0]?.rule;

const PICTURE = jpegOf({ widthPx: 1600, heightPx: 1200, dataBytes: 10_000 });

describe("a photo that is sent in pieces", () => {
  it("is kept whole, without its position, once", async () => {
    expect(have(await sendAll(PICTURE))).toEqual({ haveBytes: PICTURE.length, isKept: true });
    const [photo, ...others] = photosOfVisit(db, visitId);
    expect(others).toEqual([]);
    expect(photo).toMatchObject({ subject: "label", widthPx: 1600, heightPx: 1200, sentBy: lead("C1").name });
    const kept = Buffer.from(readPhoto(KEY)!);
    expect(kept.length).toBe(photo?.sizeBytes);
    expect(kept.toString("latin1")).not.toContain(POSITION);
    expect(readdirSync(path.join(folder, "photos", "arriving"))).toEqual([]);
    // Its last answer was lost: sent again it is the same photo.
    expect(have(await send(PICTURE, 0))).toEqual({ haveBytes: PICTURE.length, isKept: true });
    expect(photosOfVisit(db, visitId)).toHaveLength(1);
  });

  it("goes on from what is there: a piece twice, a hole, a question", async () => {
    expect(have(await send(PICTURE, 0))).toMatchObject({ haveBytes: PIECE });
    expect(have(await send(PICTURE, 0))).toMatchObject({ haveBytes: PIECE });
    expect(have(await send(PICTURE, 2 * PIECE))).toMatchObject({ haveBytes: PIECE });
    expect(have(await send(PICTURE, 0, { piece: new Uint8Array() }))).toMatchObject({ haveBytes: PIECE });
    // Overlapping what came before.
    expect(have(await send(PICTURE, PIECE - 100))).toMatchObject({ haveBytes: 2 * PIECE - 100 });
    expect(have(await send(PICTURE, 2 * PIECE - 100))).toMatchObject({ isKept: true });
  });

  it("is refused when damaged, no picture, or too much, and leaves nothing behind", async () => {
    expect(have(await sendAll(PICTURE, { crc32: "00000000" }))).toBe("photo-damaged");
    expect(have(await sendAll(Buffer.from("<script>alert(1)</script>")))).toBe("not-a-jpeg");
    expect(have(await send(PICTURE, 0, { totalBytes: 9_000_000 }))).toBe("input-too-big");
    expect(have(await send(PICTURE, 0, { key: "../../etc" }))).toBe("input-custom");
    expect(have(await send(PICTURE, 0, { subject: "cat" }))).toBe("input-custom");
    expect(photoByKey(db, KEY)).toBeUndefined();
    expect(readdirSync(path.join(folder, "photos", "arriving"))).toEqual([]);
  });

  it("is taken from the visit's own crew and from managers, and only so many of a visit", async () => {
    expect(have(await send(PICTURE, 0, {}, lead("C2")))).toBe("other-crew");
    expect(have(await send(PICTURE, 0, {}, visitorAs("logistics")))).toBe("role");
    expect(have(await send(PICTURE, 0, { visitId: "NONE/near/install" }))).toBe("visit-not-planned");
    expect(have(await send(PICTURE, 0, {}, visitorAs("manager")))).toMatchObject({ isKept: false });
    await sendAll(PICTURE);
    const photo = photoByKey(db, KEY)!;
    for (let i = 1; i < PHOTOS_MOST_PER_VISIT; i++)
      addPhoto(db, { ...photo, key: i.toString(16).padStart(32, "0") });
    expect(have(await send(PICTURE, 0, { key: "f".repeat(32) }))).toBe("too-many-photos");
  });
});

describe("deleting a photo", () => {
  it("is for managers, takes row and file away and stands in the log", async () => {
    await sendAll(PICTURE);
    const call = (visitor: ReturnType<typeof visitorAs>) =>
      carryOut(
        removePhoto,
        { key: KEY, visitId },
        { db, visitor, key: undefined, now: NOW, machineNow: NOW },
      );
    expect((await call(lead("C1"))).result.ok).toBe(false);
    expect((await call(visitorAs("manager"))).result.ok).toBe(true);
    expect(photoByKey(db, KEY)).toBeUndefined();
    expect(readPhoto(KEY)).toBeUndefined();
    expect(existsSync(path.join(folder, "photos"))).toBe(true);
    expect(loadLog(db, 1)[0]).toMatchObject({ action: "deleted a photo", subject: visitId });
    expect((await call(visitorAs("manager"))).result.ok).toBe(false);
  });
});

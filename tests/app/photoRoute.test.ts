/** A photo's address: who may load it down, and how the answer is sent. */
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { afterAll, beforeAll, expect, test, vi } from "vitest";
import { GET, POST } from "@/app/api/photos/[key]/route";
import { memoryDatabase } from "@/db/migrate";
import type { Db } from "@/db/open";
import { writePhoto } from "@/db/photoFiles";
import { saveItem } from "@/db/queries/catalogue";
import { saveHop, saveSite } from "@/db/queries/design";
import { addPhoto } from "@/db/queries/photos";
import { PIECE_BYTES } from "@/lib/photos";
import { Random } from "@/lib/random";
import { DEFAULT_CATALOGUE } from "@/lib/takeoff";
import { calendarDate } from "@/lib/time";
import { makeHops, makeSites } from "@/seed/vellmark";
import { jpegOf } from "../helpers/jpeg";
import { visitorAs } from "../helpers/visitor";

const here = vi.hoisted(() => ({ visitor: undefined as unknown, db: undefined as unknown }));
vi.mock("@/app/_server/session", () => ({ visitorOf: async () => here.visitor }));
vi.mock("@/db/open", async (original) => ({ ...(await original<object>()), database: () => here.db as Db }));

const KEY = "a".repeat(32);
let folder: string;
let region: string;

beforeAll(() => {
  folder = mkdtempSync(path.join(tmpdir(), "bothends-photos-"));
  vi.stubEnv("BOTHENDS_DATA", folder);
  const db = memoryDatabase();
  here.db = db;
  const sites = makeSites(new Random("sites"), 20);
  for (const item of DEFAULT_CATALOGUE) saveItem(db, item);
  for (const site of sites) saveSite(db, site);
  const [hop] = makeHops(new Random("hops"), sites, DEFAULT_CATALOGUE, calendarDate("2026-03-16"), 3);
  saveHop(db, hop!);
  region = sites.find((s) => s.code === hop!.near.siteId)!.region;
  const bytes = jpegOf();
  writePhoto(KEY, bytes);
  addPhoto(db, {
    key: KEY,
    visitId: `${hop!.code}/near/install`,
    hopCode: hop!.code,
    subject: "label",
    widthPx: 640,
    heightPx: 480,
    sizeBytes: bytes.length,
    sha256: "",
    takenAt: 1,
    sentBy: "Lead",
    receivedAt: 1,
  });
});

afterAll(() => {
  vi.unstubAllEnvs();
  rmSync(folder, { recursive: true, force: true });
});

const get = (key = KEY) => GET(new Request("http://plan.example/x"), { params: Promise.resolve({ key }) });

test("a photo goes out as a download that nothing runs", async () => {
  here.visitor = visitorAs("logistics", { regions: [region] });
  const answer = await get();
  expect(answer.status).toBe(200);
  expect(answer.headers.get("content-type")).toBe("image/jpeg");
  expect(answer.headers.get("content-disposition")).toMatch(
    /^attachment; filename="VH011_near_install_label_aaaaaa\.jpg"$/,
  );
  expect(answer.headers.get("x-content-type-options")).toBe("nosniff");
  expect(new Uint8Array(await answer.arrayBuffer())).toEqual(new Uint8Array(jpegOf()));
});

test("another region, nobody, and a key that is none get nothing", async () => {
  here.visitor = visitorAs("manager", { regions: ["Elsewhere"] });
  expect((await get()).status).toBe(403);
  here.visitor = undefined;
  expect((await get()).status).toBe(401);
  here.visitor = visitorAs("manager");
  expect((await get("../../secret")).status).toBe(404);
  expect((await get("b".repeat(32))).status).toBe(404);
});

test("a piece that is too large, or sent by another site's page, is not taken", async () => {
  here.visitor = visitorAs("manager");
  const post = (body: Uint8Array, headers: Record<string, string> = {}) =>
    POST(
      new Request("http://plan.example/x", {
        method: "POST",
        body: body as BodyInit,
        headers: { host: "plan.example", ...headers },
      }),
      { params: Promise.resolve({ key: KEY }) },
    );
  expect((await post(new Uint8Array(PIECE_BYTES + 1))).status).toBe(413);
  expect((await post(new Uint8Array(1), { origin: "https://elsewhere.example" })).status).toBe(403);
});

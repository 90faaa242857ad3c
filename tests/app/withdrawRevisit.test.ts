/** A revisit that is not needed any more: what it needed is netted out at once. */
import { beforeEach, expect, test, vi } from "vitest";
import { recordReadings, withdrawRevisit } from "@/app/(work)/hops/[code]/actions";
import type { Db } from "@/db/open";
import { loadHop } from "@/db/queries/design";
import { activeJobOfKind } from "@/db/queries/jobs";
import { type AskedReading, readingsAsked } from "@/lib/acceptance";
import { type TestStock, TODAY, testStock } from "../db/make";
import { visitorAs } from "../helpers/visitor";

const here = vi.hoisted(() => ({ visitor: undefined as unknown, db: undefined as unknown }));
vi.mock("@/app/_server/session", () => ({ visitorOf: async () => here.visitor }));
vi.mock("@/db/open", async (original) => ({ ...(await original<object>()), database: () => here.db as Db }));
vi.mock("next/headers", () => ({
  headers: async () => new Headers(),
  cookies: async () => ({ get: () => undefined }),
}));
vi.mock("next/cache", () => ({ revalidatePath: () => undefined }));

let t: TestStock;
let hopCode: string;
let level: AskedReading;
beforeEach(() => {
  vi.stubEnv("BOTHENDS_NOW", `${TODAY}T12:00:00Z`);
  t = testStock();
  here.db = t.db;
  here.visitor = visitorAs("administrator");
  hopCode = t.visitId.split("/")[0]!;
  level = readingsAsked(loadHop(t.db, hopCode)!).find((a) => a.kind === "receive level")!;
});

const read = (offDb: number, isCorrection = false) =>
  recordReadings({
    hopCode,
    takenOn: TODAY,
    note: "",
    isCorrection,
    readings: [{ askedId: level.id, value: level.targetLevelDbm! + offDb }],
  });
const isNetting = () => activeJobOfKind(t.db, "net") !== undefined;

test("withdrawn by hand, its needs are netted out", async () => {
  const failed = await read(-20);
  expect(failed).toMatchObject({ ok: true });
  expect(isNetting()).toBe(false);
  const visitId = failed.ok ? failed.value.opened[0]! : "";
  expect(await withdrawRevisit({ visitId: "nothing", why: "not needed" })).toMatchObject({ ok: false });
  expect(isNetting()).toBe(false);
  expect(await withdrawRevisit({ visitId, why: "the meter was wrong" })).toMatchObject({ ok: true });
  expect(isNetting()).toBe(true);
});

test("withdrawn because a reading was corrected, its needs are netted out", async () => {
  expect(await read(-20)).toMatchObject({ ok: true });
  const right = await read(0, true);
  expect(right.ok && right.value.withdrawn.length).toBeGreaterThan(0);
  expect(isNetting()).toBe(true);
});

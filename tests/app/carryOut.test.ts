import { describe, expect, test } from "vitest";
import { z } from "zod";
import { type ActionDefinition, type Call, carryOut, foreignOrigin } from "@/app/_server/carryOut";
import { memoryDatabase } from "@/db/migrate";
import type { Db } from "@/db/open";
import { enqueueJob, jobsOfKind } from "@/db/queries/jobs";
import { readSetting, writeSetting } from "@/db/queries/settings";
import { ok, refused } from "@/lib/result";
import type { InstantMillis } from "@/lib/time";
import { visitorAs } from "../helpers/visitor";

const manager = visitorAs("manager");

const at = 1_000 as InstantMillis;

const call = (db: Db, over: Partial<Call> = {}): Call => ({
  db,
  visitor: manager,
  key: undefined,
  now: at,
  machineNow: at,
  ...over,
});

/** Writes a row, then refuses when told to: the row must not stay. */
const input = z.object({
  note: z.string().min(3, "The note needs 3 characters."),
  fail: z.boolean().optional(),
});
const writeNote: ActionDefinition<typeof input, string> = {
  name: "write-note",
  roles: ["manager", "administrator"],
  input,
  run: ({ note, fail }, { db, visitor, now }) => {
    const id = enqueueJob(db, { kind: "note", input: note, createdBy: visitor.userId, now });
    if (fail)
      return refused({ path: "note", rule: "no", message: "Refused after writing.", remedy: "None." });
    return ok(id);
  },
};

const notes = (db: Db) => jobsOfKind(db, "note").length;

describe("who may", () => {
  test("nobody without a session", async () => {
    const db = memoryDatabase();
    const { result } = await carryOut(writeNote, { note: "abc" }, call(db, { visitor: undefined }));
    expect(result).toMatchObject({ ok: false, problems: [{ rule: "signed-out" }] });
    expect(notes(db)).toBe(0);
  });

  test("no other role, and the answer names the roles that may", async () => {
    const db = memoryDatabase();
    const visitor = { ...manager, role: "crew lead" as const };
    const { result } = await carryOut(writeNote, { note: "abc" }, call(db, { visitor }));
    expect(result.ok ? "" : result.problems[0]?.message).toBe(
      "This is for rollout managers and administrators; you are signed in as crew lead.",
    );
    expect(notes(db)).toBe(0);
  });

  test("any role where none is named", async () => {
    const { result } = await carryOut({ ...writeNote, roles: [] }, { note: "abc" }, call(memoryDatabase()));
    expect(result.ok).toBe(true);
  });
});

describe("what is sent", () => {
  test("all problems come back at once, each with its path and value", async () => {
    const { result } = await carryOut(writeNote, { note: "a", fail: "yes" }, call(memoryDatabase()));
    expect(result.ok ? [] : result.problems.map(({ path, value }) => ({ path, value }))).toEqual([
      { path: "note", value: "a" },
      { path: "fail", value: "yes" },
    ]);
  });

  test("a password is never sent back", async () => {
    const typed = z.string().min(10);
    const secret = z.object({ password: typed, current: typed, next: typed, again: typed });
    const definition = { name: "x", roles: [], input: secret, run: () => ok(null) };
    const sent = { password: "short", current: "short", next: "short", again: "short" };
    const { result } = await carryOut(definition, sent, call(memoryDatabase()));
    expect(result.ok ? [] : result.problems).toHaveLength(4);
    expect(JSON.stringify(result)).not.toContain('"short"');
  });
});

describe("what is written", () => {
  test("a refusal undoes everything", async () => {
    const db = memoryDatabase();
    const { result } = await carryOut(writeNote, { note: "abc", fail: true }, call(db));
    expect(result).toMatchObject({ ok: false, problems: [{ message: "Refused after writing." }] });
    expect(notes(db)).toBe(0);
  });

  test("so does an exception, which goes on to the caller", async () => {
    const db = memoryDatabase();
    const broken: typeof writeNote = {
      ...writeNote,
      run: (value, context, prepared) => {
        writeNote.run(value, context, prepared);
        throw new Error("broken");
      },
    };
    await expect(carryOut(broken, { note: "abc" }, call(db))).rejects.toThrow("broken");
    expect(notes(db)).toBe(0);
  });

  test("a refused preparation writes nothing", async () => {
    const db = memoryDatabase();
    const definition: ActionDefinition<typeof input, string, number> = {
      ...writeNote,
      run: (value, context) => writeNote.run(value, context, undefined),
      prepare: async () =>
        refused({ path: "note", rule: "file", message: "Unreadable.", remedy: "Another." }),
    };
    expect((await carryOut(definition, { note: "abc" }, call(db))).result.ok).toBe(false);
    expect(notes(db)).toBe(0);
  });

  test("marks the demonstration as touched, but only when something changed", async () => {
    const db = memoryDatabase();
    await carryOut(writeNote, { note: "abc" }, call(db));
    expect(readSetting(db, "demoTouched")).toBeUndefined();
    writeSetting(db, "demoTouched", false);
    await carryOut(writeNote, { note: "abc", fail: true }, call(db));
    await carryOut({ ...writeNote, changesData: false }, { note: "abc" }, call(db));
    expect(readSetting(db, "demoTouched")).toBe(false);
    await carryOut(writeNote, { note: "abc" }, call(db));
    expect(readSetting(db, "demoTouched")).toBe(true);
  });
});

describe("sent twice with one key", () => {
  test("it is carried out once and answered twice alike", async () => {
    const db = memoryDatabase();
    const first = await carryOut(writeNote, { note: "abc" }, call(db, { key: "k1" }));
    const second = await carryOut(writeNote, { note: "abc" }, call(db, { key: "k1" }));
    expect(second).toEqual({ ...first, repeated: true });
    expect(notes(db)).toBe(1);
  });

  test("side by side too", async () => {
    const db = memoryDatabase();
    const slow: ActionDefinition<typeof input, string, null> = {
      ...writeNote,
      run: (value, context) => writeNote.run(value, context, undefined),
      prepare: async () => {
        await new Promise((resolve) => setTimeout(resolve, 5));
        return ok(null);
      },
    };
    const both = await Promise.all(
      [1, 2].map(() => carryOut(slow, { note: "abc" }, call(db, { key: "k1" }))),
    );
    expect(both[0]?.result).toEqual(both[1]?.result);
    expect(notes(db)).toBe(1);
  });

  test("a refused attempt leaves the key free for the corrected one", async () => {
    const db = memoryDatabase();
    await carryOut(writeNote, { note: "abc", fail: true }, call(db, { key: "k1" }));
    const { result } = await carryOut(writeNote, { note: "abc" }, call(db, { key: "k1" }));
    expect(result.ok).toBe(true);
  });

  test("another person's or another action's key is refused", async () => {
    const db = memoryDatabase();
    await carryOut(writeNote, { note: "abc" }, call(db, { key: "k1" }));
    const other = call(db, { key: "k1", visitor: { ...manager, userId: "user-2" } });
    const renamed = { ...writeNote, name: "write-other" };
    for (const outcome of [
      await carryOut(writeNote, { note: "abc" }, other),
      await carryOut(renamed, { note: "abc" }, call(db, { key: "k1" })),
    ])
      expect(outcome.result).toMatchObject({ ok: false, problems: [{ rule: "key-used-elsewhere" }] });
    expect(notes(db)).toBe(1);
  });
});

test.each([
  ["https://plan.example", { host: "plan.example" }, true],
  ["https://plan.example", { host: "inner:3000", "x-forwarded-host": "plan.example" }, true],
  ["https://elsewhere.example", { host: "plan.example" }, false],
  ["null", { host: "plan.example" }, false],
])("a change asked for by a page of %s at %o is let through: %s", (origin, headers, isFine) => {
  const request = new Request("http://plan.example/", {
    headers: { origin, ...headers } as Record<string, string>,
  });
  expect(foreignOrigin(request) === undefined).toBe(isFine);
});

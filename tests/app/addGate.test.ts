/** A gate that the design data do not have, added by hand: what is asked of it, who may, and what is logged. */
import { beforeEach, expect, test, vi } from "vitest";
import { addGate } from "@/app/(work)/hops/[code]/actions";
import { memoryDatabase } from "@/db/migrate";
import type { Db } from "@/db/open";
import { loadHop } from "@/db/queries/design";
import { loadLog } from "@/db/queries/log";
import { regionalHops } from "../helpers/regionalHops";
import { visitorAs } from "../helpers/visitor";

const here = vi.hoisted(() => ({ visitor: undefined as unknown, db: undefined as unknown }));
vi.mock("@/app/_server/session", () => ({ visitorOf: async () => here.visitor }));
vi.mock("@/db/open", async (original) => ({ ...(await original<object>()), database: () => here.db as Db }));
vi.mock("next/headers", () => ({
  headers: async () => new Headers(),
  cookies: async () => ({ get: () => undefined }),
}));
vi.mock("next/cache", () => ({ revalidatePath: () => undefined }));

let made: ReturnType<typeof regionalHops>;
let db: Db;
beforeEach(() => {
  db = memoryDatabase();
  made = regionalHops(db);
  here.db = db;
  here.visitor = visitorAs("manager");
});

const gates = (code: string) => loadHop(db, code)!.gates;
const gate = () => ({
  hopCode: made.own,
  side: "far" as const,
  kind: "supply" as const,
  owner: " grid company ",
  state: "open" as const,
  dueOn: "",
});
const rules = (r: Awaited<ReturnType<typeof addGate>>) =>
  r.ok ? [] : r.problems.map((p) => `${p.path}: ${p.rule}`);

test("a gate is added at its end with its owner, and the log says who added it", async () => {
  const before = gates(made.own).length;
  expect(await addGate(gate())).toMatchObject({ ok: true });
  expect(gates(made.own)).toHaveLength(before + 1);
  expect(gates(made.own)).toContainEqual({
    hopId: made.own,
    side: "far",
    kind: "supply",
    owner: "grid company",
    state: "open",
    dueOn: undefined,
  });
  expect(loadLog(db, 1, `hop ${made.own}`)[0]).toMatchObject({ action: "add gate" });
});

test("the same gate once more is refused and leaves the first as it is", async () => {
  await addGate(gate());
  const again = await addGate({ ...gate(), state: "met", owner: "somebody else" });
  expect(rules(again)).toEqual(["kind: gate-exists"]);
  expect(gates(made.own).filter((g) => g.kind === "supply")).toMatchObject([
    { owner: "grid company", state: "open" },
  ]);
  // At the other end it is another gate.
  expect(await addGate({ ...gate(), side: "near" })).toMatchObject({ ok: true });
});

test("what is missing is named by its field: a date, an owner, a hop", async () => {
  const before = gates(made.own).length;
  expect(rules(await addGate({ ...gate(), state: "dated" }))).toEqual(["dueOn: gate-needs-date"]);
  expect(rules(await addGate({ ...gate(), state: "dated", dueOn: "2026-02-30" }))).toEqual([
    "dueOn: gate-needs-date",
  ]);
  expect(rules(await addGate({ ...gate(), owner: "  " }))[0]).toMatch(/^owner: /);
  expect(rules(await addGate({ ...gate(), hopCode: "NONE" }))[0]).toMatch(/^hopCode: /);
  expect(gates(made.own)).toHaveLength(before);
});

test("a manager of a region adds none outside of it", async () => {
  here.visitor = visitorAs("manager", { regions: [made.region] });
  expect(await addGate(gate())).toMatchObject({ ok: true });
  const before = gates(made.other).length;
  expect(rules(await addGate({ ...gate(), hopCode: made.other }))[0]).toMatch(/: region$/);
  expect(gates(made.other)).toHaveLength(before);
});

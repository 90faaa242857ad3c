/**
 * Who may call what. Every route handler and every server action is found by its file; one that the table does not
 * name fails the first test, one that lets in somebody whom the table does not name fails the second.
 */
import { readdirSync, readFileSync } from "node:fs";
import path from "node:path";
import { beforeAll, describe, expect, test, vi } from "vitest";
import { memoryDatabase } from "@/db/migrate";
import type { Db } from "@/db/open";
import { ROLES } from "@/db/schema/auth";
import type { Problem } from "@/lib/result";
import { regionalHops } from "../helpers/regionalHops";
import { visitorAs } from "../helpers/visitor";
import { MAY, REACH } from "./whoMayTable";

const here = vi.hoisted(() => ({ visitor: undefined as unknown, db: undefined as unknown }));

vi.mock("@/app/_server/session", () => ({
  visitorOf: async () => here.visitor,
  safeNext: () => undefined,
}));
vi.mock("@/db/open", async (original) => ({ ...(await original<object>()), database: () => here.db as Db }));
vi.mock("next/headers", () => ({
  headers: async () => new Headers(),
  cookies: async () => ({ get: () => undefined }),
}));
vi.mock("next/cache", () => ({ revalidatePath: () => undefined }));

const APP = path.resolve(import.meta.dirname, "../../app");
function filesOf(test: (file: string, text: string) => boolean): string[] {
  return readdirSync(APP, { recursive: true, encoding: "utf8" })
    .map((file) => file.replaceAll(path.sep, "/"))
    .filter((file) => /\.tsx?$/.test(file) && test(file, readFileSync(path.join(APP, file), "utf8")))
    .sort();
}

const ROUTES = filesOf((file) => file.endsWith("/route.ts"));
const ACTIONS = filesOf((_file, text) => /^\s*["']use server["'];?$/m.test(text));
/** Exports of a route file that answer nothing. */
const SETTINGS = ["dynamic", "runtime", "maxDuration", "revalidate"];

type Callable = (...given: unknown[]) => Promise<unknown>;
const modules = new Map<string, Record<string, Callable>>();
for (const file of [...ROUTES, ...ACTIONS]) modules.set(file, await import(path.join(APP, file)));

const exportsOf = (file: string) =>
  Object.keys(modules.get(file) ?? {})
    .filter((name) => !SETTINGS.includes(name))
    .sort();

/** Calls it, with nothing in it unless said otherwise, and gives the rule by which it was refused. */
async function refusalBy(file: string, name: string, input: object = {}): Promise<string | undefined> {
  const call = modules.get(file)?.[name] as Callable;
  const isRoute = ROUTES.includes(file);
  const search = new URLSearchParams(Object.entries(input).map(([key, value]) => [key, String(value)]));
  const request = new Request(`http://plan.example/x?${search}`, {
    method: name === "GET" || !isRoute ? "GET" : "POST",
    headers: { host: "plan.example" },
    body: name === "GET" || !isRoute ? undefined : JSON.stringify(input),
  });
  const answer = isRoute
    ? await call(request, {
        params: Promise.resolve({ id: "none", kind: "none", code: "none", key: "0".repeat(32) }),
      })
    : await call(input);
  if (answer instanceof Response) {
    const isJson = answer.headers.get("content-type")?.includes("json");
    const body = isJson ? ((await answer.json()) as { problems?: Problem[] }) : undefined;
    await answer.body?.cancel().catch(() => undefined);
    const rule = body?.problems?.[0]?.rule;
    expect(answer.status, `${file} ${name} ${rule}`).toBe(
      rule === "signed-out" ? 401 : rule === "role" || rule === "region" ? 403 : answer.status,
    );
    return rule;
  }
  const result = answer as { ok: boolean; problems?: Problem[] };
  return result.ok ? undefined : result.problems?.[0]?.rule;
}

// One database for all: what is refused writes nothing, and nothing here depends on what the others write.
beforeAll(() => {
  here.db = memoryDatabase();
});

describe("the table of who may", () => {
  test("names every route handler and every server action, and nothing else", () => {
    const found = Object.fromEntries([...ROUTES, ...ACTIONS].map((file) => [file, exportsOf(file)]));
    const named = Object.fromEntries(
      Object.entries(MAY).map(([file, names]) => [file, Object.keys(names).sort()]),
    );
    expect(named).toEqual(found);
  });

  test("finds what there is to find", () => {
    expect(ROUTES.length).toBeGreaterThan(10);
    expect(ACTIONS.length).toBeGreaterThan(8);
  });
});

const guarded = Object.entries(MAY).flatMap(([file, names]) =>
  Object.entries(names).flatMap(([name, roles]) => (roles === "public" ? [] : [{ file, name, roles }])),
);

describe.each(guarded)("$file $name", ({ file, name, roles }) => {
  test("refuses whoever is not signed in", async () => {
    here.visitor = undefined;
    expect(await refusalBy(file, name)).toBe("signed-out");
  });

  test.each(ROLES)("%s", async (role) => {
    here.visitor = visitorAs(role);
    const rule = await refusalBy(file, name);
    if (roles.includes(role)) expect(["signed-out", "role"]).not.toContain(rule);
    else expect(rule).toBe("role");
  });
});

describe("accounts that are limited to regions", () => {
  /** Roles that may be limited and may call this at all. */
  const limited = guarded.flatMap(({ file, name, roles }) =>
    (["manager", "logistics"] as const)
      .filter((role) => roles.includes(role))
      .map((role) => ({ file, name, role, reach: REACH[file]?.[name] })),
  );
  let own: string;
  let other: string;

  let limitedTo: string[];

  beforeAll(() => {
    const made = regionalHops(here.db as Db);
    ({ own, other } = made);
    limitedTo = [made.region];
  });

  test("there is a hop in the regions and one outside", () => {
    expect(own).not.toBe("");
    expect(other).not.toBe("");
  });

  test("the table of reaches names nothing that is not there", () => {
    for (const [file, names] of Object.entries(REACH))
      for (const name of Object.keys(names)) expect(Object.keys(MAY[file] ?? {}), file).toContain(name);
  });

  test.each(limited)("$file $name, $role", async ({ file, name, role, reach }) => {
    here.visitor = visitorAs(role, { regions: limitedTo });
    if (reach === undefined) expect(await refusalBy(file, name)).toBe("region");
    else if (reach === "any") expect(await refusalBy(file, name)).not.toBe("region");
    else {
      expect(await refusalBy(file, name, reach(other))).toBe("region");
      expect(await refusalBy(file, name, reach(own))).not.toBe("region");
    }
  });
});

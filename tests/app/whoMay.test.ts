/**
 * Who may call what. Every route handler and every server action is found by its file; one that the table does not
 * name fails the first test, one that lets in somebody whom the table does not name fails the second.
 */
import { readdirSync, readFileSync } from "node:fs";
import path from "node:path";
import { beforeEach, describe, expect, test, vi } from "vitest";
import { memoryDatabase } from "@/db/migrate";
import type { Db } from "@/db/open";
import { ROLES, type Role } from "@/db/schema/auth";
import type { Problem } from "@/lib/result";
import { visitorAs } from "../helpers/visitor";

const here = vi.hoisted(() => ({ visitor: undefined as unknown, db: undefined as unknown }));

vi.mock("@/app/_server/session", () => ({
  visitorOf: async () => here.visitor,
  safeNext: () => undefined,
}));
vi.mock("@/db/open", async (original) => ({ ...(await original<object>()), database: () => here.db as Db }));
vi.mock("next/headers", () => ({ headers: async () => new Headers() }));
vi.mock("next/cache", () => ({ revalidatePath: () => undefined }));

const APP = path.resolve(import.meta.dirname, "../../app");
const EVERYBODY = [...ROLES];
const ADMINISTRATORS: Role[] = ["administrator"];
const PLANNERS: Role[] = ["administrator", "manager"];
const OFFICE: Role[] = ["administrator", "manager", "logistics"];
const CREWS: Role[] = ["administrator", "manager", "crew lead"];
const STORE: Role[] = ["administrator", "logistics"];

/** Roles by file and export. `"public"`: for people who are not signed in, with checks of its own. */
const MAY: Readonly<Record<string, Readonly<Record<string, readonly Role[] | "public">>>> = {
  "(work)/account/actions.ts": {
    beginSecondFactor: EVERYBODY,
    changeOwnPassword: EVERYBODY,
    confirmSecondFactor: EVERYBODY,
    endOtherSessions: EVERYBODY,
    endOwnSession: EVERYBODY,
    renewBackupCodes: EVERYBODY,
    turnOffSecondFactor: EVERYBODY,
  },
  "(work)/export/[kind]/route.ts": { GET: OFFICE },
  "(work)/export/programme.xlsx/route.ts": { GET: OFFICE },
  "(work)/export/template/[kind]/route.ts": { GET: OFFICE },
  "(work)/export/template/programme.xlsx/route.ts": { GET: OFFICE },
  "(work)/hops/[code]/actions.ts": {
    changeGate: PLANNERS,
    recordReadings: PLANNERS,
    withdrawRevisit: PLANNERS,
  },
  "(work)/import/[id]/refused/route.ts": { GET: OFFICE },
  "(work)/import/[id]/rows/route.ts": { GET: OFFICE },
  "(work)/import/actions.ts": {
    answerTable: OFFICE,
    applyImport: OFFICE,
    discard: OFFICE,
    leaveOutFile: OFFICE,
    openImport: OFFICE,
    previewImport: OFFICE,
    startCatalogue: OFFICE,
  },
  "(work)/jobs/actions.ts": { checkWorker: ADMINISTRATORS },
  "(work)/kits/actions.ts": { giveBack: OFFICE, issue: OFFICE, pick: OFFICE, undoIssue: OFFICE },
  "(work)/plan/actions.ts": {
    acceptVisitMove: PLANNERS,
    discardDraft: PLANNERS,
    pinVisit: PLANNERS,
    putPlanInForce: PLANNERS,
    solve: PLANNERS,
    takeBack: PLANNERS,
  },
  "(work)/plan/effect/route.ts": { GET: PLANNERS },
  "(work)/plan/export/route.ts": { GET: OFFICE },
  "(work)/plan/visit/route.ts": { GET: EVERYBODY },
  "(work)/plan/why/route.ts": { GET: PLANNERS },
  "(work)/programme/finish/actions.ts": { assess: OFFICE },
  "(work)/programme/hours/actions.ts": { rejectProposals: PLANNERS },
  "(work)/rules/actions.ts": {
    changeRole: ADMINISTRATORS,
    closeAccount: ADMINISTRATORS,
    createAccount: ADMINISTRATORS,
    endSessionsOf: ADMINISTRATORS,
    liftRest: ADMINISTRATORS,
    removeCertificate: PLANNERS,
    removeLeave: PLANNERS,
    resetPassword: ADMINISTRATORS,
    resetSecondFactor: ADMINISTRATORS,
    saveRules: OFFICE,
    setCertificate: PLANNERS,
    setLeave: PLANNERS,
    showEffect: OFFICE,
  },
  "(work)/rules/log/route.ts": { GET: EVERYBODY },
  "(work)/stock/actions.ts": {
    approve: PLANNERS,
    change: OFFICE,
    close: OFFICE,
    cutRun: STORE,
    net: OFFICE,
    postpone: OFFICE,
    propose: OFFICE,
    receive: STORE,
    record: STORE,
    send: OFFICE,
    takeRowBack: STORE,
  },
  "(work)/stock/counts/actions.ts": {
    approve: PLANNERS,
    cancel: OFFICE,
    count: STORE,
    found: STORE,
    handIn: STORE,
    recount: OFFICE,
    start: STORE,
  },
  "(work)/stock/items/[code]/orderingActions.ts": { setOrdering: STORE },
  "(work)/stock/orders/[code]/csv/route.ts": { GET: OFFICE },
  "(work)/stock/slip/route.ts": { GET: OFFICE },
  "(work)/stock/transferActions.ts": { cancel: STORE, move: STORE, plan: STORE },
  "(work)/week/actions.ts": { makeCalendar: CREWS, revokeCalendar: CREWS },
  "api/health/route.ts": { GET: "public" },
  "api/imports/[id]/files/route.ts": { POST: OFFICE },
  "api/jobs/[id]/cancel/route.ts": { POST: EVERYBODY },
  "api/jobs/[id]/restart/route.ts": { POST: EVERYBODY },
  "api/jobs/[id]/route.ts": { GET: EVERYBODY },
  "api/jobs/[id]/stream/route.ts": { GET: EVERYBODY },
  "calendar/[file]/route.ts": { GET: "public" },
  "invitation/[secret]/actions.ts": { acceptInvitation: "public" },
  "setup/actions.ts": { setUpAdministrator: "public" },
  "sign-in/actions.ts": { enterCode: "public", signIn: "public", signOut: "public" },
  "sw.js/route.ts": { GET: "public" },
  "api/reports/route.ts": { POST: CREWS },
};

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

/** Calls it with nothing in it and gives the rule by which it was refused. */
async function refusalBy(file: string, name: string): Promise<string | undefined> {
  const call = modules.get(file)?.[name] as Callable;
  const isRoute = ROUTES.includes(file);
  const request = new Request("http://plan.example/x", {
    method: name === "GET" || !isRoute ? "GET" : "POST",
    headers: { host: "plan.example" },
  });
  const answer = isRoute
    ? await call(request, { params: Promise.resolve({ id: "none", kind: "none", code: "none" }) })
    : await call({});
  if (answer instanceof Response) {
    const isJson = answer.headers.get("content-type")?.includes("json");
    const body = isJson ? ((await answer.json()) as { problems?: Problem[] }) : undefined;
    await answer.body?.cancel().catch(() => undefined);
    const rule = body?.problems?.[0]?.rule;
    expect(answer.status, `${file} ${name} ${rule}`).toBe(
      rule === "signed-out" ? 401 : rule === "role" ? 403 : answer.status,
    );
    return rule;
  }
  const result = answer as { ok: boolean; problems?: Problem[] };
  return result.ok ? undefined : result.problems?.[0]?.rule;
}

beforeEach(() => {
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

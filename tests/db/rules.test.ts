import { beforeEach, describe, expect, test } from "vitest";
import { type ActionDefinition, carryOut, type Visitor } from "@/app/_server/carryOut";
import {
  removeCertificateAction,
  removeLeaveAction,
  setCertificateAction,
  setLeaveAction,
} from "@/app/_server/crewEdits";
import { changeKey, EFFECT_FIRST, POLICY_KINDS, type WantedChange } from "@/app/_server/ruleChange";
import { saveRulesAction, showEffectAction } from "@/app/_server/ruleEdits";
import { changeFigures } from "@/app/_server/ruleFigures/changeFigures";
import { deliveredBody, figuresOf, isFigureKind } from "@/app/_server/ruleFigures/figuresOf";
import { driverWords } from "@/app/_server/ruleFigures/hourFigures";
import { ruleEffectJob } from "@/app/_server/ruleJobs";
import { memoryDatabase } from "@/db/migrate";
import type { Db } from "@/db/open";
import { currentPolicy, policyHistory } from "@/db/queries/catalogue";
import { loadCrews } from "@/db/queries/crews";
import { activeJobOfKind, claimNextJob, endJob, enqueueJob, jobById } from "@/db/queries/jobs";
import { addLogEntry, type LogAction } from "@/db/queries/log";
import { rulesInForce } from "@/db/queries/programme";
import { loadCertificates, searchLog } from "@/db/queries/rules";
import { crew, crewMember, leave, memberSkill, place, type Role } from "@/db/schema";
import { DEFAULT_NORMS } from "@/lib/hours";
import { DEFAULT_RULES } from "@/lib/takeoff";
import { calendarDate, type InstantMillis } from "@/lib/time";
import { DEFAULT_WEATHER_POLICY } from "@/lib/weather";
import { visitorAs } from "../helpers/visitor";

const at = 1_000 as InstantMillis;
const date = calendarDate;
let db: Db;

const visitor = (role: Role) => visitorAs(role, { name: `A ${role}`, crewId: null });

// biome-ignore lint/suspicious/noExplicitAny: any action, whatever its input
async function act<T>(definition: ActionDefinition<any, T, any>, input: unknown, as: Visitor) {
  const call = { db, visitor: as, key: undefined, now: at, machineNow: at };
  return (await carryOut(definition, input, call)).result as
    | { ok: true; value: T }
    | {
        ok: false;
        problems: { path: string; rule: string; value?: unknown; message: string; remedy: string }[];
      };
}

const rulesOf = (result: Awaited<ReturnType<typeof act>>) =>
  result.ok ? [] : result.problems.map((p) => p.rule);

const administrator = visitor("administrator");
const manager = visitor("manager");
const logistics = visitor("logistics");
const lead = visitor("crew lead");

const limit = (path: string, value: number | boolean | null, basedOn = 0) => ({
  kind: "weather limits",
  basedOn,
  change: { figures: [{ path, value }] },
  reason: "after the review of March",
});

beforeEach(() => {
  db = memoryDatabase();
});

describe("who may change which rules", () => {
  const change: Record<string, unknown> = {
    "takeoff rules": { rows: [{ ...DEFAULT_RULES[0], factor: 2 }] },
    "takeoff policy": { figures: [{ path: "surplusM", value: 4 }] },
    "weather limits": { figures: [{ path: "limits.climb.windMaxMs", value: 9 }] },
    "hour norms": { figures: [{ path: "climb.restMinPerM", value: 0.2 }] },
    "hour calibration": { accept: [{ id: "crew: C1", proposed: 1.1 }] },
    "plan weights": { figures: [{ path: "crewDay", value: 700 }] },
    cutting: { figures: [{ path: "sawAllowanceCm", value: 30 }] },
    stock: { figures: [{ path: "transferHandlingDays", value: 2 }] },
    "acceptance limits": { figures: [{ path: "levelToleranceDb", value: 2 }] },
  };
  const refusedRoles: Record<string, Visitor[]> = {
    "takeoff rules": [manager, lead],
    "takeoff policy": [manager, lead],
    "weather limits": [logistics, lead],
    "hour norms": [logistics, lead],
    "hour calibration": [logistics, lead],
    "plan weights": [logistics, lead],
    cutting: [manager, lead],
    stock: [manager, lead],
    "acceptance limits": [logistics, lead],
  };

  test.each(POLICY_KINDS)("%s: the other roles are refused and nothing is saved", async (kind) => {
    for (const who of refusedRoles[kind]!) {
      const input = { kind, basedOn: 0, change: change[kind], reason: "because of it" };
      expect(rulesOf(await act(saveRulesAction, input, who))).toEqual(["role"]);
    }
    expect(currentPolicy(db, kind)).toBeUndefined();
    expect(searchLog(db, { limit: 10 }).count).toBe(0);
  });

  test.each(POLICY_KINDS.filter((k) => !EFFECT_FIRST.includes(k)))(
    "%s: saved by an administrator",
    async (kind) => {
      const input = { kind, basedOn: 0, change: change[kind], reason: "because of it" };
      const saved = await act(saveRulesAction, input, administrator);
      expect(saved).toMatchObject({ ok: true, value: { version: 1 } });
      expect(currentPolicy(db, kind)).toMatchObject({
        version: 1,
        changedBy: "A administrator",
        reason: "because of it",
      });
      expect(searchLog(db, { words: kind, limit: 10 }).rows).toMatchObject([
        { action: `change ${kind}`, detail: { version: 1, basedOn: 0, reason: "because of it" } },
      ]);
    },
  );

  test("only administrators and logistics ask for an effect", async () => {
    const input = { kind: "takeoff policy", basedOn: 0, change: change["takeoff policy"] };
    for (const who of [manager, lead])
      expect(rulesOf(await act(showEffectAction, input, who))).toEqual(["role"]);
  });
});

describe("weather limits", () => {
  test("a manager makes them stricter", async () => {
    expect((await act(saveRulesAction, limit("limits.climb.gustMaxMs", 11), manager)).ok).toBe(true);
    expect(rulesInForce(db).weatherPolicy.limits.climb.gustMaxMs).toBe(11);
    expect(rulesInForce(db).versions["weather limits"]).toBe(1);
  });

  test("a manager may not make them looser, nor take one away, nor change what cannot be told", async () => {
    const figures: [string, number | boolean | null, string][] = [
      ["limits.climb.gustMaxMs", 14, "Climb: Gust at the mount, at most"],
      ["limits.climb.gustMaxMs", null, "Climb: Gust at the mount, at most"],
      ["limits.aloft.stopsForThunder", false, "Work aloft: Stops for thunder"],
      ["thunderWaitH", 0.25, "For every work class: Wait after the last thunder"],
      ["powerExponent", 0.1, "For every work class: Exponent of the power law"],
    ];
    for (const [path, value, field] of figures) {
      const result = await act(saveRulesAction, limit(path, value), manager);
      expect(rulesOf(result), path).toEqual(["looser-by-administrator-only"]);
      if (result.ok) continue;
      expect(result.problems[0]).toMatchObject({
        path: field,
        value: value === null ? "no limit" : String(value),
      });
      expect(result.problems[0]?.remedy).toContain("administrator");
    }
    expect(currentPolicy(db, "weather limits")).toBeUndefined();
  });

  test("a manager may not bring back a looser version", async () => {
    await act(saveRulesAction, limit("limits.climb.gustMaxMs", 11), manager);
    const back = { kind: "weather limits", basedOn: 1, change: { restore: 0 }, reason: "as it was before" };
    expect(rulesOf(await act(saveRulesAction, back, manager))).toEqual(["looser-by-administrator-only"]);
    expect((await act(saveRulesAction, back, administrator)).ok).toBe(true);
    expect(currentPolicy(db, "weather limits")?.body).toEqual(DEFAULT_WEATHER_POLICY);
  });

  test("an administrator makes them looser with a reason in a sentence, and the log keeps both", async () => {
    const change = limit("limits.climb.gustMaxMs", 13.5);
    expect(rulesOf(await act(saveRulesAction, { ...change, reason: "wind" }, administrator))).toEqual([
      "looser-needs-reason",
    ]);
    const why = "Rescue plan of the tower reviewed with the site owner";
    expect((await act(saveRulesAction, { ...change, reason: why }, administrator)).ok).toBe(true);
    expect(searchLog(db, { words: "gustMaxMs Rescue", limit: 5 }).rows[0]?.detail).toMatchObject({
      reason: why,
      changes: [{ workClass: "climb", field: "gustMaxMs", before: 13, after: 13.5, isLooser: true }],
    });
  });
});

describe("versions", () => {
  test("a change on an older version is refused and names who was quicker", async () => {
    await act(saveRulesAction, limit("limits.climb.gustMaxMs", 12), manager);
    const late = await act(saveRulesAction, limit("limits.climb.gustMaxMs", 11), administrator);
    expect(rulesOf(late)).toEqual(["version-conflict"]);
    if (!late.ok)
      expect(late.problems[0]?.message).toContain("version 1 is in force meanwhile, by A manager");
    expect(rulesInForce(db).weatherPolicy.limits.climb.gustMaxMs).toBe(12);
  });

  test("bringing one back makes a new version; those before stay", async () => {
    await act(saveRulesAction, limit("limits.climb.gustMaxMs", 12), manager);
    await act(saveRulesAction, limit("limits.climb.gustMaxMs", 11, 1), manager);
    const back = {
      kind: "weather limits",
      basedOn: 2,
      change: { restore: 1 },
      reason: "review withdrawn by owner",
    };
    expect(await act(saveRulesAction, back, administrator)).toMatchObject({
      ok: true,
      value: { version: 3 },
    });
    expect(policyHistory(db, "weather limits").map((v) => v.version)).toEqual([3, 2, 1]);
    expect(rulesInForce(db).weatherPolicy.limits.climb.gustMaxMs).toBe(12);
    const none = { ...back, basedOn: 3, change: { restore: 9 } };
    expect(rulesOf(await act(saveRulesAction, none, administrator))).toEqual(["version-unknown"]);
  });

  test("a change that changes nothing is no version", async () => {
    const same = limit("limits.climb.gustMaxMs", 13);
    expect(rulesOf(await act(saveRulesAction, same, manager))).toEqual(["nothing-changed"]);
  });

  test("new norms put take-off and hours up for an estimate, once", async () => {
    const norms = (value: number, basedOn: number) => ({
      kind: "hour norms",
      basedOn,
      change: { figures: [{ path: "climb.restMinPerM", value }] },
      reason: "measured in February",
    });
    const first = await act(saveRulesAction, norms(0.2, 0), manager);
    const job = activeJobOfKind(db, "estimate");
    expect(first).toMatchObject({ ok: true, value: { version: 1, jobId: job?.id } });
    expect(await act(saveRulesAction, norms(0.3, 1), manager)).toMatchObject({
      ok: true,
      value: { jobId: job?.id },
    });
    expect(rulesInForce(db).norms.climb.restMinPerM).toBe(0.3);
  });
});

describe("the effect comes before the save", () => {
  const wanted: WantedChange = {
    kind: "takeoff policy",
    basedOn: 0,
    change: { figures: [{ path: "surplusM", value: 4 }] },
  };
  const save = (effectJobId?: string, over: Partial<WantedChange> = {}) =>
    act(saveRulesAction, { ...wanted, ...over, reason: "measured in February", effectJobId }, logistics);

  async function shown(): Promise<string> {
    const started = await act(showEffectAction, wanted, logistics);
    if (!started.ok) throw new Error(started.problems[0]?.message);
    const job = claimNextJob(db, 1, at)!;
    const outcome = ruleEffectJob(job.input as never, { db, report: () => {}, shouldStop: () => false });
    expect(outcome).toMatchObject({ hopCount: 0, lines: [], newFails: [] });
    endJob(db, job.id, { state: "done", result: outcome, now: at });
    expect(jobById(db, started.value)?.state).toBe("done");
    return started.value;
  }

  test("without a shown effect, with one that still runs or with another's, nothing is saved", async () => {
    expect(rulesOf(await save())).toEqual(["effect-not-shown"]);
    const id = await shown();
    const other = { change: { figures: [{ path: "surplusM", value: 3 }] } };
    expect(rulesOf(await save(id, other))).toEqual(["effect-not-shown"]);
    const waiting = await act(showEffectAction, { ...wanted, ...other }, logistics);
    expect(rulesOf(await save(waiting.ok ? waiting.value : "", other))).toEqual(["effect-not-shown"]);
    const alien = enqueueJob(db, { kind: "estimate", input: {}, createdBy: null, now: at });
    expect(rulesOf(await save(alien))).toEqual(["effect-not-shown"]);
    expect(currentPolicy(db, "takeoff policy")).toBeUndefined();
  });

  test("the effect of this very change lets it through", async () => {
    expect(await save(await shown())).toMatchObject({ ok: true, value: { version: 1 } });
    expect(rulesInForce(db).takeoffPolicy).toMatchObject({ version: 1, surplusM: 4 });
    expect(activeJobOfKind(db, "estimate")).toBeDefined();
  });

  test("an effect asked for on an older version says so", async () => {
    const id = await shown();
    expect((await save(id)).ok).toBe(true);
    expect(rulesOf(await act(showEffectAction, wanted, logistics))).toEqual(["version-conflict"]);
    expect(ruleEffectJob(wanted, { db, report: () => {}, shouldStop: () => false })).toMatchObject({
      problems: [{ rule: "version-conflict" }],
    });
  });

  test("keys in another order are the same change", () => {
    const rule = DEFAULT_RULES[0]!;
    const turned = Object.fromEntries(Object.entries(rule).reverse());
    const key = (row: unknown) => changeKey({ kind: "takeoff rules", basedOn: 0, change: { rows: [row] } });
    expect(key(turned)).toBe(key(rule));
    expect(key({ ...rule, factor: 9 })).not.toBe(key(rule));
  });
});

describe("what a figure may be", () => {
  test("every figure that is delivered may be saved as it is", () => {
    for (const kind of POLICY_KINDS.filter(isFigureKind)) {
      const figures = figuresOf(kind, deliveredBody(kind)).flatMap((g) => g.figures);
      expect(new Set(figures.map((f) => f.path)).size, kind).toBe(figures.length);
      expect(
        figures.every((f) => f.source.length > 0),
        kind,
      ).toBe(true);
      const again = changeFigures(kind, deliveredBody(kind), figures);
      expect(again.ok ? [] : again.problems, kind).toEqual([]);
      if (again.ok) expect(again.value, kind).toEqual(deliveredBody(kind));
    }
  });

  test("a refusal names the field, the value and what to do", async () => {
    const low = await act(saveRulesAction, limit("limits.climb.windMaxMs", -1), administrator);
    expect(low).toMatchObject({
      ok: false,
      problems: [
        {
          path: "Climb: Mean wind at the mount, at most",
          value: -1,
          message: "-1 m/s is below 0 m/s.",
          remedy: "Enter 0 m/s or more.",
        },
      ],
    });
    const unknown = await act(saveRulesAction, limit("limits.climb.source", 1), administrator);
    expect(rulesOf(unknown)).toEqual(["figure-unknown"]);
    expect(rulesOf(await act(saveRulesAction, limit("limits.__proto__.x", 1), administrator))).toEqual([
      "figure-unknown",
    ]);
    const share = changeFigures("takeoff policy", deliveredBody("takeoff policy"), [
      { path: "connectorLoss", value: 5 },
    ]);
    expect(share.ok ? [] : share.problems.map((p) => p.path)).toEqual(["Connectors spoilt in termination"]);
  });

  test("optimistic, likely and pessimistic rise", () => {
    const result = changeFigures("hour norms", DEFAULT_NORMS, [
      { path: "templates.0.fixed.aMin", value: 500 },
    ]);
    expect(result.ok ? [] : result.problems).toMatchObject([
      {
        rule: "figure-order",
        value: "500 / 25 / 60 min",
        path: "Travel in from the gate, sign in and induction: Fixed",
      },
    ]);
  });

  test("a row of the take-off table is read by its schema", async () => {
    const row = { ...DEFAULT_RULES[0], factor: -1, driver: "moon phases" };
    const input = { kind: "takeoff rules", basedOn: 0, change: { rows: [row] } };
    const result = await act(showEffectAction, input, logistics);
    expect(result.ok ? [] : result.problems.map((p) => p.path).sort()).toEqual(["driver", "factor"]);
  });

  test("drivers are said in words", () => {
    expect(
      ["connectorCount", "oduCount", "antennaAreaM2", "cableM", "antennaMassKg", "otherWraps"].map(
        driverWords,
      ),
    ).toEqual(["connector", "ODU", "m2 of antenna area", "m of cable", "kg of antenna mass", "other wrap"]);
  });
});

describe("crews", () => {
  beforeEach(() => {
    db.insert(place).values({ code: "D1", name: "Depot", kind: "warehouse" }).run();
    db.insert(crew)
      .values({
        code: "C1",
        name: "North",
        depotPlace: "D1",
        zone: "UTC",
        weekdays: "12345",
        shiftFromMin: 420,
        shiftToMin: 960,
        overtimeMaxMin: 60,
        weeklyMaxMin: 2400,
        restMin: 660,
        nightsAwayMax: 2,
        payloadKg: 500,
        pace: 1,
      })
      .run();
    db.insert(crewMember).values({ code: "M1", crewCode: "C1", name: "Ines", isLead: true }).run();
    for (const [skill, validUntil] of [
      ["climber", date("2026-03-15")],
      ["rescue", date("2026-04-15")],
      ["technician", null],
      ["ground", date("2027-01-01")],
    ] as const)
      db.insert(memberSkill).values({ memberCode: "M1", skill, validUntil }).run();
  });

  test("certificates come soonest first, marked when expired or within 30 days", () => {
    expect(loadCertificates(db, date("2026-03-16")).map((c) => [c.skill, c.state])).toEqual([
      ["climber", "expired"],
      ["rescue", "expiring"],
      ["ground", "valid"],
      ["technician", "no expiry"],
    ]);
    expect(loadCertificates(db, date("2026-03-15"))[0]?.state).toBe("expiring");
  });

  test("planners extend and remove certificates; others are refused", async () => {
    const input = { memberCode: "M1", skill: "climber", validUntil: "2028-01-31" };
    const gone = { memberCode: "M1", skill: "ground", reason: "moved to office" };
    for (const who of [logistics, lead]) {
      expect(rulesOf(await act(setCertificateAction, input, who))).toEqual(["role"]);
      expect(rulesOf(await act(removeCertificateAction, gone, who))).toEqual(["role"]);
    }
    expect((await act(setCertificateAction, input, manager)).ok).toBe(true);
    expect((await act(removeCertificateAction, gone, manager)).ok).toBe(true);
    expect(rulesOf(await act(removeCertificateAction, gone, manager))).toEqual(["certificate-unknown"]);
    expect(rulesOf(await act(setCertificateAction, { ...input, memberCode: "M9" }, manager))).toEqual([
      "member-unknown",
    ]);
    expect(rulesOf(await act(setCertificateAction, { ...input, validUntil: "2028-02-31" }, manager))).toEqual(
      ["input-custom"],
    );
    const skills = loadCrews(db)[0]?.members[0]?.skills;
    expect(skills?.find((s) => s.skill === "climber")?.validUntil).toBe("2028-01-31");
    expect(skills?.some((s) => s.skill === "ground")).toBe(false);
    expect(searchLog(db, { words: "certificate Ines", limit: 5 }).count).toBe(2);
  });

  test("leave is added, changed and removed by planners, never twice for one day", async () => {
    const away = { memberCode: "M1", fromOn: "2026-04-01", toOn: "2026-04-10", reason: "holiday" };
    for (const who of [logistics, lead]) {
      expect(rulesOf(await act(setLeaveAction, away, who))).toEqual(["role"]);
      expect(rulesOf(await act(removeLeaveAction, { memberCode: "M1", fromOn: "2026-04-01" }, who))).toEqual([
        "role",
      ]);
    }
    expect((await act(setLeaveAction, away, manager)).ok).toBe(true);
    expect(
      rulesOf(await act(setLeaveAction, { ...away, fromOn: "2026-04-10", toOn: "2026-04-12" }, manager)),
    ).toEqual(["leave-overlap"]);
    expect(
      rulesOf(await act(setLeaveAction, { ...away, fromOn: "2026-05-02", toOn: "2026-05-01" }, manager)),
    ).toEqual(["leave-order"]);
    const longer = { ...away, toOn: "2026-04-12", replaces: "2026-04-01" };
    expect((await act(setLeaveAction, longer, manager)).ok).toBe(true);
    expect(db.select().from(leave).all()).toMatchObject([{ fromOn: "2026-04-01", toOn: "2026-04-12" }]);
    expect((await act(removeLeaveAction, { memberCode: "M1", fromOn: "2026-04-01" }, manager)).ok).toBe(true);
    expect(
      rulesOf(await act(removeLeaveAction, { memberCode: "M1", fromOn: "2026-04-01" }, manager)),
    ).toEqual(["leave-unknown"]);
    expect(db.select().from(leave).all()).toEqual([]);
  });

  test("leave of a whole crew is everybody's, around what somebody has already; refused as one and not in part", async () => {
    const crewOf = (code: string) => loadCrews(db).find((c) => c.code === code)!;
    db.insert(crewMember).values({ code: "M2", crewCode: "C1", name: "Per", isLead: false }).run();
    const code = "C1";
    const holiday = { fromOn: "2026-04-08", toOn: "2026-04-10", reason: "holiday" };
    expect((await act(setLeaveAction, { memberCode: "M1", ...holiday }, manager)).ok).toBe(true);
    const out = { crewCode: code, fromOn: "2026-04-06", toOn: "2026-04-30", reason: "other work" };
    for (const who of [logistics, lead])
      expect(rulesOf(await act(setLeaveAction, out, who))).toEqual(["role"]);
    expect(rulesOf(await act(setLeaveAction, { ...out, crewCode: "no such" }, manager))).toEqual([
      "member-unknown",
    ]);
    expect(rulesOf(await act(setLeaveAction, { ...out, crewCode: undefined }, manager))).toEqual([
      "input-custom",
    ]);
    expect((await act(setLeaveAction, out, manager)).ok).toBe(true);
    expect(crewOf(code).members.find((m) => m.code === "M1")!.leave).toEqual([
      { fromOn: "2026-04-06", toOn: "2026-04-07", reason: "other work" },
      { fromOn: "2026-04-08", toOn: "2026-04-10", reason: "holiday" },
      { fromOn: "2026-04-11", toOn: "2026-04-30", reason: "other work" },
    ]);
    expect(crewOf(code).members.find((m) => m.code === "M2")!.leave).toEqual([
      { fromOn: "2026-04-06", toOn: "2026-04-30", reason: "other work" },
    ]);
    expect(rulesOf(await act(setLeaveAction, out, manager))).toEqual(["leave-overlap"]);
    expect(rulesOf(await act(setLeaveAction, { ...out, toOn: "2026-04-01" }, manager))).toEqual([
      "leave-order",
    ]);
  });
});

describe("the log", () => {
  test("finds every word anywhere, newest first, page by page, and takes no sign for a wildcard", () => {
    for (let i = 0; i < 5; i++)
      addLogEntry(db, {
        at: i,
        userName: "Ines",
        action: "change gate",
        subject: `hop:H${i}`,
        detail: { to: "50%" },
      });
    // Written last, but of an earlier day.
    addLogEntry(db, { at: -1, userName: "Ines", action: "add gate", subject: "hop:H9", detail: {} });
    expect(searchLog(db, { words: "ines", limit: 9 }).rows.at(-1)).toMatchObject({ subject: "hop:H9" });
    db.$client.exec("DELETE FROM log_entry WHERE at = -1");
    addLogEntry(db, { at: 9, userName: "Marek", action: "order closed", subject: "close_order:1" });
    expect(searchLog(db, { words: "ines GATE", limit: 2 })).toMatchObject({
      count: 5,
      rows: [{ subject: "hop:H4" }, { subject: "hop:H3" }],
    });
    expect(searchLog(db, { words: "ines", limit: 2, offset: 4 }).rows).toMatchObject([{ subject: "hop:H0" }]);
    expect(searchLog(db, { words: "50%", limit: 9 }).count).toBe(5);
    expect(searchLog(db, { words: "5%", limit: 9 }).count).toBe(0);
    expect(searchLog(db, { words: "e_o", limit: 9 }).count).toBe(1);
    const actionsSaid = (word: string): LogAction[] => (word === "Freigabe" ? ["change gate"] : []);
    expect(searchLog(db, { words: "Freigabe Ines", actionsSaid, limit: 9 }).count).toBe(5);
    expect(searchLog(db, { words: "Freigabe Marek", actionsSaid, limit: 9 }).count).toBe(0);
    expect(searchLog(db, { limit: 9 }).count).toBe(6);
  });
});

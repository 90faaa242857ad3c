import ICAL from "ical.js";
import { beforeEach, expect, test, vi } from "vitest";
import { type Call, carryOut } from "@/app/_server/carryOut";
import {
  calendarOf,
  crewOfSecret,
  makeCalendarAction,
  revokeCalendarAction,
} from "@/app/_server/crewCalendar";
import { wordsIn } from "@/app/_server/language";
import { formatDate, TIED } from "@/app/_ui/format";
import type { Db } from "@/db/open";
import { copyAsDraft, putInForce, writePlaces } from "@/db/queries/plans";
import { addReport } from "@/db/queries/reports";
import { searchLog } from "@/db/queries/rules";
import { crewCalendar, endEstimate, gate, idempotencyKey } from "@/db/schema";
import { addDays, type CalendarDate, type InstantMillis, instantAt } from "@/lib/time";
import { BY, sendReport, type TestStock, TODAY, testStock } from "../db/make";
import { visitorAs } from "../helpers/visitor";

const here = vi.hoisted(() => ({ db: undefined as unknown }));
vi.mock("@/db/open", async (original) => ({ ...(await original<object>()), database: () => here.db as Db }));
const { GET } = await import("@/app/calendar/[file]/route");

let stock: TestStock;
let db: Db;

beforeEach(() => {
  stock = testStock();
  db = stock.db;
  here.db = db;
  vi.stubEnv("BOTHENDS_NOW", new Date(BY.at).toISOString());
});

const lead = visitorAs("crew lead");

const call = (over: Partial<Call> = {}): Call => ({
  db,
  visitor: lead,
  key: undefined,
  now: BY.at as InstantMillis,
  machineNow: BY.at as InstantMillis,
  ...over,
});

async function secretOf(over?: Partial<Call>): Promise<string> {
  const { result } = await carryOut(makeCalendarAction, { crewCode: "C1" }, call(over));
  if (!result.ok) throw new Error(result.problems[0]?.message);
  return result.value.path.slice("/calendar/".length, -".ics".length);
}

const get = (file: string, address = "10.0.0.7") =>
  GET(new Request("http://plan.example/x", { headers: { "x-forwarded-for": address } }), {
    params: Promise.resolve({ file }),
  });

const EN = wordsIn("en");

const eventsOf = (text: string) =>
  new ICAL.Component(ICAL.parse(text)).getAllSubcomponents("vevent").map((v) => new ICAL.Event(v));

test("the address is kept as a hash only, and its answer is not kept for a repeated key", async () => {
  const secret = await secretOf({ key: "k1" });
  expect(secret).toMatch(/^[A-Za-z0-9_-]{43}$/);
  expect(JSON.stringify(db.select().from(crewCalendar).all())).not.toContain(secret);
  expect(db.select().from(idempotencyKey).all()).toEqual([]);
  expect(JSON.stringify(searchLog(db, { limit: 10 }).rows)).not.toContain(secret);
  expect(crewOfSecret(db, secret)).toBe("C1");
});

test("a new address ends the one before it, and revoking ends it for good", async () => {
  const first = await secretOf();
  const second = await secretOf();
  expect(crewOfSecret(db, first)).toBeUndefined();
  expect((await get(`${second}.ics`)).status).toBe(200);
  const { result } = await carryOut(revokeCalendarAction, { crewCode: "C1" }, call());
  expect(result.ok).toBe(true);
  expect((await get(`${second}.ics`)).status).toBe(404);
});

test("a crew lead shares the own crew's calendar and no other", async () => {
  for (const definition of [makeCalendarAction, revokeCalendarAction]) {
    const { result } = await carryOut<typeof definition.input, unknown, undefined>(
      definition,
      { crewCode: "C2" },
      call(),
    );
    expect(result).toMatchObject({ ok: false, problems: [{ rule: "other-crew", value: "C2" }] });
  }
  const manager = visitorAs("manager");
  const { result } = await carryOut(makeCalendarAction, { crewCode: "NONE" }, call({ visitor: manager }));
  expect(result).toMatchObject({ ok: false, problems: [{ rule: "crew-unknown" }] });
});

const dayWords = (day: CalendarDate) => formatDate(day).replaceAll(TIED, " ");
const status = (event: ICAL.Event | undefined) => event?.component.getFirstPropertyValue("status");

test("days are in words that nobody takes for another day", () => {
  const [first] = eventsOf(calendarOf(db, "C1", TODAY, EN));
  expect(first?.description).toMatch(
    /Work planned from (Mon|Tue|Wed|Thu|Fri|Sat|Sun) \d{1,2} [A-Z][a-z]{2} \d{4} 08:00 to/,
  );
  expect(first?.description).not.toMatch(/\d{4}-\d{2}-\d{2}/);
});

test("the address says the language, and without one it is English", async () => {
  const secret = await secretOf();
  const textOf = async (query: string) => {
    const request = new Request(`http://plan.example/calendar/${secret}.ics${query}`);
    const answer = await GET(request, { params: Promise.resolve({ file: `${secret}.ics` }) });
    return eventsOf(await answer.text())
      .map((e) => `${e.summary} ${e.description}`)
      .join(" ");
  };
  const german = await textOf("?language=de");
  expect(german).toMatch(/Montage \S+, nah/);
  expect(german).toMatch(/Arbeit geplant von (Mo|Di|Mi|Do|Fr|Sa|So),? \d/);
  expect(german).not.toMatch(/\b(waits|Install|near|planned|the|until)\b/);
  for (const query of ["", "?language=en", "?language=xx"])
    expect(await textOf(query)).toMatch(/Work planned/);
});

test("a visit on hold is tentative and says why, until a report or a new plan lifts it", () => {
  const eventsNow = () => eventsOf(calendarOf(db, "C1", TODAY, EN));
  db.update(gate).set({ state: "met" }).run();
  expect(eventsNow().map(status)).toEqual(["CONFIRMED", "CONFIRMED"]);
  const report = (key: string, outcome: "hold" | "part done", hours: number) =>
    addReport(db, {
      key,
      visitId: stock.visitId,
      hopCode: stock.visitId.split("/")[0]!,
      crewCode: "C1",
      workedOn: TODAY,
      outcome,
      holdReason: outcome === "hold" ? "no key to the gate" : undefined,
      workedMin: 60,
      note: "",
      reportedBy: "Lead",
      reportedAt: BY.at + hours * 3_600_000,
      uses: [],
    });
  report("h1", "hold", 1);
  const held = eventsNow();
  expect(held.map(status)).toEqual(["TENTATIVE", "CONFIRMED"]);
  expect(held[0]?.summary).toMatch(/^ON HOLD: Install /);
  expect(held[0]?.description).toMatch(/^On hold, reported by Lead: no key to the gate\n/);
  expect(held.map((e) => e.sequence)).toEqual([1, 0]);
  report("h2", "part done", 2);
  expect(eventsNow().map(status)).toEqual(["CONFIRMED", "CONFIRMED"]);
  expect(eventsNow().map((e) => e.sequence)).toEqual([2, 0]);
});

test("a visit that waits for a gate of its end is tentative and names it; one that was reported done is not", () => {
  const [hopCode, side] = stock.visitId.split("/") as [string, "near" | "far"];
  const owner = "Tower company";
  const other = side === "near" ? "far" : "near";
  db.delete(gate).run();
  db.insert(gate)
    .values([
      { hopCode, side, kind: "access permit", owner, state: "dated", dueOn: addDays(TODAY, 1) },
      { hopCode, side: "both", kind: "spectrum licence", owner, state: "open" },
      { hopCode, side: other, kind: "site ready", owner, state: "open" },
      { hopCode, side, kind: "supply", owner, state: "met" },
    ])
    .run();
  const [waiting] = eventsOf(calendarOf(db, "C1", TODAY, EN));
  expect(status(waiting)).toBe("TENTATIVE");
  expect(waiting?.summary).toMatch(/^NOT SURE: Install /);
  expect(waiting?.description.split("\n").slice(0, 2)).toEqual([
    "Not sure yet: waits for spectrum licence (Tower company), no date.",
    `Not sure yet: waits for access permit (Tower company), expected ${dayWords(addDays(TODAY, 1))}.`,
  ]);
  expect(waiting?.description).not.toContain("site ready");
  expect(sendReport(stock, {}).ok).toBe(true);
  expect(status(eventsOf(calendarOf(db, "C1", TODAY, EN))[0])).toBe("CONFIRMED");
});

test("it holds the crew's visits of the plan in force, at their sites' own times", async () => {
  const answer = await get(`${await secretOf()}.ics`);
  expect(answer.headers.get("content-type")).toBe("text/calendar; charset=utf-8");
  expect(answer.headers.get("cache-control")).toBe("no-store");
  const events = eventsOf(await answer.text());
  expect(events.map((e) => e.uid)).toEqual([`${stock.visitId}@bothends`, `${stock.laterId}@bothends`]);
  const zone = /\(([A-Za-z]+\/[A-Za-z_]+)\)/.exec(events[0]?.description ?? "")?.[1] ?? "";
  expect(events[0]?.startDate.toJSDate().getTime()).toBe(instantAt(addDays(TODAY, 1), 480, zone));
  expect(events[0]?.endDate.toJSDate().getTime()).toBe(instantAt(addDays(TODAY, 1), 900, zone));
  expect(events[0]?.description).toContain("never says that it is safe to climb");
});

test("a visit begins when its crew must be there, and the text says when the work begins", () => {
  db.insert(endEstimate)
    .values({
      endId: stock.visitId.split("/install")[0]!,
      takeoff: {},
      estimate: { setupMin: 62.4 },
      basis: "test",
      failCount: 0,
      warnCount: 0,
      cableM: 0,
      massKg: 0,
      installMin: 0,
      p80Min: 0,
    })
    .run();
  const [first, other] = eventsOf(calendarOf(db, "C1", TODAY, EN));
  const zone = /\(([A-Za-z]+\/[A-Za-z_]+)\)/.exec(first?.description ?? "")?.[1] ?? "";
  // The work begins at 08:00; 62.4 minutes of set-up count as 63.
  expect(first?.startDate.toJSDate().getTime()).toBe(instantAt(addDays(TODAY, 1), 417, zone));
  expect(first?.description).toContain(
    `On site from about 06:57, set-up first. Work planned from ${dayWords(addDays(TODAY, 1))} 08:00 to`,
  );
  expect(other?.description).toContain("set-up comes before");
});

test("a visit that a later plan moves keeps its name and counts the change; the others stay as they were", () => {
  const later = (BY.at + 3_600_000) as InstantMillis;
  const draft = copyAsDraft(db, stock.plan.id, { createdBy: "Test", createdAt: BY.at, basis: {} }) ?? 0;
  const eventsNow = () => eventsOf(calendarOf(db, "C1", TODAY, EN));
  const moved = {
    visitId: stock.laterId,
    crewCode: "C1",
    startOn: addDays(TODAY, 3),
    startMin: 540,
    endOn: addDays(TODAY, 3),
    endMin: 960,
    riskMin: 0,
    isPinned: true,
    unplacedRule: null,
    unplacedDetail: null,
  };
  const before = eventsNow();
  expect(before.map((e) => e.sequence)).toEqual([0, 0]);
  expect(writePlaces(db, draft, 1, [moved], { cost: { total: 0 } as never, basis: {} })).toBe(true);
  expect(eventsNow().map((e) => e.startDate.toString())).toEqual(before.map((e) => e.startDate.toString()));
  putInForce(db, draft, 2, later);
  const after = eventsNow();
  expect(after.map((e) => e.uid)).toEqual(before.map((e) => e.uid));
  expect(after.map((e) => e.sequence)).toEqual([0, 1]);
  const stamp = (i: number) => after[i]?.component.getFirstPropertyValue("dtstamp")?.toString();
  expect(stamp(0)).toBe(new Date(BY.at).toISOString().replace(".000", ""));
  expect(stamp(1)).toBe(new Date(later).toISOString().replace(".000", ""));
});

test("guessing rests for the address that guesses, not for others", async () => {
  const secret = await secretOf();
  for (let i = 0; i < 30; i++) expect((await get(`${"x".repeat(43)}.ics`)).status).toBe(404);
  expect((await get(`${secret}.ics`)).status).toBe(429);
  expect((await get(`${secret}.ics`, "10.0.0.8")).status).toBe(200);
});

test("each kind of visit has its own name, and an alignment says only what is done on it", async () => {
  const secret = await secretOf();
  const titleAs = async (kind: string, acceptance = "own visit") => {
    db.$client.prepare("UPDATE plan_visit SET kind = ? WHERE visit_id = ?").run(kind, stock.visitId);
    db.$client.prepare("UPDATE hop SET acceptance = ?").run(acceptance);
    const events = eventsOf(await (await get(`${secret}.ics`)).text());
    return events.find((e) => e.uid.startsWith(stock.visitId))?.summary.replace(/^[A-Z ]+: /, "");
  };
  expect(await titleAs("install")).toMatch(/^Install VH/);
  expect(await titleAs("alignment")).toMatch(/^Alignment VH/);
  expect(await titleAs("alignment", "with the alignment")).toMatch(/^Alignment and acceptance VH/);
  expect(await titleAs("acceptance")).toMatch(/^Acceptance VH/);
  expect(await titleAs("revisit")).toMatch(/^Revisit VH/);
});

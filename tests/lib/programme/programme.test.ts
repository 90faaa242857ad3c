import { beforeAll, expect, test } from "vitest";
import { NO_CALIBRATION } from "@/lib/calibration";
import { DEFAULT_NORMS } from "@/lib/hours";
import {
  type Crew,
  cutForKits,
  HopWorker,
  kitsOfPlan,
  type NamedVisit,
  netProgramme,
  openVisits,
  type ProgrammeInput,
  type ProgrammeOptions,
  planProgramme,
  prepareProgramme,
  type Revisit,
  readyKits,
  referenceCrew,
  servedInTurn,
  startAfter,
  takeoffContext,
} from "@/lib/programme";
import { crewPace, DEFAULT_WEIGHTS, judge, type PlacedVisit, schedule } from "@/lib/schedule";
import type { CatalogueItem, Hop } from "@/lib/site";
import { DEFAULT_STOCK_POLICY, type SpareDemand, sparesFor } from "@/lib/stock";
import { DEFAULT_CATALOGUE, DEFAULT_POLICY, DEFAULT_RULES } from "@/lib/takeoff";
import { addDays, arrivesOn, calendarDate } from "@/lib/time";
import { DEFAULT_WEATHER_POLICY } from "@/lib/weather";
import { makeHop, makeSite } from "../../helpers/hop";

const today = calendarDate("2026-06-01"); // a Monday
const zone = "UTC";

function crew(code: string): Crew {
  return {
    code,
    name: code,
    depotPlace: "W",
    zone,
    weekdays: [1, 2, 3, 4, 5],
    shiftFromMin: 420,
    shiftToMin: 1020,
    overtimeMaxMin: 60,
    weeklyMaxMin: 3000,
    restMin: 600,
    nightsAwayMax: 0,
    payloadKg: 2000,
    pace: 1,
    members: [0, 1, 2, 3].map((i) => ({
      code: `${code}-${i}`,
      name: `Person ${i}`,
      isLead: i === 0,
      skills: (["climber", "rescue", "ground", "rigger", "technician"] as const).map((skill) => ({ skill })),
      leave: [],
    })),
  };
}

/** Two hops between four sites near the depot, ample stock, no weather data. */
function programme(over: Partial<ProgrammeInput> = {}): ProgrammeInput {
  const sites = [0, 1, 2, 3].map((i) =>
    makeSite({
      id: `S${i}`,
      code: `S${i}`,
      zone,
      position: { latDeg: 46.5 + i * 0.05, lonDeg: -27.5 },
      access: { weekdays: [1, 2, 3, 4, 5], fromMin: 360, toMin: 1200, noticeDays: 0, allowsTwoCrews: false },
    }),
  );
  const hop = (code: string, near: string, far: string, promise: number): Hop => {
    const made = makeHop();
    return {
      ...made,
      id: code,
      code,
      promisedOn: addDays(today, promise),
      gates: [],
      near: { ...made.near, id: `${code}/near`, hopId: code, siteId: near },
      far: { ...made.far, id: `${code}/far`, hopId: code, siteId: far },
    };
  };
  return {
    today,
    dayCount: 42,
    frozenDays: 0,
    sites,
    hops: [hop("H1", "S0", "S1", 10), hop("H2", "S2", "S3", 20)],
    catalogue: DEFAULT_CATALOGUE,
    takeoffRules: DEFAULT_RULES,
    takeoffPolicy: DEFAULT_POLICY,
    norms: DEFAULT_NORMS,
    weatherPolicy: DEFAULT_WEATHER_POLICY,
    weights: DEFAULT_WEIGHTS,
    cutPolicy: { sawAllowanceCm: 20, minUsefulCm: 1500 },
    weather: [],
    crews: [crew("A"), crew("B")],
    depots: [{ code: "W", name: "Depot", latDeg: 46.6, lonDeg: -27.5 }],
    stock: DEFAULT_CATALOGUE.map((i) => ({
      itemCode: i.code,
      lotRule: { kind: "lot for lot" },
      shelves: [{ placeCode: "W", onHand: 1000 }],
    })),
    drums: DEFAULT_CATALOGUE.filter((i) => i.category === "IF cable").map((i) => ({
      id: i.code,
      serial: i.code,
      cableCode: i.code,
      placeId: "W",
      receivedCm: 50_000,
      remainingCm: 50_000,
      availableOn: today,
      isNew: true,
    })),
    orders: [],
    transfers: [],
    stockPolicy: DEFAULT_STOCK_POLICY,
    done: new Set(),
    workLeft: new Map(),
    revisits: [],
    issued: new Set(),
    inForce: [],
    pinned: [],
    roads: { circuity: 1.3, speedKmH: 50, fixedMin: 5 },
    kitDays: 1,
    ...over,
  };
}

const solve = (input: ProgrammeInput) => {
  const made = planProgramme(input, { seed: "t", maxIterations: 60 });
  if (!made.ok) throw new Error(made.problems.map((p) => p.message).join());
  return made.value;
};

let base: ReturnType<typeof solve>;
beforeAll(() => {
  base = solve(programme());
});

test("two hops become eight visits, all placed, and the judge finds nothing", () => {
  expect(base.plan.unplaced.map((u) => u.detail)).toEqual([]);
  expect(base.visits.map((v) => v.id).sort()).toEqual(
    ["H1", "H2"].flatMap((h) =>
      ["far/alignment", "far/install", "near/alignment", "near/install"].map((k) => `${h}/${k}`),
    ),
  );
  expect(base.plan.placed).toHaveLength(8);
  expect(judge(base.problem, base.plan)).toEqual([]);
});

test("both ends of an alignment start at the same minute with two crews, after both installs", () => {
  const at = (id: string) => base.plan.placed.find((p) => base.visits[p.visit]!.id === id)!;
  for (const hop of ["H1", "H2"]) {
    const [near, far] = [at(`${hop}/near/alignment`), at(`${hop}/far/alignment`)];
    expect([near.startDay, near.startMin]).toEqual([far.startDay, far.startMin]);
    expect(near.crew).not.toBe(far.crew);
    for (const side of ["near", "far"]) {
      const install = at(`${hop}/${side}/install`);
      expect(install.endDay * 1440 + install.endMin).toBeLessThanOrEqual(
        near.startDay * 1440 + near.startMin,
      );
    }
  }
});

test("without weather data nothing is planned as always fine, and the plan says what it rests on", () => {
  expect(new Set(base.windows.basis)).toEqual(new Set(["no weather data"]));
  expect(base.problem.windows.every((w) => w.stretch.every((s) => s >= 1.5))).toBe(true);
});

test("the same input and seed give the same plan, whatever the order of hops and sites", () => {
  const input = programme();
  const again = solve({ ...input });
  expect(again.plan).toEqual(base.plan);
  const shuffled = solve({ ...input, sites: [...input.sites].reverse(), stock: [...input.stock].reverse() });
  expect(shuffled.plan.cost.total).toBeCloseTo(base.plan.cost.total, 6);
});

test("every kit carries its end's runs, each from a drum, and the metres add up", () => {
  expect(base.kits).toHaveLength(4);
  const cut = base.cutting.reduce((s, c) => s + c.cutCm, 0);
  const inKits = base.kits.flatMap((k) => k.lines).filter((l) => l.runId);
  expect(inKits.every((l) => l.drumSerial !== undefined && l.short === 0)).toBe(true);
  expect(inKits.reduce((s, l) => s + l.quantity * 100, 0)).toBeCloseTo(cut, 6);
});

test("stock that is not there by any order moves the visit to the day after its delivery", () => {
  const radios = new Set(
    base.kits
      .flatMap((k) => k.lines)
      .map((l) => l.itemCode)
      .filter((c) => c.startsWith("ODU")),
  );
  expect(radios.size).toBeGreaterThan(0);
  const short = programme();
  const made = solve({
    ...short,
    stock: short.stock.map((s) => (radios.has(s.itemCode) ? { ...s, shelves: [] } : s)),
    orders: [...radios].map((itemCode) => ({
      orderCode: "PO",
      lineNo: 1,
      placeCode: "W",
      itemCode,
      quantity: 50,
      dueOn: addDays(today, 16), // Wednesday of the third week
    })),
  });
  const installs = made.plan.placed.filter((p) => made.visits[p.visit]!.kind === "install");
  expect(installs).toHaveLength(4);
  expect(Math.min(...installs.map((p) => p.startDay))).toBe(17);
  expect([...made.kitReady.values()].filter((k) => k.bindingItem?.startsWith("ODU")).length).toBe(4);
});

/** Radios for one hop now and for another in a week: whose they are, is the plan's to find. */
function radiosForOne(change: (hop: Hop) => Hop) {
  const radios = [...new Set(base.kits.flatMap((k) => k.lines.map((l) => l.itemCode)))].filter((c) =>
    c.startsWith("ODU"),
  );
  const made = solve(
    programme({
      hops: programme().hops.map(change),
      stock: programme().stock.map((s) =>
        radios.includes(s.itemCode) ? { ...s, shelves: [{ placeCode: "W", onHand: 1 }] } : s,
      ),
      orders: radios.map((itemCode) => ({
        orderCode: "PO",
        lineNo: 1,
        placeCode: "W",
        itemCode,
        quantity: 1,
        dueOn: addDays(today, 7),
      })),
    }),
  );
  expect(judge(made.problem, made.plan)).toEqual([]);
  const day = (id: string) => made.kitReady.get(id)!.day;
  return ["H1", "H2"].map((code) => [day(`${code}/near/install`), day(`${code}/far/install`)]);
}

test("what stock there is goes to the hop that would else be late (worked example)", () => {
  const promised = (code: string) => (hop: Hop) =>
    hop.code === code ? { ...hop, promisedOn: addDays(today, 4) } : hop;
  expect(radiosForOne(promised("H1"))).toEqual([
    [0, 0],
    [7, 7],
  ]);
  expect(radiosForOne(promised("H2"))).toEqual([
    [7, 7],
    [0, 0],
  ]);
});

test("a hop that waits for a gate does not sit on radios that another could use", () => {
  const gated = (hop: Hop): Hop =>
    hop.code === "H1"
      ? {
          ...hop,
          promisedOn: addDays(today, 4),
          gates: [
            { hopId: "H1", kind: "spectrum licence", owner: "us", state: "dated", dueOn: addDays(today, 9) },
          ],
        }
      : hop;
  expect(radiosForOne(gated)).toEqual([
    [7, 7],
    [0, 0],
  ]);
});

test("an open gate, a failed check and a missing coordinate keep visits out, each named", () => {
  const input = programme();
  const reason = (over: Partial<ProgrammeInput>) => {
    const made = solve(programme(over));
    return made.plan.unplaced.map((u) => `${made.visits[u.visit]!.id}: ${u.detail}`).join("\n");
  };
  const [h1, h2] = [input.hops[0]!, input.hops[1]!];
  expect(
    reason({ hops: [{ ...h1, gates: [{ hopId: "H1", kind: "survey", owner: "us", state: "open" }] }, h2] }),
  ).toMatch(/H1\/near\/install: .*open gate: survey \(us\)/);
  const clash = {
    ...h1,
    far: { ...h1.far, odus: h1.far.odus.map((o) => ({ ...o, half: h1.near.odus[0]!.half })) },
  };
  expect(reason({ hops: [clash, h2] })).toMatch(/H1\/far\/install: .*design check: .*half/);
  const sites = input.sites.map((s) => (s.id === "S0" ? { ...s, position: undefined } : s));
  expect(reason({ sites })).toMatch(/H1\/near\/install: .*S0 has no coordinate/);
});

test("a crew that starts from nowhere is refused by name, and so is a programme without crews", () => {
  const depots = [{ code: "W", name: "Depot", latDeg: null, lonDeg: null }];
  const made = planProgramme(programme({ depots }), { seed: "t", maxIterations: 1 });
  expect(made.ok ? [] : made.problems.map((p) => [p.rule, p.path])).toEqual([
    ["depot-without-coordinate", "crews.A.depotPlace"],
    ["depot-without-coordinate", "crews.B.depotPlace"],
  ]);
  const none = planProgramme(programme({ crews: [] }), { seed: "t", maxIterations: 1 });
  expect(none.ok ? [] : none.problems.map((p) => p.rule)).toEqual(["no-crews"]);
});

test("frozen days keep all but what is on hold or overdue, its other end and what waits for it", () => {
  const inForce = base.plan.placed.map((p) => ({
    visitId: base.visits[p.visit]!.id,
    crewCode: base.problem.crews[p.crew]!.code,
    startOn: addDays(today, p.startDay),
    startMin: p.startMin,
    endOn: addDays(today, p.endDay),
    endMin: p.endMin,
  }));
  const frozenDays = Math.max(...base.plan.placed.map((p) => p.startDay)) + 1;
  const startsWith = (over: Partial<ProgrammeInput>) => {
    const made = solve(programme({ inForce, frozenDays, ...over }));
    expect(judge(made.problem, made.plan)).toEqual([]);
    expect(made.plan.unplaced).toEqual([]);
    return new Map(
      made.plan.placed.map((p) => [made.visits[p.visit]!.id, addDays(today, p.startDay)] as const),
    );
  };
  const was = new Map(inForce.map((v) => [v.visitId, v.startOn]));
  expect(startsWith({})).toEqual(was);
  const onHold = new Set(["H1/near/install"]);
  const freed = new Set([...onHold, "H1/near/alignment", "H1/far/alignment"]);
  const firstFree = addDays(today, frozenDays);
  for (const [id, on] of startsWith({ onHold }))
    if (freed.has(id)) expect(on >= firstFree, id).toBe(true);
    else expect(on, id).toBe(was.get(id));
  // An install that should have ended before and was not reported: its alignment waits until it stands again.
  const overdue = inForce.map((v) =>
    v.visitId === "H1/near/install" ? { ...v, startOn: addDays(today, -3), endOn: addDays(today, -3) } : v,
  );
  const anew = startsWith({ inForce: overdue });
  for (const [id, on] of anew)
    if (freed.has(id)) expect(on >= firstFree, id).toBe(true);
    else expect(on, id).toBe(was.get(id));
  expect(anew.get("H1/near/alignment")! >= anew.get("H1/near/install")!).toBe(true);
  // What a person pinned stays, on hold or not.
  const pinned = inForce.filter((v) => v.visitId === "H1/near/install");
  expect(startsWith({ onHold, pinned })).toEqual(was);
});

test("work under way stays with its crew, frozen days or none, and goes on until its planned end", () => {
  // Begun on the Friday before and planned to end on this Monday.
  const begun = (over: Partial<NamedVisit> = {}): NamedVisit => ({
    visitId: "H2/far/install",
    crewCode: "B",
    startOn: addDays(today, -3),
    startMin: 540,
    endOn: today,
    endMin: 660,
    ...over,
  });
  const at = (over: Partial<ProgrammeInput>, row = begun()) => {
    const made = solve(programme({ inForce: [row], ...over }));
    expect(judge(made.problem, made.plan)).toEqual([]);
    const index = made.visits.findIndex((v) => v.id === "H2/far/install");
    const x = made.plan.placed.find((p) => p.visit === index)!;
    const isKept = made.problem.underWay?.length === 1;
    return { isKept, crew: made.problem.crews[x.crew]!.code, ends: [x.endDay, x.endMin], start: x.startDay };
  };
  for (const frozenDays of [0, 2, 5]) {
    const x = at({ frozenDays });
    expect(x).toMatchObject({ isKept: true, crew: "B", start: 0 });
    // Whole norm minutes at the crew's pace: the last one may end a minute early.
    expect(x.ends[0]).toBe(0);
    expect(x.ends[1]).toBeGreaterThanOrEqual(658);
    expect(x.ends[1]).toBeLessThanOrEqual(660);
  }
  const left = { leftMin: 60, on: addDays(today, -3) };
  expect(at({ workLeft: new Map([["H2/far/install", left]]) })).toMatchObject({
    isKept: true,
    ends: [0, expect.any(Number)],
  });
  // On hold nobody goes on with it; what should have ended is overdue; what is done is no more.
  expect(at({ onHold: new Set(["H2/far/install"]) }).isKept).toBe(false);
  expect(at({}, begun({ endOn: addDays(today, -1) })).isKept).toBe(false);
  const done = solve(programme({ inForce: [begun()], done: new Set(["H2/far/install"]) }));
  expect(done.problem.underWay).toBeUndefined();
});

test("a visit of which less is left than its set-up takes is planned all the same", () => {
  const id = "H1/near/install";
  const made = solve(programme({ workLeft: new Map([[id, { leftMin: 5, on: today }]]) }));
  const visit = made.problem.visits[made.visits.findIndex((v) => v.id === id)]!;
  expect([visit.setupMin, visit.segments.reduce((sum, s) => sum + s.durationMin, 0)]).toEqual([4, 1]);
  expect(made.plan.unplaced).toEqual([]);
});

test("what was reported done is not planned again", () => {
  const made = solve(programme({ done: new Set(["H1/near/install", "H1/far/install"]) }));
  expect(made.visits.map((v) => v.id)).not.toContain("H1/near/install");
  expect(made.plan.unplaced).toEqual([]);
});

test("netting counts each kit on its pick day", () => {
  const connector = base.netting.rows.find((n) => n.itemCode.startsWith("CON-"))!;
  const need = base.kits
    .flatMap((k) => k.lines)
    .filter((l) => l.itemCode === connector.itemCode)
    .reduce((s, l) => s + l.box, 0);
  expect(connector.alone.gross.reduce((a, b) => a + b, 0)).toBeCloseTo(need, 9);
});

test("a kit short on its own shelf is helped by the other warehouse before anything is bought", () => {
  const connector = base.kits.flatMap((k) => k.lines).find((l) => l.itemCode.startsWith("CON-"))!.itemCode;
  const depots = [...programme().depots, { code: "X", name: "Other", latDeg: 46.6, lonDeg: -27.4 }];
  const made = solve(
    programme({
      depots,
      stock: programme().stock.map((s) =>
        s.itemCode === connector ? { ...s, shelves: [{ placeCode: "X", onHand: 1000 }] } : s,
      ),
    }),
  );
  const rows = made.netting.rows.filter((r) => r.itemCode === connector);
  expect(rows.map((r) => [r.placeCode, r.onHand])).toEqual([
    ["W", 0],
    ["X", 1000],
  ]);
  const need = rows[0]!.alone.gross.reduce((a, b) => a + b, 0);
  expect(need).toBeGreaterThan(0);
  const sent = made.netting.transfers.filter((t) => t.itemCode === connector);
  expect(sent.every((t) => t.fromPlaceId === "X" && t.toPlaceId === "W")).toBe(true);
  // The kits' needs, and the whole of the safety stock to where they are picked.
  const safety = DEFAULT_CATALOGUE.find((i) => i.code === connector)!.safetyStock;
  expect(sent.reduce((sum, t) => sum + t.quantity, 0)).toBe(Math.ceil(need + safety));
  expect(rows[0]!.withTransfers.orders).toEqual([]);
  const lines = made.kits.flatMap((k) => k.lines.filter((l) => l.itemCode === connector));
  expect(lines.every((l) => l.short === l.box)).toBe(true);
});

test("a run cut where its drum stands must have time to come over", () => {
  const depots = [...programme().depots, { code: "X", name: "Other", latDeg: 46.6, lonDeg: -27.4 }];
  const drums = programme().drums.map((d) => ({ ...d, placeId: "X" }));
  // The plan as it stands, with its visits where they are: nothing moves to wait for the piece.
  const short = (transferHandlingDays: number) => {
    const input = programme({
      depots,
      drums,
      stockPolicy: { ...DEFAULT_STOCK_POLICY, transferHandlingDays },
    });
    const cutting = cutForKits(base.visits, base.plan, input, {});
    return kitsOfPlan(input, base.visits, base.plan.placed, cutting)
      .flatMap((k) => k.lines.map((l) => ({ ...l, pickOn: k.pickOn })))
      .filter((l) => l.runId && l.short > 0)
      .map((l) => l.pickOn);
  };
  expect(short(0)).toEqual([]);
  const late = short(3);
  expect(late.length).toBeGreaterThan(0);
  expect(late.every((on) => on < addDays(today, 3))).toBe(true);
});

test("a run is cut from the drum in its kit's warehouse, even where one elsewhere would leave less", () => {
  const depots = [...programme().depots, { code: "X", name: "Other", latDeg: 46.6, lonDeg: -27.4 }];
  const own = programme().drums;
  // The other warehouse has a part-used drum of every cable, which is cut first where places do not count.
  const other = own.map((d) => ({
    ...d,
    id: `${d.id} X`,
    serial: `${d.serial} X`,
    placeId: "X",
    remainingCm: 30_000,
    isNew: false,
  }));
  const { cutting, kits } = solve(programme({ depots, drums: [...other, ...own] }));
  const used = cutting.flatMap((c) => c.drums.filter((d) => d.cuts.length > 0).map((d) => d.drum.placeId));
  expect(used.length).toBeGreaterThan(0);
  expect(new Set(used)).toEqual(new Set(["W"]));
  const lines = kits.flatMap((k) => k.lines).filter((l) => l.runId);
  expect(lines.every((l) => l.short === 0)).toBe(true);
});

test("a run whose only drum comes over too late moves its visit instead of leaving the kit short", () => {
  const depots = [...programme().depots, { code: "X", name: "Other", latDeg: 46.6, lonDeg: -27.4 }];
  const drums = programme().drums.map((d) => ({ ...d, placeId: "X" }));
  const stockPolicy = { ...DEFAULT_STOCK_POLICY, transferHandlingDays: 3 };
  const { cutting, kits, settled } = solve(programme({ depots, drums, stockPolicy }));
  expect(settled.corrected).toBeGreaterThan(0);
  const cuts = cutting.flatMap((c) => c.drums.flatMap((d) => d.cuts));
  const pickOf = new Map(kits.flatMap((k) => k.lines.map((l) => [l.runId, k.pickOn] as const)));
  expect(cuts.length).toBeGreaterThan(0);
  for (const cut of cuts) {
    expect(cut.wantedAt).toBe("W");
    expect(cut.arriveOn).toBe(arrivesOn(cut.cutOn, 3));
    expect(cut.arriveOn! <= pickOf.get(cut.runId)!).toBe(true);
  }
});

test("a run that goes after an issued kit keeps its cut and its metres until it is cut, and a run in its box does not", () => {
  const at = base.plan.placed.find((p) => base.visits[p.visit]!.runs.length > 0)!;
  const visit = base.visits[at.visit]!;
  const [run] = visit.runs;
  const wanted = (part: Partial<ProgrammeInput>) => {
    const input = { ...programme(), issued: new Set([visit.id]), ...part };
    const own = new Set(visit.runs.map((r) => r.id));
    const cuts = cutForKits(base.visits, base.plan, input, {}).flatMap((c) => c.drums.flatMap((d) => d.cuts));
    const { rows } = netProgramme(input, base.visits, base.plan);
    return {
      runs: cuts.filter((c) => own.has(c.runId)).map((c) => c.runId),
      metres: rows
        .filter((r) => r.itemCode === run!.cableCode)
        .reduce((sum, r) => sum + r.alone.gross.reduce((a, b) => a + b, 0), 0),
    };
  };
  const none = wanted({});
  expect(none.runs).toEqual([]);
  const following = wanted({ runsToFollow: new Set([run!.id]) });
  expect(following.runs).toEqual([run!.id]);
  expect(following.metres - none.metres).toBeCloseTo(run!.lengthCm / 100);
  expect(wanted({ runsToFollow: new Set([run!.id]), cutRuns: new Set([run!.id]) })).toEqual(none);
});

/** All gaskets lie in a warehouse from which they take three working days; crews, and so kits, start from the other. */
const gasketsElsewhere = (): ProgrammeInput => {
  const { depots, stock } = programme();
  const gaskets = new Set(DEFAULT_CATALOGUE.filter((i) => i.code.startsWith("GSK-")).map((i) => i.code));
  return programme({
    depots: [...depots, { code: "X", name: "Other", latDeg: 46.6, lonDeg: -27.4 }],
    stock: stock.map((s) =>
      gaskets.has(s.itemCode) ? { ...s, shelves: [{ placeCode: "X", onHand: 40 }] } : s,
    ),
    stockPolicy: { ...DEFAULT_STOCK_POLICY, transferHandlingDays: 3 },
  });
};
const waitsOf = ({ netting }: ReturnType<typeof solve>) => netting.rows.flatMap((r) => r.withTransfers.waits);

test("a visit waits for a piece that lies in another warehouse and comes over too late, in sums over both there", () => {
  const input = gasketsElsewhere();
  const made = solve(input);
  expect(made.settled.corrected).toBeGreaterThan(0);
  expect(made.settled.how).toBe(`all kits whole after ${made.settled.rounds} rounds`);
  expect(waitsOf(made)).toEqual([]);
  const installs = made.plan.placed.filter((p) => made.visits[p.visit]!.kind === "install");
  expect(installs).toHaveLength(4);
  // Sent on Monday, there on Thursday, picked that day for Friday at the earliest.
  for (const { startDay } of installs) expect(startDay).toBeGreaterThanOrEqual(4);
  expect(judge(made.problem, made.plan)).toEqual([]);
  // As the plan would be without looking at the shelves.
  const first = schedule(prepareProgramme(input).problem, { seed: "t", maxIterations: 60 });
  expect(first.ok && first.value.placed.some((p) => p.startDay < 4)).toBe(true);
});

test("a search that ends by the clock leaves time to correct what comes later, and corrections are no moves", () => {
  let asked = 0;
  const seen: number[] = [];
  const made = planProgramme(gasketsElsewhere(), {
    seed: "t",
    maxIterations: 1e9,
    timeShare: () => asked++ / 3000,
    onProgress: (p) => seen.push(p.iteration),
    progressEvery: 50,
  });
  // Whoever watches sees one search.
  expect(seen.length).toBeGreaterThan(2);
  expect(seen).toEqual([...seen].sort((a, b) => a - b));
  if (!made.ok) throw new Error(made.problems.map((p) => p.message).join());
  expect(made.value.settled.rounds).toBeGreaterThan(1);
  expect(waitsOf(made.value)).toEqual([]);
  expect(made.value.plan.cost).toMatchObject({ movedVisits: 0, movedDays: 0 });
});

test("time that runs out, or a stop, costs no visit its place and leaves no kit that comes too late", () => {
  const input = gasketsElsewhere();
  const made = (options: Pick<ProgrammeOptions, "timeShare" | "shouldStop">) => {
    const plan = planProgramme(input, { seed: "t", maxIterations: 1e9, ...options });
    if (!plan.ok) throw new Error(plan.problems.map((p) => p.message).join());
    return plan.value;
  };
  const endingAfter = (asks: number, share: number) => {
    let asked = 0;
    return () => (asked++ < asks ? (asked * share) / asks : 1);
  };
  const stopAfter = (asks: number) => {
    let asked = 0;
    return () => asked++ > asks;
  };
  for (const plan of [
    // Over as soon as the second round begins, and with the first.
    made({ timeShare: endingAfter(100, 0.65) }),
    made({ timeShare: endingAfter(100, 0.59) }),
    made({ shouldStop: stopAfter(100) }),
  ]) {
    expect(plan.plan.unplaced).toEqual([]);
    expect(plan.settled.corrected).toBeGreaterThan(0);
    expect(waitsOf(plan)).toEqual([]);
  }
});

test("no item of the default catalogue is missing for a sound design", () => {
  const codes = new Set(DEFAULT_CATALOGUE.map((i: CatalogueItem) => i.code));
  expect(base.kits.flatMap((k) => k.lines).filter((l) => !codes.has(l.itemCode))).toEqual([]);
});

test("an alignment too long for a day becomes two joint visits at each end, one after the other", () => {
  const { sites } = programme();
  const made = makeHop({
    id: "H9",
    scheme: "1+1 space diversity",
    diameterM: 1.8,
    mountHeightM: 70,
    near: { siteId: "S0" },
    far: { siteId: "S1" },
  });
  const tall = sites.map((s) => ({ ...s, structureHeightM: 90 }));
  const { visits, problem, plan } = solve(programme({ hops: [made], sites: tall }));
  expect(visits.map((v) => v.id)).toEqual([
    "H9/near/install",
    "H9/far/install",
    "H9/near/alignment",
    "H9/far/alignment",
    "H9/near/alignment-2",
    "H9/far/alignment-2",
  ]);
  expect(problem.visits.map((v) => v.after)).toEqual([[], [], [0, 1], [0, 1], [2, 3], [2, 3]]);
  expect(problem.visits.map((v) => v.togetherWith)).toEqual([undefined, undefined, 3, 2, 5, 4]);
  expect(plan.unplaced).toEqual([]);
  expect(judge(problem, plan)).toEqual([]);
  const day = (visit: number) => plan.placed.find((p) => p.visit === visit)!.startDay;
  expect(day(4)).toBeGreaterThan(day(2));
});

/** What each visit waits for, by id. */
function waits(made: ReturnType<typeof solve>): Record<string, string[]> {
  const { problem, visits } = made;
  return Object.fromEntries(
    visits.map((v, i) => [v.id, problem.visits[i]!.after.map((w) => visits[w]!.id).sort()]),
  );
}

test("aligned end after end, a hop needs no two crews at once: the far end follows the near end", () => {
  const { hops } = programme();
  const made = solve(programme({ hops: [{ ...hops[0]!, alignment: "end after end" }] }));
  expect(waits(made)).toEqual({
    "H1/near/install": [],
    "H1/far/install": [],
    "H1/near/alignment": ["H1/far/install", "H1/near/install"],
    "H1/far/alignment": ["H1/near/alignment"],
  });
  expect(made.problem.visits.every((v) => v.togetherWith === undefined)).toBe(true);
  expect(made.plan.unplaced).toEqual([]);
  expect(judge(made.problem, made.plan)).toEqual([]);
  const at = (id: string) => made.plan.placed.find((p) => made.visits[p.visit]!.id === id)!;
  const [near, far] = [at("H1/near/alignment"), at("H1/far/alignment")];
  expect([far.startDay, far.startMin] > [near.endDay, near.endMin]).toBe(true);
});

test("one crew alone can align end after end, never both ends at once", () => {
  const { hops, crews } = programme();
  const alone = (alignment: Hop["alignment"]) =>
    solve(programme({ hops: [{ ...hops[0]!, alignment }], crews: crews.slice(0, 1) }));
  expect(alone("end after end").plan.unplaced).toEqual([]);
  const together = alone("both ends at once");
  expect(together.plan.unplaced.map((u) => together.visits[u.visit]!.id)).toEqual([
    "H1/near/alignment",
    "H1/far/alignment",
  ]);
});

test("acceptance on visits of its own follows the alignment, which is shorter by the readings", () => {
  const { hops } = programme();
  const usual = solve(programme({ hops: [hops[0]!] }));
  const own = solve(programme({ hops: [{ ...hops[0]!, acceptance: "own visit" }] }));
  expect(waits(own)["H1/near/acceptance"]).toEqual(["H1/far/alignment", "H1/near/alignment"]);
  const minutes = (made: typeof own, id: string) => made.visits.find((v) => v.id === id)!.durationMin;
  expect(minutes(own, "H1/near/alignment")).toBeLessThan(minutes(usual, "H1/near/alignment"));
  // Nobody climbs for readings.
  const readings = own.visits.find((v) => v.id === "H1/near/acceptance")!;
  expect(new Set(readings.segments.map((s) => s.workClass))).toEqual(new Set(["indoor", "ground"]));
  expect(own.plan.unplaced).toEqual([]);
});

test("a revisit for the connections is planned with new material for them, aligning again at both ends at once", () => {
  const { hops } = programme();
  const done = new Set(["near", "far"].flatMap((s) => [`H1/${s}/install`, `H1/${s}/alignment`]));
  const again = (side: "near" | "far", remedy: Revisit["remedy"], isJoint: boolean): Revisit => ({
    hopCode: "H1",
    side,
    no: 1,
    remedy,
    isJoint,
    cause: "read off",
  });
  const one = solve(programme({ hops: [hops[0]!], done, revisits: [again("far", "connections", false)] }));
  expect(one.visits.map((v) => v.id)).toEqual(["H1/far/revisit"]);
  const install = solve(programme({ hops: [hops[0]!] })).visits[1]!;
  const codes = one.visits[0]!.lines.map((l) => l.itemCode);
  expect(codes.length).toBeGreaterThan(0);
  const quantity = (lines: typeof install.lines, code: string) =>
    lines.filter((l) => l.itemCode === code).map((l) => l.quantity);
  for (const code of codes) {
    expect(quantity(one.visits[0]!.lines, code)).toEqual(quantity(install.lines, code));
  }
  expect(one.visits[0]!.massKg).toBeLessThan(install.massKg);
  expect(one.visits[0]!.durationMin).toBeLessThan(install.durationMin);
  expect(one.plan.unplaced).toEqual([]);
  // Netting the plan anew takes the visits from the same place: the kit of the revisit stays.
  const input = programme({ hops: [hops[0]!], done, revisits: [again("far", "connections", false)] });
  const crew = referenceCrew(input.crews, input.today);
  const worked = new Map([
    ["H1", new HopWorker(takeoffContext(input), input.norms, crew, input.calibration).work(hops[0]!)],
  ]);
  expect(openVisits(input, worked)).toEqual(one.visits);

  const both = solve(
    programme({
      hops: [hops[0]!],
      done,
      revisits: [again("near", "align again", true), again("far", "align again", true)],
    }),
  );
  expect(both.problem.visits.map((v) => v.togetherWith)).toEqual([1, 0]);
  const [a, b] = both.plan.placed;
  expect([a!.startDay, a!.startMin]).toEqual([b!.startDay, b!.startMin]);
  expect(a!.crew).not.toBe(b!.crew);
});

test("practice and accepted factors stretch a crew's own pace, scheme by scheme", () => {
  const f = (factor: number) => ({ factor, actuals: 9 });
  const { problem } = prepareProgramme(
    programme({
      completedEnds: { A: { "1+0": 10 } },
      calibration: {
        ...NO_CALIBRATION,
        version: 1,
        crews: { B: f(1.2) },
        crewSchemes: { B: { "1+0": f(0.9) } },
      },
    }),
  );
  const paces = problem.crews.map((c) => crewPace(c, problem.visits[0]!));
  const of = (code: string) => paces[problem.crews.findIndex((c) => c.code === code)]!;
  // A has done twenty ends with the ten taken as done before: the norm. B is at its eleventh.
  expect(of("A")).toBeCloseTo(1, 9);
  expect(of("B")).toBeCloseTo(1.0452 * 1.2 * 0.9, 3);
});

test("a crew's pace hangs on its people, not on which hops the programme happens to have", () => {
  const whole = programme();
  const [a, b] = whole.crews;
  const small = { ...b!, members: b!.members.slice(0, 2) };
  const [low, other] = whole.hops;
  const lifted = other!.near.antennas.map((antenna) => ({
    ...antenna,
    mountHeightM: 3 * antenna.mountHeightM,
  }));
  const hops = [low!, { ...other!, near: { ...other!.near, antennas: lifted } }];
  const pacesWith = (some: typeof hops) =>
    prepareProgramme({ ...whole, crews: [a!, small], hops: some }).problem.crews.map((c) => c.pace);
  const [reference, slower] = pacesWith(hops);
  expect(reference).toBeCloseTo(a!.pace, 9);
  expect(slower).toBeGreaterThan(small.pace * 1.02);
  for (const left of hops.keys())
    expect(pacesWith(hops.filter((_, i) => i !== left))).toEqual([reference, slower]);
});

test("an accepted factor of all installs makes install visits longer after the set-up, and them only", () => {
  const before = prepareProgramme(programme());
  const after = prepareProgramme(
    programme({
      calibration: { ...NO_CALIBRATION, version: 1, work: { install: { factor: 1.5, actuals: 9 } } },
    }),
  );
  const minutes = (p: typeof before, kind: string) => {
    const v = p.problem.visits.find((x) => x.kind === kind)!;
    return { setup: v.setupMin, work: v.segments.reduce((sum, s) => sum + s.durationMin, 0) };
  };
  expect(minutes(after, "install").setup).toBe(minutes(before, "install").setup);
  expect(minutes(after, "install").work / minutes(before, "install").work).toBeCloseTo(1.5, 1);
  expect(minutes(after, "alignment")).toEqual(minutes(before, "alignment"));
});

test("a plan keeps spares back for the radios that it puts up itself, whatever is in force", () => {
  const odu = DEFAULT_CATALOGUE.find((i) => i.category === "ODU")!.code;
  const made = programme();
  const kept = (repairDays: number) => {
    const spareDemand: SpareDemand = {
      shelves: [
        {
          itemCode: odu,
          placeCode: "W",
          installed: 0,
          toCome: ["H1/near/install", "H1/far/install", "H2/near/install"],
          level: 0.95,
          fixed: null,
        },
      ],
      deadShare: 0.5,
      failuresPerYear: 0,
      repairDays,
    };
    const { plan, visits, netting } = solve({ ...made, spareDemand });
    const soon = plan.placed.filter(
      (p) => spareDemand.shelves[0]!.toCome.includes(visits[p.visit]!.id) && p.startDay <= repairDays,
    ).length;
    return { soon, spares: netting.rows.find((r) => r.itemCode === odu)?.spares ?? 0 };
  };
  // Nothing is in force, and all three begin within six weeks.
  expect(kept(42)).toEqual({ soon: 3, spares: sparesFor(1.5, 0.95) });
  // Nothing begins before today.
  expect(kept(-1)).toEqual({ soon: 0, spares: 0 });
});

test("a plan's kits are promised what expires in the order in which the shelf fills them, box by box", () => {
  const made = programme();
  const tube = made.catalogue.find((i) => i.name.startsWith("Gasket lubricant"))!;
  const shelf = { placeCode: "W", onHand: 1, lots: [{ lastDay: 300, quantity: 1 }] };
  const input = {
    ...made,
    stock: made.stock.map((s) => (s.itemCode === tube.code ? { ...s, shelves: [shelf] } : s)),
  };
  const { problem, visits } = prepareProgramme(input);
  const of = (id: string) => visits.findIndex((v) => v.id === id);
  const placed = (first: string, second: string) =>
    [first, second].map((id, crew) => ({ visit: of(id), crew, startDay: 1 + 2 * crew, startMin: 480 }));
  const ready = (order: ReturnType<typeof placed>) => {
    const served = servedInTurn(problem, input, visits, order);
    const whole = readyKits(input, visits, { placed: order as PlacedVisit[] });
    return Object.fromEntries(
      ["H1/near/install", "H2/near/install"].map((id) => [
        id.slice(0, 2),
        [served.problem.visits[of(id)]!.kitReadyDay, whole.get(id)!.bindingItem],
      ]),
    );
  };
  // By shares one tube does for all of them; two vehicles open two.
  expect(problem.visits.map((v) => v.kitReadyDay)).toEqual(problem.visits.map(() => 0));
  const late = startAfter(addDays(today, tube.leadTimeDays), 1, today);
  expect(ready(placed("H1/near/install", "H2/near/install"))).toEqual({
    H1: [0, undefined],
    H2: [late, tube.code],
  });
  // Though H1 was promised first: the planner, the risk and the shelf serve who starts first.
  expect(ready(placed("H2/near/install", "H1/near/install"))).toEqual({
    H1: [late, tube.code],
    H2: [0, undefined],
  });
});

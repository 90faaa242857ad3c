/** The ledger in the database, held to the plain reference of lib/stock, and written to by eight processes at once. */
import { spawn } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import fc from "fast-check";
import { afterEach, describe, expect, it } from "vitest";
import { memoryDatabase, migrateDatabase } from "@/db/migrate";
import { type Db, openDatabase } from "@/db/open";
import { saveItem } from "@/db/queries/catalogue";
import { saveDrum } from "@/db/queries/drums";
import {
  ledgerDifferences,
  ledgerRefusal,
  type NewMovement,
  postMovement,
  reverseMovement,
} from "@/db/queries/ledger";
import { savePlace } from "@/db/queries/places";
import { loadBalances, saveLot } from "@/db/queries/shelves";
import {
  balanceOf,
  EMPTY_LEDGER,
  type Ledger,
  type Movement,
  postMovement as postReference,
  reversalOf,
} from "@/lib/stock";
import { DEFAULT_CATALOGUE } from "@/lib/takeoff";
import { addDays, type CalendarDate } from "@/lib/time";

const DAY = "2026-03-02" as CalendarDate;
const PLACES = ["WH", "VAN"] as const;
const DRUM_C = 10_000;
const CABLE = DEFAULT_CATALOGUE.find((i) => i.category === "IF cable")!;
const PIECE = DEFAULT_CATALOGUE.find((i) => i.unit === "piece" && !i.shelfLifeDays)!;
const AGEING = DEFAULT_CATALOGUE.find((i) => i.shelfLifeDays !== undefined)!;

function stocked(db: Db): Db {
  for (const i of [CABLE, PIECE, AGEING]) saveItem(db, i);
  savePlace(db, { code: "WH", name: "Warehouse", kind: "warehouse", latDeg: null, lonDeg: null });
  savePlace(db, { code: "VAN", name: "Vehicle", kind: "vehicle", latDeg: null, lonDeg: null });
  savePlace(db, { code: "HOLD", name: "Hold", kind: "hold", latDeg: null, lonDeg: null });
  savePlace(db, { code: "REP", name: "Repairer", kind: "repair", latDeg: null, lonDeg: null });
  for (const serial of ["D1", "D2"]) saveDrum(db, { serial, itemCode: CABLE.code, receivedC: DRUM_C });
  for (const code of ["L1", "L2"]) saveLot(db, { code, itemCode: AGEING.code });
  return db;
}

type FaultKind = "quality hold" | "release" | "to repair" | "from repair" | "exchange" | "to supplier";
const FAULT_KINDS: readonly FaultKind[] = [
  "quality hold",
  "release",
  "to repair",
  "from repair",
  "exchange",
  "to supplier",
];
const isFaultKind = (kind: Step["kind"]): kind is FaultKind =>
  (FAULT_KINDS as readonly string[]).includes(kind);
const PLACE_KINDS = new Map([
  ["WH", "warehouse"],
  ["VAN", "vehicle"],
  ["HOLD", "hold"],
  ["REP", "repair"],
] as const);

interface Step {
  kind:
    | "receipt"
    | "issue"
    | "return"
    | "transfer"
    | "cut"
    | "count adjustment"
    | "scrap"
    | FaultKind
    | "reversal"
    | "again";
  thing: 0 | 1 | 2 | 3;
  way: 0 | 1;
  quantity: number;
  day: number;
  pick: number;
}

const step: fc.Arbitrary<Step> = fc.record({
  kind: fc.constantFrom(
    "receipt",
    "receipt",
    "issue",
    "return",
    "transfer",
    "cut",
    "count adjustment",
    "scrap",
    "quality hold",
    "quality hold",
    "quality hold",
    "release",
    "to repair",
    "to repair",
    "from repair",
    "exchange",
    "to supplier",
    "reversal",
    "reversal",
    "reversal",
    "again",
    "again",
  ),
  thing: fc.constantFrom(0, 1, 2, 3),
  way: fc.constantFrom(0, 1),
  quantity: fc.integer({ min: 1, max: 6 }),
  day: fc.integer({ min: 0, max: 5 }),
  pick: fc.nat(1_000),
});

/** The step as a row for the reference; undefined where it makes none. */
function rowOf(s: Step, n: number, posted: readonly Movement[]): Movement | undefined {
  const base = { id: `r${n}`, key: `k${n}`, on: addDays(DAY, s.day), by: "Test", reason: "test" };
  if (s.kind === "again") return posted[s.pick % Math.max(1, posted.length)];
  if (s.kind === "reversal") {
    const original = posted[s.pick % Math.max(1, posted.length)];
    return original && reversalOf(original, base);
  }
  if (isFaultKind(s.kind)) return faultRow(s, s.kind, base);
  const drum = s.thing >= 2 ? (s.thing === 2 ? "D1" : "D2") : undefined;
  if ((s.kind === "cut") !== (drum !== undefined) && (s.kind === "cut" || s.kind === "return"))
    return undefined;
  if (drum && (s.kind === "return" || s.kind === "count adjustment")) return undefined;
  const whole = drum && (s.kind === "receipt" || (s.kind === "transfer" && s.quantity > 3));
  const here = PLACES[s.way]!;
  const there = PLACES[1 - s.way]!;
  const from = s.kind === "receipt" || s.kind === "return" ? undefined : here;
  const to = s.kind === "receipt" || s.kind === "return" ? here : s.kind === "transfer" ? there : undefined;
  // What is scrapped lies on a shelf, on hold or at the repairer's.
  const aside = s.kind === "scrap" && !drum ? [undefined, "HOLD", "REP"][s.pick % 3] : undefined;
  const isCountUp = s.kind === "count adjustment" && s.pick % 2 === 0;
  return {
    ...base,
    kind: s.kind,
    owner: "contractor",
    itemCode: drum ? CABLE.code : s.thing === 0 ? PIECE.code : AGEING.code,
    quantity: whole ? DRUM_C / 100 : drum ? s.quantity * 10 : s.quantity,
    ...(isCountUp ? { toPlaceId: here } : from ? { fromPlaceId: aside ?? from } : {}),
    ...(to ? { toPlaceId: to } : {}),
    ...(s.thing === 1 ? { lotId: s.pick % 2 ? "L1" : "L2" } : {}),
    ...(drum ? { drumId: drum } : {}),
  };
}

/** A step of a faulty piece, with one of three serials or none; now and then one that does not go that way. */
function faultRow(
  s: Step,
  kind: FaultKind,
  base: Pick<Movement, "id" | "key" | "on" | "by" | "reason">,
): Movement {
  const serial = [undefined, "S1", "S2", "S3"][s.pick % 4];
  const shelf = s.quantity === 6 ? "VAN" : "WH";
  const ways: Record<FaultKind, [from?: string, to?: string]> = {
    "quality hold": [s.quantity === 1 ? undefined : shelf, "HOLD"],
    release: ["HOLD", shelf],
    "to repair": ["HOLD", s.quantity === 6 ? "WH" : "REP"],
    "from repair": ["REP", shelf],
    exchange: s.way === 0 ? ["REP", undefined] : [undefined, shelf],
    // A return to outside the places; from a shelf it is none.
    "to supplier": [s.quantity === 6 ? shelf : "HOLD", undefined],
  };
  const [fromPlaceId, toPlaceId] = ways[kind];
  return {
    ...base,
    kind: kind === "to supplier" ? "return" : kind,
    owner: "contractor",
    itemCode: PIECE.code,
    quantity: serial ? 1 : 1 + (s.thing % 2),
    ...(serial ? { serial } : {}),
    ...(fromPlaceId ? { fromPlaceId } : {}),
    ...(toPlaceId ? { toPlaceId } : {}),
  };
}

const keysOf = (rows: readonly { key: string; quantity: number }[]) =>
  rows.map((r) => `${r.key}=${r.quantity}`).sort();

const referenceBalances = (ledger: Ledger) =>
  keysOf(
    balanceOf(ledger.movements).map((b) => ({
      key: [b.itemCode, b.placeId, b.lotId ?? "", b.drumId ?? "", b.owner].join("|"),
      quantity: Math.round(b.quantity * 100),
    })),
  );

const storedBalances = (db: Db) =>
  keysOf(
    loadBalances(db).map((b) => ({
      key: [b.itemCode, b.placeCode, b.lotCode, b.drumSerial, b.owner].join("|"),
      quantity: b.quantityC,
    })),
  );

/** Posts to the database; the ledger's words when it refuses. */
function post(
  db: Db,
  m: Movement,
  ids: ReadonlyMap<string, number>,
): { id: number; isNew: boolean } | string {
  const row: NewMovement = {
    key: m.key,
    kind: m.kind,
    itemCode: m.itemCode,
    lotCode: m.lotId,
    drumSerial: m.drumId,
    serial: m.serial,
    owner: m.owner,
    fromPlace: m.fromPlaceId,
    toPlace: m.toPlaceId,
    quantityC: Math.round(m.quantity * 100),
    effectiveOn: m.on,
    postedAt: 0,
    reason: m.reason,
    postedBy: m.by,
  };
  try {
    if (m.reverses === undefined) return postMovement(db, row);
    const { key, effectiveOn, postedAt, reason, postedBy } = row;
    return reverseMovement(db, ids.get(m.reverses)!, { key, effectiveOn, postedAt, reason, postedBy })!;
  } catch (error) {
    const cause = (error as Error).cause ?? error;
    const isRule =
      ledgerRefusal(error) ??
      ((cause as { code?: string }).code?.startsWith("SQLITE_CONSTRAINT") && "constraint");
    if (!isRule) throw error;
    return String(isRule);
  }
}

describe("the ledger in the database", () => {
  it("accepts what the reference accepts, refuses what it refuses, and holds the same balances", () => {
    let accepted = 0;
    let refusedRows = 0;
    let again = 0;
    let back = 0;
    const ofFaults = { accepted: 0, refused: 0 };
    fc.assert(
      fc.property(fc.array(step, { minLength: 5, maxLength: 40 }), (steps) => {
        const db = stocked(memoryDatabase());
        let ledger: Ledger = { ...EMPTY_LEDGER, placeKinds: PLACE_KINDS };
        const ids = new Map<string, number>();
        steps.forEach((s, n) => {
          const row = rowOf(s, n, ledger.movements);
          if (!row) return;
          const expected = postReference(ledger, row);
          const got = post(db, row, ids);
          const told = expected.ok ? "accepted" : expected.problems.map((p) => p.rule).join(", ");
          expect(
            typeof got !== "string",
            `${JSON.stringify(row)}: reference ${told}, database ${String(got)}`,
          ).toBe(expected.ok);
          const isFault = (FAULT_KINDS as readonly string[]).includes(row.kind);
          if (isFault) ofFaults[expected.ok ? "accepted" : "refused"]++;
          if (!expected.ok) {
            refusedRows++;
            return;
          }
          if (typeof got === "string") return;
          if (s.kind === "again") {
            expect(got.isNew).toBe(false);
            again++;
          }
          if (s.kind === "reversal") back++;
          accepted++;
          ledger = expected.value;
          ids.set(row.id, got.id);
        });
        expect(storedBalances(db)).toEqual(referenceBalances(ledger));
        expect(ledgerDifferences(db)).toEqual([]);
        expect(storedBalances(db).every((b) => !b.includes("=-"))).toBe(true);
        db.$client.close();
      }),
      { numRuns: 200, seed: 20260316 },
    );
    // The draw must reach every kind of answer, or the agreement says little.
    expect(Math.min(accepted, refusedRows, again, back, ofFaults.accepted, ofFaults.refused)).toBeGreaterThan(
      50,
    );
  });

  it("conserves the metres of a drum: received = cut + allowance + left", () => {
    const db = stocked(memoryDatabase());
    const row = {
      itemCode: CABLE.code,
      drumSerial: "D1",
      owner: "contractor" as const,
      effectiveOn: DAY,
      postedAt: 0,
      reason: "test",
      postedBy: "Test",
    };
    postMovement(db, { ...row, key: "in", kind: "receipt", toPlace: "WH", quantityC: DRUM_C });
    let gone = 0;
    for (const [n, cm] of [2_345, 1_999, 3_101].entries()) {
      postMovement(db, { ...row, key: `cut ${n}`, kind: "cut", fromPlace: "WH", quantityC: cm });
      postMovement(db, { ...row, key: `saw ${n}`, kind: "scrap", fromPlace: "WH", quantityC: 20 });
      gone += cm + 20;
      expect(loadBalances(db, CABLE.code)[0]!.quantityC + gone).toBe(DRUM_C);
    }
    expect(() =>
      postMovement(db, {
        ...row,
        key: "too much",
        kind: "cut",
        fromPlace: "WH",
        quantityC: DRUM_C - gone + 1,
      }),
    ).toThrow(/below zero/);
  });

  it("never moves a part of a drum into the past", () => {
    const db = stocked(memoryDatabase());
    const row = {
      itemCode: CABLE.code,
      drumSerial: "D1",
      owner: "contractor" as const,
      postedAt: 0,
      reason: "test",
      postedBy: "Test",
    };
    const on = (n: number) => addDays(DAY, n);
    postMovement(db, {
      ...row,
      key: "in",
      kind: "receipt",
      toPlace: "WH",
      quantityC: DRUM_C,
      effectiveOn: on(0),
    });
    postMovement(db, {
      ...row,
      key: "cut",
      kind: "cut",
      fromPlace: "WH",
      quantityC: 2_000,
      effectiveOn: on(5),
    });
    expect(() =>
      postMovement(db, {
        ...row,
        key: "back",
        kind: "transfer",
        fromPlace: "WH",
        toPlace: "VAN",
        quantityC: 8_000,
        effectiveOn: on(3),
      }),
    ).toThrow(/one place/);
  });

  it("holds a backdated row against every row after it, not against the ends of days", () => {
    const db = stocked(memoryDatabase());
    const row = {
      itemCode: PIECE.code,
      owner: "contractor" as const,
      postedAt: 0,
      reason: "test",
      postedBy: "Test",
    };
    const on = (n: number) => addDays(DAY, n);
    postMovement(db, {
      ...row,
      key: "a",
      kind: "receipt",
      toPlace: "WH",
      quantityC: 500,
      effectiveOn: on(0),
    });
    postMovement(db, {
      ...row,
      key: "b",
      kind: "issue",
      fromPlace: "WH",
      quantityC: 500,
      effectiveOn: on(5),
    });
    postMovement(db, {
      ...row,
      key: "c",
      kind: "receipt",
      toPlace: "WH",
      quantityC: 500,
      effectiveOn: on(5),
    });
    expect(() =>
      postMovement(db, {
        ...row,
        key: "d",
        kind: "scrap",
        fromPlace: "WH",
        quantityC: 500,
        effectiveOn: on(3),
      }),
    ).toThrow(/later day/);
  });

  it("refuses to change or delete a row", () => {
    const db = stocked(memoryDatabase());
    postMovement(db, {
      key: "a",
      kind: "receipt",
      itemCode: PIECE.code,
      owner: "contractor",
      toPlace: "WH",
      quantityC: 100,
      effectiveOn: DAY,
      postedAt: 0,
      reason: "test",
      postedBy: "Test",
    });
    expect(() => db.$client.exec("UPDATE movement SET quantity_c = 200")).toThrow(/never changed/);
    expect(() => db.$client.exec("DELETE FROM movement")).toThrow(/never deleted/);
  });
});

describe("eight writers at once", () => {
  const folder = mkdtempSync(path.join(tmpdir(), "bothends-ledger-"));
  afterEach(() => rmSync(folder, { recursive: true, force: true }));

  const OPERATIONS = 1_250;
  const TRANSFERS = 100;

  it("keep nothing below nought, nothing twice, and every metre, through 10,000 random operations", async () => {
    const file = path.join(folder, "ledger.sqlite");
    const db = openDatabase(file);
    migrateDatabase(db);
    stormStock(db);
    const writer = path.join(import.meta.dirname, "ledgerWriter.ts");
    const before = db.$client.prepare("SELECT COUNT(*) FROM movement").pluck().get() as number;
    const answers = await Promise.all(
      Array.from({ length: 8 }, (_, n) =>
        run(writer, [file, String(n), String(OPERATIONS), PIECE.code, CABLE.code]),
      ),
    );
    const sum = (of: (a: Written) => number) => answers.reduce((total, a) => total + of(a), 0);
    expect(answers.every((a) => a.posted > 0 && a.refused > 0 && a.repeated > 0)).toBe(true);
    // A writer that comes last may find every transfer moved.
    expect(sum((a) => a.moved)).toBeGreaterThan(0);
    const one = (sql: string) => db.$client.prepare(sql).pluck().get() as number;

    // Nothing doubled: as many rows as were said to be posted, each key, run and transfer once.
    expect(one("SELECT COUNT(*) FROM movement")).toBe(before + sum((a) => a.posted));
    expect(one("SELECT COUNT(*) - COUNT(DISTINCT key) FROM movement")).toBe(0);
    expect(one("SELECT COUNT(*) - COUNT(DISTINCT run_id) FROM movement WHERE kind = 'cut'")).toBe(0);
    expect(one("SELECT COUNT(*) FROM movement WHERE key LIKE 'shared %'")).toBe(40);
    expect(one("SELECT COUNT(*) FROM stock_transfer WHERE state = 'moved'")).toBe(sum((a) => a.moved));
    expect(
      one(`SELECT COUNT(*) FROM stock_transfer t WHERE
           (SELECT COALESCE(SUM(quantity_c), 0) FROM movement m WHERE m.reason = 'Planned transfer ' || t.id AND m.kind = 'transfer')
           <> CASE t.state WHEN 'moved' THEN 100 ELSE 0 END`),
    ).toBe(0);

    // Nothing negative: not now, and not after any row on any day.
    expect(ledgerDifferences(db)).toEqual([]);
    expect(one("SELECT MIN(quantity_c) FROM balance")).toBeGreaterThanOrEqual(0);
    expect(
      one(`SELECT MIN(running) FROM (
             SELECT SUM(q) OVER (PARTITION BY item_code, place, lot_code, drum_serial, owner ORDER BY effective_on, id) AS running
             FROM (SELECT id, effective_on, item_code, lot_code, drum_serial, owner, to_place AS place, quantity_c AS q
                   FROM movement WHERE to_place IS NOT NULL
                   UNION ALL
                   SELECT id, effective_on, item_code, lot_code, drum_serial, owner, from_place, -quantity_c
                   FROM movement WHERE from_place IS NOT NULL))`),
    ).toBe(0);

    // Serials: each row starts where the row before left the piece, once it is on hold or in repair; all kinds occurred.
    const steps = db.$client
      .prepare(
        `SELECT serial, m.kind, from_place AS "from", to_place AS "to" FROM movement m
         WHERE serial IS NOT NULL ORDER BY serial, effective_on, id`,
      )
      .all() as { serial: string; kind: string; from: string | null; to: string | null }[];
    const isFollowed = (place: string | null) => place === "HOLD" || place === "REP";
    const torn = steps.filter((step, n) => {
      const before = steps[n - 1]?.serial === step.serial ? steps[n - 1]!.to : null;
      return (isFollowed(before) || isFollowed(step.from)) && before !== step.from;
    });
    expect(torn).toEqual([]);
    expect(new Set(steps.map((step) => step.kind))).toEqual(
      new Set(["quality hold", "release", "to repair", "from repair", "exchange", "scrap", "reversal"]),
    );
    // Nothing lost aside: what stands there with a serial and without makes the balance, and no serial stands twice.
    for (const place of ["HOLD", "REP"]) {
      const named = one(
        `SELECT COUNT(*) FROM (SELECT serial, to_place, ROW_NUMBER() OVER (PARTITION BY serial ORDER BY effective_on DESC, id DESC) AS n
           FROM movement WHERE serial IS NOT NULL) WHERE n = 1 AND to_place = '${place}'`,
      );
      const lying = one(`SELECT COALESCE(SUM(quantity_c), 0) FROM balance WHERE place_code = '${place}'`);
      expect(lying).toBeGreaterThanOrEqual(100 * named);
    }

    // Every metre: received = cut + saw allowance + left, drum by drum, each in one place.
    const drums = db.$client
      .prepare(
        `SELECT d.received_c AS received,
           (SELECT COALESCE(SUM(quantity_c), 0) FROM movement WHERE drum_serial = d.serial AND kind IN ('cut','scrap')) AS gone,
           (SELECT COALESCE(SUM(quantity_c), 0) FROM balance WHERE drum_serial = d.serial) AS "left",
           (SELECT COUNT(*) FROM balance WHERE drum_serial = d.serial AND quantity_c > 0) AS places
         FROM drum d`,
      )
      .all() as { received: number; gone: number; left: number; places: number }[];
    expect(drums).toHaveLength(30);
    expect(drums.filter((d) => d.received !== d.gone + d.left || d.places > 1)).toEqual([]);
    expect(drums.reduce((total, d) => total + d.gone, 0)).toBeGreaterThan(0);
    expect(one("SELECT COUNT(*) FROM movement WHERE kind = 'cut'")).toBe(
      one("SELECT COUNT(*) FROM movement WHERE key LIKE 'saw %'"),
    );
    db.$client.close();
  }, 300_000);

  /** Three places, pieces on two of them, thirty drums, and transfers that somebody decided on. */
  function stormStock(db: Db): void {
    for (const i of [CABLE, PIECE]) saveItem(db, i);
    for (const code of ["WH", "WH2"])
      savePlace(db, { code, name: code, kind: "warehouse", latDeg: null, lonDeg: null });
    savePlace(db, { code: "VAN", name: "Vehicle", kind: "vehicle", latDeg: null, lonDeg: null });
    savePlace(db, { code: "HOLD", name: "Hold", kind: "hold", latDeg: null, lonDeg: null });
    savePlace(db, { code: "REP", name: "Repairer", kind: "repair", latDeg: null, lonDeg: null });
    const receive = (key: string, part: Partial<NewMovement>) =>
      postMovement(db, {
        key,
        kind: "receipt",
        itemCode: PIECE.code,
        owner: "contractor",
        toPlace: "WH",
        quantityC: 2_000,
        effectiveOn: DAY,
        postedAt: 0,
        reason: "test",
        postedBy: "Test",
        ...part,
      });
    receive("start 1", {});
    receive("start 2", { toPlace: "WH2" });
    for (let n = 1; n <= 30; n++) {
      const serial = `D${n}`;
      saveDrum(db, { serial, itemCode: CABLE.code, receivedC: DRUM_C });
      receive(serial, { itemCode: CABLE.code, drumSerial: serial, quantityC: DRUM_C });
    }
    const plan = db.$client.prepare(
      `INSERT INTO stock_transfer (item_code, from_place, to_place, quantity_c, send_on, arrive_on, state, planned_by, planned_at)
       VALUES (?, 'WH', 'WH2', 100, ?, ?, 'planned', 'Test', 0)`,
    );
    for (let n = 0; n < TRANSFERS; n++) plan.run(PIECE.code, DAY, DAY);
  }
});

interface Written {
  posted: number;
  refused: number;
  /** Operations whose key, run or drum somebody else had used already. */
  repeated: number;
  moved: number;
}

/** Runs the writer and reads its last line. */
function run(script: string, args: string[]): Promise<Written> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, ["--import", "tsx", script, ...args], {
      cwd: path.join(import.meta.dirname, "../.."),
      stdio: ["ignore", "pipe", "pipe"],
    });
    let out = "";
    let err = "";
    child.stdout.on("data", (t: Buffer) => (out += t));
    child.stderr.on("data", (t: Buffer) => (err += t));
    child.once("exit", (code) =>
      code === 0 ? resolve(JSON.parse(out)) : reject(new Error(`writer ended with ${code}: ${err}`)),
    );
  });
}

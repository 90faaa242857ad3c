/** Kits of the plan in force: what to pick from which lot, ticking off, issue to the crew's vehicle, return of unused. */

import { and, eq } from "drizzle-orm";
import { type Phrase, phrase, shortFigure } from "@/lib/phrase";
import { ok, type Problem, type Result, refused, sentences } from "@/lib/result";
import type { EndSide, ItemCategory, Owner } from "@/lib/site";
import { pickLots } from "@/lib/stock";
import type { CalendarDate } from "@/lib/time";
import { remembered } from "../dataState";
import type { Db } from "../open";
import { item, place, planVisit, site } from "../schema";
import { loadCrews, setVehicle } from "./crews";
import { ledgerReason } from "./ledgerReasons";
import { loadCutting, loadKit, type PlanHead, type StoredKit, setKitState, setPicked } from "./plans";
import { addLogEntry } from "./reports";
import {
  cutsMade,
  ledgerRefusal,
  loadBalances,
  loadDrums,
  loadLots,
  reverseMovement,
  tryMovement,
  wholeOrNothing,
} from "./stock";
import { type ComingTransfer, transfersTo } from "./transfers";

export type KitState = StoredKit["state"];

export interface KitRow {
  visitId: string;
  hopCode: string;
  side: EndSide;
  siteCode: string;
  siteName: string;
  crewCode: string | null;
  startOn: CalendarDate | null;
  pickOn: CalendarDate;
  placeCode: string;
  placeName: string;
  state: KitState;
  massKg: number;
  volumeL: number;
  lineCount: number;
  shortCount: number;
  pickedCount: number;
}

/** All kits of a plan in picking order. */
export function loadKitRows(db: Db, planId: number): readonly KitRow[] {
  return remembered(db, `kits ${planId}`, ["design", "plan", "kits", "crews"], () => readKitRows(db, planId));
}

function readKitRows(db: Db, planId: number): KitRow[] {
  return db.$client
    .prepare(
      `SELECT k.visit_id AS visitId, v.hop_code AS hopCode, v.side, v.site_code AS siteCode, s.name AS siteName,
              v.crew_code AS crewCode, v.start_on AS startOn, k.pick_on AS pickOn, k.place_code AS placeCode,
              COALESCE(p.name, k.place_code) AS placeName, k.state, k.mass_kg AS massKg, k.volume_l AS volumeL,
              COUNT(l.line_no) AS lineCount, COALESCE(SUM(l.short_c > 0), 0) AS shortCount,
              COALESCE(SUM(l.picked_c > 0), 0) AS pickedCount
       FROM kit k
       JOIN plan_visit v ON v.plan_id = k.plan_id AND v.visit_id = k.visit_id
       JOIN site s ON s.code = v.site_code
       LEFT JOIN place p ON p.code = k.place_code
       LEFT JOIN kit_line l ON l.plan_id = k.plan_id AND l.visit_id = k.visit_id
       WHERE k.plan_id = ?
       GROUP BY k.visit_id ORDER BY k.pick_on, v.start_on, v.start_min, k.visit_id`,
    )
    .all(planId) as KitRow[];
}

/** Where a part of a line is taken from. */
export interface PickSource {
  lotCode: string;
  owner: Owner;
  quantityC: number;
  expiresOn: CalendarDate | null;
  /** A kit that is picked earlier counts on it. */
  isClaimed: boolean;
}

export interface KitLineView {
  lineNo: number;
  itemCode: string;
  name: string;
  unit: string;
  massKg: number;
  neededC: number;
  /** What goes into the box: whole units, except metres. */
  boxC: number;
  pickedC: number;
  shortC: number;
  reason: string;
  runId: string | null;
  drumSerial: string | null;
  /** Where the drum stands when that is not the kit's warehouse: the run is cut there and must come over. */
  drumPlace: string | null;
  /** The cut's marks by the plan's cutting list, once it is there. */
  marks: { fromCm: number; toCm: number } | null;
  /** What the ledger says of the run. */
  cut: { quantityC: number; effectiveOn: CalendarDate; drumSerial: string } | null;
  sources: PickSource[];
  /** What the kit's warehouse does not hold. */
  missingC: number;
  countedAs: CountedAs;
  /** What it is in the box as somebody counts: of what is picked, before that of what is wanted. */
  things: number;
  /** Other warehouses that do, with how much. */
  elsewhere: { placeCode: string; quantityC: number }[];
  /** Transfers that bring a short line's item to the kit's warehouse, the first to come first. */
  transfers: ComingTransfer[];
}

export interface KitView {
  visitId: string;
  hopCode: string;
  side: EndSide;
  siteCode: string;
  siteName: string;
  crewCode: string | null;
  startOn: CalendarDate | null;
  startMin: number | null;
  pickOn: CalendarDate;
  placeCode: string;
  placeName: string;
  state: KitState;
  massKg: number;
  volumeL: number;
  vehiclePlace: string | null;
  payloadKg: number | null;
  lines: KitLineView[];
}

/** What goes into the box for an exact need: nobody picks 0.4 of a roll; metres are cut to length. */
export function boxQuantityC(neededC: number, unit: string): number {
  return unit === "m" ? neededC : Math.ceil(neededC / 100) * 100;
}

interface Shelf {
  lotCode: string;
  owner: Owner;
  quantityC: number;
  expiresOn: CalendarDate | null;
}

/** What warehouses hold in lots that are good on `onDay`, without drums: place and item -> lots. */
function shelves(db: Db, onDay: CalendarDate): Map<string, Shelf[]> {
  const expiry = new Map(loadLots(db).map((l) => [l.code, l.expiresOn]));
  const map = new Map<string, Shelf[]>();
  for (const b of loadBalances(db)) {
    if (b.drumSerial !== "") continue;
    const expiresOn = expiry.get(b.lotCode) ?? null;
    if (expiresOn !== null && expiresOn < onDay) continue;
    const key = `${b.placeCode} ${b.itemCode}`;
    const list = map.get(key) ?? [];
    list.push({ lotCode: b.lotCode, owner: b.owner, quantityC: b.quantityC, expiresOn });
    map.set(key, list);
  }
  return map;
}

/** Takes a quantity from shelves, first expired first out, and lowers them. */
function take(shelf: Shelf[], wantedC: number, onDay: CalendarDate): Omit<PickSource, "isClaimed">[] {
  const { picks } = pickLots(
    shelf.map((s, i) => ({
      lotId: String(i),
      quantity: s.quantityC,
      expiresOn: s.expiresOn ?? undefined,
      receivedOn: onDay,
    })),
    wantedC,
    onDay,
  );
  return picks.map(({ lotId, quantity }) => {
    const s = shelf[Number(lotId)]!;
    s.quantityC -= quantity;
    return { lotCode: s.lotCode, owner: s.owner, quantityC: quantity, expiresOn: s.expiresOn };
  });
}

/** Lowers shelves by what was taken elsewhere from a copy of them. */
function lower(shelf: readonly Shelf[], taken: readonly PickSource[]): void {
  for (const t of taken) {
    const s = shelf.find((x) => x.lotCode === t.lotCode && x.owner === t.owner);
    if (s) s.quantityC -= t.quantityC;
  }
}

/** What kits not yet issued take from the same shelf before this one: begun ones first, then by pick day. */
function earlierClaims(
  db: Db,
  planId: number,
  kit: StoredKit,
): { itemCode: string; neededC: number; pickedC: number }[] {
  const isPicked = kit.state === "picked" ? 1 : 0;
  return db.$client
    .prepare(
      `SELECT l.item_code AS itemCode, l.needed_c AS neededC, l.picked_c AS pickedC
       FROM kit k JOIN kit_line l ON l.plan_id = k.plan_id AND l.visit_id = k.visit_id
       WHERE k.plan_id = @planId AND k.state <> 'issued' AND k.place_code = @place AND l.run_id IS NULL
         AND l.item_code IN (SELECT item_code FROM kit_line WHERE plan_id = @planId AND visit_id = @visitId)
         AND ((k.state = 'picked') > @isPicked
           OR ((k.state = 'picked') = @isPicked AND (k.pick_on, k.visit_id) < (@pickOn, @visitId)))
       ORDER BY (k.state = 'picked') DESC, k.pick_on, k.visit_id, l.line_no`,
    )
    .all({ planId, place: kit.placeCode, visitId: kit.visitId, pickOn: kit.pickOn, isPicked }) as {
    itemCode: string;
    neededC: number;
    pickedC: number;
  }[];
}

/**
 * Where every line of a kit is taken from. Kits that are picked earlier take first; what only they hold is offered as
 * claimed, so that a person who takes it knows whom it is taken from.
 */
function sourcesOf(
  db: Db,
  planId: number,
  kit: StoredKit,
  today: CalendarDate,
  units: ReadonlyMap<string, string>,
): PickSource[][] {
  // It must still be good on the day it is used up on the tower; the pick day is the least that can be asked.
  const onDay = kit.pickOn > today ? kit.pickOn : today;
  const whole = shelves(db, onDay);
  const free = new Map([...whole].map(([key, list]) => [key, list.map((s) => ({ ...s }))]));
  for (const l of earlierClaims(db, planId, kit)) {
    const shelf = free.get(`${kit.placeCode} ${l.itemCode}`);
    if (shelf) take(shelf, l.pickedC || boxQuantityC(l.neededC, units.get(l.itemCode) ?? "piece"), onDay);
  }
  return kit.lines.map((l): PickSource[] => {
    if (l.runId) return [];
    const key = `${kit.placeCode} ${l.itemCode}`;
    const wantedC = l.pickedC || boxQuantityC(l.neededC, units.get(l.itemCode) ?? "piece");
    const shelf = whole.get(key) ?? [];
    const own = take(free.get(key) ?? [], wantedC, onDay).map((x) => ({ ...x, isClaimed: false }));
    lower(shelf, own);
    const got = own.reduce((sum, x) => sum + x.quantityC, 0);
    if (got >= wantedC) return own;
    // What is left on the shelf beside the kit's own lines is there for kits that are picked earlier.
    return [...own, ...take(shelf, wantedC - got, onDay).map((x) => ({ ...x, isClaimed: true }))];
  });
}

/** Of an issued kit what the ledger says went out, lot by lot; an item on several lines is told line after line. */
function sourcesIssued(db: Db, kit: StoredKit): PickSource[][] {
  const expiry = new Map(loadLots(db).map((l) => [l.code, l.expiresOn]));
  const left = issuedOf(db, kit.visitId).map((r) => ({ ...r }));
  return kit.lines.map((l): PickSource[] => {
    let wantedC = l.runId ? 0 : l.pickedC;
    return left
      .filter((r) => r.itemCode === l.itemCode)
      .flatMap((r) => {
        const quantityC = Math.min(wantedC, r.issuedC);
        wantedC -= quantityC;
        r.issuedC -= quantityC;
        const { lotCode, owner } = r;
        return quantityC > 0
          ? [{ lotCode, owner, quantityC, expiresOn: expiry.get(lotCode) ?? null, isClaimed: false }]
          : [];
      });
  });
}

/** One kit with where everything is; undefined when the plan has no kit for the visit. */
export function loadKitView(
  db: Db,
  plan: Pick<PlanHead, "id">,
  visitId: string,
  today: CalendarDate,
): KitView | undefined {
  const kit = loadKit(db, plan.id, visitId);
  if (!kit) return undefined;
  const visit = db
    .select({ v: planVisit, siteName: site.name })
    .from(planVisit)
    .innerJoin(site, eq(site.code, planVisit.siteCode))
    .where(and(eq(planVisit.planId, plan.id), eq(planVisit.visitId, visitId)))
    .get()!;
  const items = new Map(
    db
      .select({ code: item.code, unit: item.unit, massKg: item.massKg, category: item.category })
      .from(item)
      .all()
      .map((i) => [i.code, i]),
  );
  const units = new Map([...items.values()].map((i) => [i.code, i.unit as string]));
  const sources = kit.state === "issued" ? sourcesIssued(db, kit) : sourcesOf(db, plan.id, kit, today, units);
  const cuts = cutsMade(db);
  const marks = new Map(
    loadCutting(db, plan.id).flatMap((c) =>
      c.drums.flatMap((d) =>
        d.buy
          ? []
          : d.cuts.map((cut) => [cut.runId, { fromCm: cut.fromMarkCm, toCm: cut.toMarkCm }] as const),
      ),
    ),
  );
  const places = new Map(
    db
      .select()
      .from(place)
      .all()
      .map((p) => [p.code, p]),
  );
  const coming = transfersTo(db, plan.id, kit.placeCode);
  const drumPlace = new Map(loadDrums(db).map((d) => [d.serial, d.placeCode]));
  const shelf = shelves(db, kit.pickOn > today ? kit.pickOn : today);
  const crew = loadCrews(db).find((c) => c.code === visit.v.crewCode);
  return {
    visitId,
    hopCode: visit.v.hopCode,
    side: visit.v.side,
    siteCode: visit.v.siteCode,
    siteName: visit.siteName,
    crewCode: visit.v.crewCode,
    startOn: visit.v.startOn,
    startMin: visit.v.startMin,
    pickOn: kit.pickOn,
    placeCode: kit.placeCode,
    placeName: places.get(kit.placeCode)?.name ?? kit.placeCode,
    state: kit.state,
    massKg: kit.massKg,
    volumeL: kit.volumeL,
    vehiclePlace: crew?.vehiclePlace ?? null,
    payloadKg: crew?.payloadKg ?? null,
    lines: kit.lines.map((l, i): KitLineView => {
      const unit = units.get(l.itemCode) ?? "piece";
      const boxC = boxQuantityC(l.neededC, unit);
      const cut = l.runId ? cuts.get(l.runId) : undefined;
      const got = sources[i]!.reduce((sum, s) => sum + s.quantityC, 0);
      const missingC = l.runId || kit.state === "issued" ? 0 : Math.max(0, (l.pickedC || boxC) - got);
      const as = countedAs({ unit, runId: l.runId, category: items.get(l.itemCode)?.category });
      return {
        lineNo: i + 1,
        itemCode: l.itemCode,
        name: l.name,
        unit,
        massKg: items.get(l.itemCode)?.massKg ?? 0,
        neededC: l.neededC,
        boxC,
        pickedC: l.pickedC,
        shortC: l.shortC,
        reason: l.reason,
        runId: l.runId,
        drumSerial: cut?.drumSerial ?? l.drumSerial,
        drumPlace: elsewhereThan(kit.placeCode, cut ? undefined : drumPlace.get(l.drumSerial ?? "")),
        marks: (l.runId && marks.get(l.runId)) || null,
        cut: cut
          ? { quantityC: cut.quantityC, effectiveOn: cut.effectiveOn, drumSerial: cut.drumSerial }
          : null,
        sources: sources[i]!,
        missingC,
        countedAs: as,
        things: thingsOf(l.pickedC || boxC, as),
        transfers:
          l.runId || (missingC === 0 && l.shortC === 0) || kit.state === "issued"
            ? []
            : (coming.get(l.itemCode) ?? []),
        elsewhere:
          missingC === 0
            ? []
            : [...places.values()].flatMap((p) => {
                if (p.kind !== "warehouse" || p.code === kit.placeCode) return [];
                const there = shelf.get(`${p.code} ${l.itemCode}`) ?? [];
                const quantityC = there.reduce((sum, s) => sum + s.quantityC, 0);
                return quantityC > 0 ? [{ placeCode: p.code, quantityC }] : [];
              }),
      };
    }),
  };
}

const elsewhereThan = (placeCode: string, drumPlace: string | undefined): string | null =>
  drumPlace === undefined || drumPlace === placeCode ? null : drumPlace;

export interface By {
  name: string;
  at: number;
}

const problem = (path: string, rule: string, value: unknown, message: Phrase, remedy: Phrase): Problem => ({
  path,
  rule,
  value,
  ...sentences(message, remedy),
});

function kitProblem(
  kit: StoredKit | undefined,
  visitId: string,
  wanted: "open" | "issued",
): Problem | undefined {
  if (!kit)
    return problem(
      "visit",
      "kit-unknown",
      visitId,
      phrase("The plan in force has no kit for this visit."),
      phrase("Open the list of kits again: the plan may have changed."),
    );
  if ((kit.state === "issued") === (wanted === "issued")) return undefined;
  return problem(
    "state",
    "kit-state",
    kit.state,
    wanted === "open" ? phrase("The kit is issued already.") : phrase("The kit is not issued yet."),
    phrase("Reload the page."),
  );
}

/** Writes how much of a line is in the box. The first tick makes the kit "picked", so that it stays as it is. */
export function pickLine(
  db: Db,
  planId: number,
  visitId: string,
  lineNo: number,
  pickedC: number,
): Result<number> {
  const kit = loadKit(db, planId, visitId);
  const wrong = kitProblem(kit, visitId, "open");
  if (wrong || !kit) return refused(...(wrong ? [wrong] : []));
  const line = kit.lines[lineNo - 1];
  if (!line || pickedC < 0)
    return refused(
      problem(
        `line ${lineNo}`,
        "kit-line",
        pickedC,
        phrase("There is no such line."),
        phrase("Reload the page."),
      ),
    );
  if (line.runId && pickedC > 0 && !cutsMade(db).has(line.runId))
    return refused(
      problem(
        `line ${lineNo} (${line.name})`,
        "run-not-cut",
        pickedC / 100,
        phrase("The run is not cut yet."),
        phrase("Confirm its cut on the drum first: Stock, Drums."),
      ),
    );
  setPicked(db, planId, visitId, lineNo, pickedC);
  const others = kit.lines.some((l, i) => i !== lineNo - 1 && l.pickedC > 0);
  setKitState(db, planId, visitId, pickedC > 0 || others ? "picked" : "planned");
  return ok(pickedC);
}

/** A cut that was made for a kit of this plan is in its box. */
export function pickCutRun(db: Db, planId: number, visitId: string, runId: string, quantityC: number): void {
  const kit = loadKit(db, planId, visitId);
  const at = kit?.lines.findIndex((l) => l.runId === runId) ?? -1;
  if (!kit || at < 0 || kit.state === "issued") return;
  setPicked(db, planId, visitId, at + 1, quantityC);
  setKitState(db, planId, visitId, "picked");
}

export interface IssueNote {
  visitId: string;
  vehiclePlace: string;
  /** Things that a second person counted in the box (`countedAs`). */
  counted: number;
  countedBy: string;
  /** Why the kit leaves with less than it needs. */
  shortReason?: string;
  today: CalendarDate;
}

/** Small parts that go into the box as one bag of each item: nobody counts sixty ties one by one (common practice). */
const BAGGED: ReadonlySet<ItemCategory> = new Set([
  "consumable",
  "label",
  "lug",
  "tie indoor",
  "tie outdoor",
]);

/** How a line is counted in the box: a cut run, a length of metres and a bag of small parts are one thing each. */
export type CountedAs = "run" | "length" | "bag" | "units";

export function countedAs(line: { unit: string; runId: string | null; category?: ItemCategory }): CountedAs {
  if (line.runId) return "run";
  if (line.unit === "m") return "length";
  return line.category && BAGGED.has(line.category) ? "bag" : "units";
}

/** Things in the box as somebody counts them. */
export function piecesInBox(lines: readonly { pickedC: number; countedAs: CountedAs }[]): number {
  return lines.reduce((sum, l) => sum + thingsOf(l.pickedC, l.countedAs), 0);
}

function thingsOf(quantityC: number, as: CountedAs): number {
  if (quantityC === 0) return 0;
  return as === "units" ? Math.ceil(quantityC / 100) : 1;
}

/** Moves everything picked from the warehouse to the crew's vehicle: all of it or nothing. */
export function issueKit(
  db: Db,
  plan: Pick<PlanHead, "id">,
  note: IssueNote,
  by: By,
): Result<{ rows: number }> {
  return wholeOrNothing(db, () => {
    const kit = loadKitView(db, plan, note.visitId, note.today);
    const wrong = kitProblem(kit && loadKit(db, plan.id, note.visitId), note.visitId, "open");
    if (wrong || !kit) return refused(...(wrong ? [wrong] : []));
    const problems = issueProblems(db, kit, note);
    if (problems.length > 0) return refused(...problems);
    const round = issueRowsOf(db, note.visitId).length;
    let rows = 0;
    for (const l of kit.lines) {
      for (const [part, s] of l.pickedC > 0 ? l.sources.entries() : []) {
        const refusal = tryMovement(
          db,
          {
            key: `issue ${note.visitId} ${round} ${l.lineNo} ${part}`,
            kind: "issue",
            itemCode: l.itemCode,
            lotCode: s.lotCode || undefined,
            owner: s.owner,
            fromPlace: kit.placeCode,
            toPlace: note.vehiclePlace,
            quantityC: s.quantityC,
            effectiveOn: note.today,
            postedAt: by.at,
            visitId: note.visitId,
            reason: note.shortReason
              ? ledgerReason("issuedShort", { why: note.shortReason })
              : ledgerReason("issued"),
            postedBy: by.name,
          },
          `line ${l.lineNo}`,
        );
        if (refusal) problems.push(refusal);
        rows++;
      }
    }
    if (problems.length > 0) return refused(...problems);
    setKitState(db, plan.id, note.visitId, "issued");
    if (kit.crewCode && !kit.vehiclePlace) setVehicle(db, kit.crewCode, note.vehiclePlace);
    addLogEntry(db, {
      at: by.at,
      userName: by.name,
      action: "kit issued",
      subject: `kit ${note.visitId}`,
      detail: { to: note.vehiclePlace, rows, countedBy: note.countedBy, shortReason: note.shortReason },
    });
    return ok({ rows });
  });
}

function issueProblems(db: Db, kit: KitView, note: IssueNote): Problem[] {
  const problems: Problem[] = [];
  const vehicle = db.select().from(place).where(eq(place.code, note.vehiclePlace)).get();
  if (vehicle?.kind !== "vehicle")
    problems.push(
      problem(
        "vehicle",
        "vehicle",
        note.vehiclePlace,
        phrase("That is no vehicle."),
        phrase("Choose the vehicle that the kit is loaded into."),
      ),
    );
  const picked = kit.lines.filter((l) => l.pickedC > 0);
  if (!picked.some((l) => l.runId === null))
    problems.push(
      problem(
        "lines",
        "nothing-picked",
        0,
        phrase("No item of the kit is picked."),
        phrase("Tick the lines off first."),
      ),
    );
  for (const l of picked) {
    if (l.runId && !l.cut)
      problems.push(
        problem(
          `line ${l.lineNo} (${l.name})`,
          "run-not-cut",
          l.pickedC / 100,
          phrase("The run is not cut."),
          phrase("Confirm its cut on the drum, or untick it."),
        ),
      );
    if (l.missingC > 0)
      problems.push(
        problem(
          `line ${l.lineNo} (${l.itemCode})`,
          "not-on-hand",
          l.pickedC / 100,
          phrase("{{place}} holds {{missing}} {{unit}} less by the ledger.", {
            place: kit.placeCode,
            missing: shortFigure(l.missingC / 100),
            unit: phrase(l.unit),
          }),
          phrase(
            "Correct the picked quantity, record the transfer or receipt that brought it, or count the place.",
          ),
        ),
      );
  }
  const pieces = piecesInBox(kit.lines);
  if (note.counted !== pieces)
    problems.push(
      problem(
        "counted",
        "count-differs",
        note.counted,
        // The number wanted is not said: who knows it types it instead of counting.
        phrase("That is not what the lines ticked off come to."),
        phrase(
          'Count the box again line by line: the pick list says how many things each line counts as, a bag or a length being one. Correct the line that differs, or the number in "Things counted in the box".',
        ),
      ),
    );
  const short = kit.lines.filter((l) => l.pickedC < l.boxC && !(l.runId && l.cut));
  if (short.length > 0 && !note.shortReason?.trim())
    problems.push(
      problem(
        "short",
        "issued-short",
        short.map((l) => l.itemCode).join(", "),
        short.length === 1
          ? phrase("1 line is short of the need.")
          : phrase("{{number}} lines are short of the need.", { number: String(short.length) }),
        phrase("Pick the rest, or say why the kit leaves without it."),
      ),
    );
  return problems;
}

export interface IssuedRow {
  itemCode: string;
  name: string;
  unit: string;
  lotCode: string;
  owner: Owner;
  vehiclePlace: string;
  issuedC: number;
  returnedC: number;
}

function issueRowsOf(db: Db, visitId: string): number[] {
  return db.$client
    .prepare("SELECT id FROM movement WHERE kind = 'issue' AND visit_id = ? ORDER BY id")
    .pluck()
    .all(visitId) as number[];
}

/** What went out for a visit and what came back, by item and lot; rows taken back are left out. */
export function issuedOf(db: Db, visitId: string): IssuedRow[] {
  return db.$client
    .prepare(
      `SELECT m.item_code AS itemCode, i.name, i.unit, COALESCE(m.lot_code, '') AS lotCode, m.owner,
              CASE m.kind WHEN 'issue' THEN m.to_place ELSE m.from_place END AS vehiclePlace,
              SUM(CASE m.kind WHEN 'issue' THEN m.quantity_c ELSE 0 END) AS issuedC,
              SUM(CASE m.kind WHEN 'return' THEN m.quantity_c ELSE 0 END) AS returnedC
       FROM movement m JOIN item i ON i.code = m.item_code
       WHERE m.visit_id = ? AND m.kind IN ('issue','return')
         AND NOT EXISTS (SELECT 1 FROM movement r WHERE r.corrects_id = m.id)
       GROUP BY 1, 4, 5, 6 ORDER BY 1, 4`,
    )
    .all(visitId) as IssuedRow[];
}

export interface ReturnNote {
  visitId: string;
  toPlace: string;
  lines: readonly { itemCode: string; lotCode: string; owner: Owner; quantityC: number }[];
  today: CalendarDate;
  /** Made once per return. */
  key: string;
}

/** Brings unused material from the vehicle back into a warehouse. */
export function returnFromKit(db: Db, note: ReturnNote, by: By): Result<{ rows: number }> {
  return wholeOrNothing(db, () => {
    const issued = issuedOf(db, note.visitId);
    const problems: Problem[] = [];
    const lines = note.lines.filter((l) => l.quantityC > 0);
    if (lines.length === 0)
      problems.push(
        problem(
          "lines",
          "return-empty",
          0,
          phrase("Nothing comes back."),
          phrase("Give a quantity on one line."),
        ),
      );
    if (db.select().from(place).where(eq(place.code, note.toPlace)).get()?.kind !== "warehouse")
      problems.push(
        problem(
          "to",
          "warehouse",
          note.toPlace,
          phrase("That is no warehouse."),
          phrase("Choose where it is put on the shelf."),
        ),
      );
    const posts = lines.flatMap((l) => {
      const out = issued.find(
        (r) => r.itemCode === l.itemCode && r.lotCode === l.lotCode && r.owner === l.owner,
      );
      const open = out ? out.issuedC - out.returnedC : 0;
      if (out && l.quantityC <= open) return [{ ...l, from: out.vehiclePlace }];
      problems.push(
        problem(
          l.itemCode,
          "return-more",
          l.quantityC / 100,
          phrase("Only {{open}} of it is out for this visit.", { open: shortFigure(open / 100) }),
          phrase("Correct the quantity; what was found besides is a count adjustment."),
        ),
      );
      return [];
    });
    if (problems.length > 0) return refused(...problems);
    for (const [i, l] of posts.entries()) {
      const refusal = tryMovement(
        db,
        {
          key: `${note.key} ${i}`,
          kind: "return",
          itemCode: l.itemCode,
          lotCode: l.lotCode || undefined,
          owner: l.owner,
          fromPlace: l.from,
          toPlace: note.toPlace,
          quantityC: l.quantityC,
          effectiveOn: note.today,
          postedAt: by.at,
          visitId: note.visitId,
          reason: ledgerReason("returned"),
          postedBy: by.name,
        },
        l.itemCode,
      );
      if (refusal) problems.push(refusal);
    }
    if (problems.length > 0) return refused(...problems);
    addLogEntry(db, {
      at: by.at,
      userName: by.name,
      action: "kit returned",
      subject: `kit ${note.visitId}`,
      detail: { to: note.toPlace, rows: posts.length },
    });
    return ok({ rows: posts.length });
  });
}

/** Takes a whole issue back, row by row, while nothing has been returned: the kit stands picked again. */
export function takeBackIssue(
  db: Db,
  plan: Pick<PlanHead, "id">,
  visitId: string,
  reason: string,
  today: CalendarDate,
  by: By,
): Result<{ rows: number }> {
  return wholeOrNothing(db, () => {
    const wrong = kitProblem(loadKit(db, plan.id, visitId), visitId, "issued");
    if (wrong) return refused(wrong);
    if (issuedOf(db, visitId).some((r) => r.returnedC > 0))
      return refused(
        problem(
          "state",
          "returned-already",
          visitId,
          phrase("Some of it was returned already."),
          phrase("Return the rest as unused instead."),
        ),
      );
    const open = db.$client
      .prepare(
        `SELECT id FROM movement m WHERE kind = 'issue' AND visit_id = ?
         AND NOT EXISTS (SELECT 1 FROM movement r WHERE r.corrects_id = m.id) ORDER BY id`,
      )
      .pluck()
      .all(visitId) as number[];
    for (const id of open) {
      try {
        reverseMovement(db, id, {
          key: `take back ${id}`,
          effectiveOn: today,
          postedAt: by.at,
          reason,
          postedBy: by.name,
        });
      } catch (error) {
        if (ledgerRefusal(error) === undefined) throw error;
        return refused(
          problem(
            `row ${id}`,
            "ledger",
            id,
            phrase("The vehicle does not hold all of it any more."),
            phrase("Return what is left as unused instead."),
          ),
        );
      }
    }
    setKitState(db, plan.id, visitId, "picked");
    addLogEntry(db, {
      at: by.at,
      userName: by.name,
      action: "issue taken back",
      subject: `kit ${visitId}`,
      detail: { rows: open.length, reason },
    });
    return ok({ rows: open.length });
  });
}

export interface LoadRow {
  crewCode: string;
  startOn: CalendarDate;
  massKg: number;
  volumeL: number;
  payloadKg: number;
  kits: number;
}

/** What each crew's vehicle carries on each day, kits of one day together. */
export function vehicleLoads(kits: readonly KitRow[], payloads: ReadonlyMap<string, number>): LoadRow[] {
  const loads = new Map<string, LoadRow>();
  for (const k of kits) {
    if (!k.crewCode || !k.startOn) continue;
    const key = `${k.startOn} ${k.crewCode}`;
    const row = loads.get(key) ?? {
      crewCode: k.crewCode,
      startOn: k.startOn,
      massKg: 0,
      volumeL: 0,
      payloadKg: payloads.get(k.crewCode) ?? 0,
      kits: 0,
    };
    loads.set(key, {
      ...row,
      massKg: row.massKg + k.massKg,
      volumeL: row.volumeL + k.volumeL,
      kits: row.kits + 1,
    });
  }
  return [...loads].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, row]) => row);
}

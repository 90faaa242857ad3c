/** One kit with where everything in it is, how it is counted, and what comes for what is short. */
import { and, eq } from "drizzle-orm";
import type { EndSide, ItemCategory } from "@/lib/site";
import { takesSerials } from "@/lib/stock";
import type { CalendarDate } from "@/lib/time";
import type { Db } from "../open";
import { item, place, planVisit, revisit, site } from "../schema";
import { loadCrews } from "./crews";
import { atMark, marksByRun } from "./drumMarks";
import { loadDrums } from "./drums";
import { lostOfKits } from "./kitLosses";
import { issuedShortWhy, vehiclesOf } from "./kitOut";
import type { KitState } from "./kitRows";
import { serialsInBox, serialsIssued } from "./kitSerials";
import { isShortSinceIssue, isWhole, type LineState, lineShortC, ridesOpened } from "./kitShort";
import { type PickSource, refillsOf, type ShelfClaim, shelves, sourcesIssued, sourcesOf } from "./kitSources";
import { type CutMade, cutsMade } from "./ledger";
import { type LostRun, lostRunsOf } from "./lostRuns";
import { loadCutting, loadKit, type PlanHead } from "./plans";
import { isVisitDone } from "./reports";
import { type KitTransfer, transfersFor } from "./transfers";
import { isLeftOut, type NotOpened, notOpenedOn } from "./vehicleOpened";

export interface KitLineView {
  lineNo: number;
  itemCode: string;
  name: string;
  unit: string;
  massKg: number;
  neededC: number;
  /** What goes into the box: whole units, except metres; 0 = the vehicle has it opened already. */
  boxC: number;
  pickedC: number;
  shortC: number;
  reason: string;
  runId: string | null;
  /** Its visit is done: a run that was not cut for it is not cut any more. */
  isDone: boolean;
  drumSerial: string | null;
  /** Where the drum stands when that is not the kit's warehouse: the run is cut there and must come over. */
  drumPlace: string | null;
  /** Where the run was cut when that is not the kit's warehouse, until somebody ticks it off: it has not come over. */
  cutPlace: string | null;
  /** What is short, as somebody reads the kit now (`lineShortC`); missing on the shelf included. */
  lacksC: number;
  /** Its pieces have serials that may be read into the box. */
  takesSerials: boolean;
  /** Those that were read: into the box, of an issued kit those that left with it. */
  serials: readonly string[];
  /** Of a run that is not in the box: its piece was lost after it was cut. */
  lostRun: Pick<LostRun, "lostOn" | "reason" | "recordedBy"> | null;
  /** Of what an issued kit lacks: put on hold by a fault and not replaced. */
  lostC: number;
  /** Who ticked it off; null = nobody, or the cut that laid its run into the box. */
  pickedBy: string | null;
  /** Of an issued kit: from where what it lacks can follow, as far as the shelf reaches. */
  refill: PickSource[];
  /** What lies on the shelf it comes from, good on the day; 0 for a run. */
  shelfC: number;
  /** Who takes of that shelf before this kit, in turn. */
  claims: ShelfClaim[];
  /** Picked to the last piece. */
  isWhole: boolean;
  /** The cut's marks by the plan's cutting list, once it is there. */
  marks: { fromCm: number; toCm: number } | null;
  /** What the ledger says of the run. */
  cut: Pick<CutMade, "runId" | "quantityC" | "effectiveOn" | "drumSerial" | "placeCode"> | null;
  sources: PickSource[];
  /** Further lots of the item on the warehouse's shelf, good on the pick day. */
  otherLots: Pick<PickSource, "lotCode" | "expiresOn">[];
  /** What the kit's warehouse does not hold. */
  missingC: number;
  countedAs: CountedAs;
  /** What it is in the box as somebody counts: of what is picked, before that of what is wanted. */
  things: number;
  /** Other warehouses that do, with how much. */
  elsewhere: { placeCode: string; quantityC: number }[];
  /** Of what should ride on the vehicle opened: the vehicle does not hold it by the books; null = it does. */
  notOpened: NotOpened | null;
  /** Of a short line: what of its item comes over to the kit's warehouse; null = nothing. */
  comesOver: KitTransfer | null;
}

export interface KitView {
  visitId: string;
  /** What a revisit is for; null for any other visit. */
  remedy: string | null;
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
  /** Its visit is done, and by the books it did not leave. */
  isNeverIssued: boolean;
  massKg: number;
  volumeL: number;
  vehiclePlace: string | null;
  payloadKg: number | null;
  /** Why it was issued short, as whoever issued it said; null once that came after it. */
  shortWhy: string | null;
  lines: KitLineView[];
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
  const isOut = kit.state === "issued";
  const isDone = isVisitDone(db, visitId);
  const now = { state: kit.state, isDone };
  const crew = loadCrews(db).find((c) => c.code === visit.v.crewCode);
  const notOpened = notOpenedOn(
    db,
    {
      ...{ planId: plan.id, kit, isDone },
      vehicle: (isOut ? vehiclesOf(db, visitId)[0] : undefined) ?? crew?.vehiclePlace ?? null,
    },
    today,
  );
  // Whole units of what an issued kit left without and its vehicle has not: they can follow.
  const leftOutC = kit.lines.map((l) => {
    const gone = isOut && ridesOpened(l) ? notOpened.get(l.itemCode) : undefined;
    return gone && isLeftOut(gone) ? Math.ceil(gone.lacksC / 100) * 100 : 0;
  });
  const lacking = kit.lines.map((l, i) => (l.runId ? 0 : lineShortC(l, now) + leftOutC[i]!));
  const onShelf = isOut ? refillsOf(db, plan.id, kit, lacking, today) : sourcesOf(db, plan.id, kit, today);
  const sources = isOut ? sourcesIssued(db, kit) : onShelf.map((l) => l.sources);
  const lost = new Map(lostOfKits(db, visitId).get(visitId));
  const cuts = cutsMade(db);
  const serials = isOut ? serialsIssued(db, visitId) : serialsInBox(db, visitId);
  const lostRuns = lostRunsOf(db, visitId);
  const marks = marksByRun(db, plan.id);
  const listed = new Map(
    loadCutting(db, plan.id).flatMap((c) =>
      c.drums.flatMap((d) =>
        d.buy
          ? []
          : d.cuts
              .map((cut) => atMark(cut, marks))
              .map(
                (cut) =>
                  [
                    cut.runId,
                    { drumSerial: d.drum.serial, fromCm: cut.fromMarkCm, toCm: cut.toMarkCm },
                  ] as const,
              ),
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
  const comesOver = transfersFor(
    db,
    plan.id,
    kit,
    kit.lines.map((l) => l.itemCode),
  );
  const drumPlace = new Map(loadDrums(db).map((d) => [d.serial, d.placeCode]));
  const shelf = shelves(db, kit.pickOn > today ? kit.pickOn : today);
  const lines = kit.lines.map((l, i): KitLineView => {
    const unit = units.get(l.itemCode) ?? "piece";
    const cut = l.runId ? cuts.get(l.runId) : undefined;
    const inList = l.runId ? listed.get(l.runId) : undefined;
    // An issued kit is not netted anew: of a run that goes after it only the cutting list says where it comes from.
    const drumSerial =
      cut?.drumSerial ?? (kit.state === "issued" ? (inList?.drumSerial ?? null) : l.drumSerial);
    const got = sources[i]!.reduce((sum, s) => sum + s.quantityC, 0);
    const missingC = l.runId || kit.state === "issued" ? 0 : Math.max(0, (l.pickedC || l.boxC) - got);
    const cutPlace = l.pickedC > 0 ? null : elsewhereThan(kit.placeCode, cut?.placeCode);
    const as = countedAs({ unit, runId: l.runId, category: items.get(l.itemCode)?.category });
    return {
      lineNo: i + 1,
      itemCode: l.itemCode,
      name: l.name,
      unit,
      massKg: items.get(l.itemCode)?.massKg ?? 0,
      neededC: l.neededC,
      boxC: l.boxC,
      pickedC: l.pickedC,
      shortC: l.shortC,
      reason: l.reason,
      runId: l.runId,
      isDone,
      drumSerial,
      drumPlace: elsewhereThan(kit.placeCode, cut ? undefined : drumPlace.get(drumSerial ?? "")),
      cutPlace,
      lacksC: lacksC(l, now, { isCut: cut !== undefined, cutPlace, missingC }) + leftOutC[i]!,
      takesSerials: !l.runId && takesSerials(items.get(l.itemCode)?.category),
      // An item that stands on several lines has them on the first.
      serials:
        kit.lines.findIndex((o) => o.itemCode === l.itemCode) === i ? (serials.get(l.itemCode) ?? []) : [],
      lostRun: (l.runId && l.pickedC === 0 && lostRuns.get(l.runId)) || null,
      lostC: takeFrom(lost, l.itemCode, lacking[i]!),
      pickedBy: l.pickedBy ?? null,
      refill: isOut ? onShelf[i]!.sources : [],
      shelfC: onShelf[i]!.shelfC,
      claims: onShelf[i]!.claims,
      isWhole: isWhole(l),
      marks: inList ? { fromCm: inList.fromCm, toCm: inList.toCm } : null,
      cut: cut
        ? {
            runId: cut.runId,
            quantityC: cut.quantityC,
            effectiveOn: cut.effectiveOn,
            drumSerial: cut.drumSerial,
            placeCode: cut.placeCode,
          }
        : null,
      sources: sources[i]!,
      otherLots: l.runId
        ? []
        : (shelf.get(`${kit.placeCode} ${l.itemCode}`) ?? [])
            .filter(({ lotCode }) => lotCode !== "" && !sources[i]!.some((s) => s.lotCode === lotCode))
            .map(({ lotCode, expiresOn }) => ({ lotCode, expiresOn })),
      missingC,
      countedAs: as,
      notOpened: (ridesOpened(l) && notOpened.get(l.itemCode)) || null,
      things: thingsOf(l.pickedC || l.boxC, as),
      comesOver:
        l.runId || (missingC === 0 && l.shortC === 0) || kit.state === "issued"
          ? null
          : (comesOver.get(l.itemCode) ?? null),
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
  });
  const again = db.select({ remedy: revisit.remedy }).from(revisit).where(eq(revisit.visitId, visitId)).get();
  return {
    visitId,
    remedy: again?.remedy ?? null,
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
    isNeverIssued: isDone && !isOut,
    massKg: kit.massKg,
    volumeL: kit.volumeL,
    vehiclePlace: crew?.vehiclePlace ?? null,
    payloadKg: crew?.payloadKg ?? null,
    shortWhy: isOut && isShortSinceIssue(lines) ? issuedShortWhy(db, visitId) : null,
    lines,
  };
}

/** A run that is cut lacks nothing once it lies at the kit's warehouse; before the issue what the shelf misses counts too. */
function lacksC(
  line: LineState,
  now: { state: KitState; isDone: boolean },
  run: { isCut: boolean; cutPlace: string | null; missingC: number },
): number {
  if (now.isDone) return 0;
  if (now.state !== "issued" && line.runId && run.isCut && line.pickedC === 0)
    return run.cutPlace ? line.boxC : 0;
  return Math.max(run.missingC, lineShortC(line, now));
}

/** As much of what was lost as a line lacks; lowers the rest for the item's next line. */
function takeFrom(lost: Map<string, number>, itemCode: string, lacksC: number): number {
  const partC = Math.min(lost.get(itemCode) ?? 0, lacksC);
  if (partC > 0) lost.set(itemCode, lost.get(itemCode)! - partC);
  return partC;
}

const elsewhereThan = (placeCode: string, drumPlace: string | undefined): string | null =>
  drumPlace === undefined || drumPlace === placeCode ? null : drumPlace;

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

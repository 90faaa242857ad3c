/** From a plan to kits: when each is picked, from which warehouse, and which lines stock will not cover that day. */
import type { CuttingPlan, DrumOnHand } from "@/lib/drums";
import type { PlacedVisit } from "@/lib/schedule";
import { byTurn, kitPlace, pickDay, type Turn, transferDays } from "@/lib/stock";
import { addDays, arrivesOn, type CalendarDate, daysBetween, FIVE_DAYS, weekdayOf } from "@/lib/time";
import { boxQuantity, type VehicleRest, vehicleRest } from "./boxQuantities";
import type { KitNeedLine, ProgrammeInput, ProgrammeVisit } from "./types";

/** Where a drum stands that has not come yet. */
export const ON_ORDER = "on order";

export interface PlannedKitLine extends KitNeedLine {
  drumSerial?: string;
  /** What goes into the box (`boxQuantity`): 0 = the vehicle has enough of it. */
  box: number;
  /** What the kit's own warehouse will not hold on the pick day, after the kits picked before it. */
  short: number;
}

export interface PlannedKit {
  visitId: string;
  pickOn: CalendarDate;
  placeCode: string;
  massKg: number;
  volumeL: number;
  lines: PlannedKitLine[];
}

/** The working day (Monday to Friday) that lies `days` working days before `date`, never before `today`. */
export function pickDate(date: CalendarDate, days: number, today: CalendarDate): CalendarDate {
  const week = { firstWeekday: weekdayOf(today), workdays: FIVE_DAYS };
  return addDays(today, Math.max(0, pickDay(daysBetween(today, date), days, week)));
}

export interface KitWanted {
  visit: ProgrammeVisit;
  startOn: CalendarDate;
  startMin: number;
  placeCode: string;
  /** What it is loaded into: the place of its crew's vehicle; while none is named the crew's code. */
  vehicle: string;
}

/** The warehouse that serves a visit when a crew (by its index) goes there. */
export function kitPlaceOf(
  input: Pick<ProgrammeInput, "sites" | "crews" | "depots" | "stockPolicy">,
): (visit: Pick<ProgrammeVisit, "siteCode">, crew: number) => string {
  const siteAt = new Map(input.sites.map((s) => [s.id, s.position]));
  return ({ siteCode }, crew) =>
    kitPlace(input.stockPolicy, input.crews[crew]!.depotPlace, siteAt.get(siteCode), input.depots);
}

/** What placed visits still want of the warehouse that serves them: whole kits, of issued ones what they lost and the runs that go after them. */
export function kitsWanted(
  input: ProgrammeInput,
  visits: readonly ProgrammeVisit[],
  placed: readonly Pick<PlacedVisit, "visit" | "crew" | "startDay" | "startMin">[],
): KitWanted[] {
  const placeOf = kitPlaceOf(input);
  return placed
    .map((p) => {
      const visit = visits[p.visit]!;
      return {
        visit,
        startOn: addDays(input.today, p.startDay),
        startMin: p.startMin,
        placeCode: placeOf(visit, p.crew),
        vehicle: vehicleOf(input, p.crew),
      };
    })
    .flatMap((w) => {
      if (!input.issued.has(w.visit.id)) return [w];
      const lines = [...lostLines(w.visit, input.lostOfKits), ...runsBehind(w.visit, input.runsToFollow)];
      return lines.length > 0 ? [{ ...w, visit: { ...w.visit, lines, massKg: 0, volumeL: 0 } }] : [];
    });
}

/** What an issued kit lost to a fault, as lines of its visit. */
function lostLines({ id, lines }: ProgrammeVisit, lostOf: ProgrammeInput["lostOfKits"]): KitNeedLine[] {
  return [...(lostOf?.get(id) ?? [])].flatMap(([itemCode, quantity]) => {
    const line = lines.find((l) => l.itemCode === itemCode && l.runId === undefined);
    return line ? [{ ...line, quantity }] : [];
  });
}

/** Runs that go after an issued kit. */
const runsBehind = ({ lines }: ProgrammeVisit, runs: ProgrammeInput["runsToFollow"]): KitNeedLine[] =>
  lines.filter((l) => l.runId !== undefined && runs?.has(l.runId));

const vehicleOf = ({ crews }: Pick<ProgrammeInput, "crews">, crew: number): string =>
  crews[crew]!.vehiclePlace ?? crews[crew]!.code;

/** The kits that are still to be picked, by the plan. */
export function kitsOfPlan(...plan: Parameters<typeof boxesOfPlan>): PlannedKit[] {
  const [{ issued }] = plan;
  return boxesOfPlan(...plan).filter((k) => !issued.has(k.visitId));
}

/** What leaves the shelves: the kits still to be picked, and of issued ones what goes after them. */
export function boxesOfPlan(
  input: ProgrammeInput,
  visits: readonly ProgrammeVisit[],
  placed: readonly Pick<PlacedVisit, "visit" | "crew" | "startDay" | "startMin">[],
  cutting: readonly CuttingPlan[],
): PlannedKit[] {
  const out = placed.filter((p) => input.issued.has(visits[p.visit]!.id));
  const rests = new Map(
    [...new Set(placed.map((p) => vehicleOf(input, p.crew)))].map((vehicle) => {
      const own = out.filter((p) => vehicleOf(input, p.crew) === vehicle);
      const lines = own.flatMap((p) => [
        ...stillUsed(visits[p.visit]!, input.bookedUse),
        // What comes in its stead is a need of its own: the vehicle does not owe it besides.
        ...lostLines(visits[p.visit]!, input.lostOfKits).map((l) => ({ ...l, quantity: -l.quantity })),
      ]);
      return [vehicle, vehicleRest(input.onVehicles?.get(vehicle), lines)] as const;
    }),
  );
  return plannedKits(kitsWanted(input, visits, placed), input, cutting, rests);
}

/** When a kit's turn comes at the shelf. */
const turnOf = (
  { visit, pickOn, startOn, startMin }: KitWanted & { pickOn: CalendarDate },
  today: CalendarDate,
): Turn => ({
  day: daysBetween(today, pickOn),
  startsAtMin: daysBetween(today, startOn) * 1440 + startMin,
  visitId: visit.id,
});

/** Of a visit that was begun only what its reports did not take off the vehicle yet. */
function stillUsed({ id, lines }: ProgrammeVisit, booked: ProgrammeInput["bookedUse"]): KitNeedLine[] {
  const used = booked?.get(id);
  return lines.map((l) => ({ ...l, quantity: Math.max(0, l.quantity - (used?.get(l.itemCode) ?? 0)) }));
}

/** Working days from one warehouse to another by the rules in force; undefined = nothing is sent that way. */
export function transferDaysOf(
  input: Pick<ProgrammeInput, "depots" | "stockPolicy" | "roads">,
): (from: string, to: string) => number | undefined {
  // Asked for again and again while netting: worked out once for each pair.
  const days = new Map(
    input.depots.map((from) => [
      from.code,
      new Map(
        input.depots.map((to) => [to.code, transferDays(from, to, input.stockPolicy, input.roads.circuity)]),
      ),
    ]),
  );
  return (from, to) => days.get(from)?.get(to);
}

/** What changes one shelf on a day besides kits: orders that come, transfers in and out. */
interface ShelfChange {
  on: CalendarDate;
  quantity: number;
}

type KitSupplies = Pick<
  ProgrammeInput,
  "today" | "kitDays" | "stock" | "orders" | "transfers" | "depots" | "stockPolicy" | "roads"
>;

/**
 * Each kit is filled from its own warehouse's shelf: what lies there, orders and planned transfers due there by the pick
 * day. A run is cut where its drum stands, and must have time to come over.
 */
export function plannedKits(
  wanted: readonly KitWanted[],
  supplies: KitSupplies,
  cutting: readonly CuttingPlan[],
  /** What each vehicle has opened already; used up here. */
  rests: Map<string, VehicleRest> = new Map(),
): PlannedKit[] {
  const { today, kitDays } = supplies;
  const daysOver = transferDaysOf(supplies);
  const drumOfRun = new Map(
    cutting.flatMap((c) =>
      c.drums.flatMap((d) => (d.buy ? [] : d.cuts.map((cut) => [cut.runId, d.drum] as const))),
    ),
  );
  const lateRuns = new Set(
    cutting.flatMap((c) => [...c.late.map((l) => l.run.id), ...c.uncut.map((u) => u.run.id)]),
  );
  const fromNewDrum = new Set(
    cutting.flatMap((c) => c.drums.flatMap((d) => (d.buy ? d.cuts.map((cut) => cut.runId) : []))),
  );
  const kits = wanted
    .filter((w) => w.visit.lines.length > 0)
    .map((w) => ({ ...w, pickOn: pickDate(w.startOn, kitDays, today) }))
    // Picked on one day, the kit whose visit comes first is served first, and its vehicle opens what the next ones use.
    .map((kit) => ({ kit, turn: turnOf(kit, today) }))
    .sort((a, b) => byTurn(a.turn, b.turn))
    .map(({ kit }) => kit);
  const taken = new Map<string, number>();
  const shelf = new Map(
    supplies.stock.flatMap((s) =>
      s.shelves.map((x) => [shelfKey(x.placeCode, s.itemCode), x.onHand] as const),
    ),
  );
  const changes = shelfChanges(supplies);

  return kits.map(({ visit, pickOn, placeCode, vehicle }) => {
    const rest = rests.get(vehicle) ?? new Map<string, number>();
    rests.set(vehicle, rest);
    const lines = visit.lines.map((line) => planned(line, { placeCode, pickOn, rest }));
    return { visitId: visit.id, pickOn, placeCode, massKg: visit.massKg, volumeL: visit.volumeL, lines };
  });

  function planned(
    line: KitNeedLine,
    { placeCode, pickOn, rest }: { placeCode: string; pickOn: CalendarDate; rest: VehicleRest },
  ): PlannedKitLine {
    if (line.runId) {
      const drum = drumOfRun.get(line.runId);
      const isShort =
        lateRuns.has(line.runId) || fromNewDrum.has(line.runId) || comesTooLate(drum, placeCode, pickOn);
      return { ...line, drumSerial: drum?.serial, box: line.quantity, short: isShort ? line.quantity : 0 };
    }
    const box = boxQuantity(line, rest);
    const key = shelfKey(placeCode, line.itemCode);
    const before = taken.get(key) ?? 0;
    const changed = (changes.get(key) ?? [])
      .filter((c) => c.on <= pickOn)
      .reduce((sum, c) => sum + c.quantity, 0);
    const free = Math.max(0, (shelf.get(key) ?? 0) + changed - before);
    taken.set(key, before + box);
    // A part of a unit on the shelf is no unit for the box.
    const freeUnits = line.unit === "m" ? free : Math.floor(free + 1e-9);
    return { ...line, box, short: Math.max(0, box - freeUnits) };
  }

  function comesTooLate(drum: DrumOnHand | undefined, placeCode: string, pickOn: CalendarDate): boolean {
    if (!drum || drum.placeId === placeCode || drum.placeId === ON_ORDER) return false;
    const days = daysOver(drum.placeId, placeCode);
    return days === undefined || arrivesOn(today, days) > pickOn;
  }
}

const shelfKey = (placeCode: string, itemCode: string) => JSON.stringify([placeCode, itemCode]);

function shelfChanges({ orders, transfers }: KitSupplies): Map<string, ShelfChange[]> {
  const changes = new Map<string, ShelfChange[]>();
  const add = (placeCode: string, itemCode: string, change: ShelfChange) => {
    const key = shelfKey(placeCode, itemCode);
    changes.set(key, [...(changes.get(key) ?? []), change]);
  };
  for (const o of orders) add(o.placeCode, o.itemCode, { on: o.dueOn, quantity: o.quantity });
  for (const t of transfers) {
    add(t.fromPlace, t.itemCode, { on: t.sendOn, quantity: -t.quantity });
    add(t.toPlace, t.itemCode, { on: t.arriveOn, quantity: t.quantity });
  }
  return changes;
}

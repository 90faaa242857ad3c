/**
 * What kits claim of the stock. Where a plan says who starts when, its kits come first, in the order in which the shelf
 * serves them and in the units that go into the box; whom no plan has comes after, by promise.
 */
import type { PlacedVisit, Plan, ScheduleProblem } from "@/lib/schedule";
import { earliestReadyDays, type VisitClaim } from "@/lib/stock";
import { addDays, daysBetween } from "@/lib/time";
import { type KitSupply, kitSupply } from "./kitSupply";
import { boxesOfPlan, type PlannedKit } from "./kits";
import { isCut, netPlaces, placedNeeds, positionsOf, receiptsOf, sparesKept } from "./netProgramme";
import type { ProgrammeInput, ProgrammeVisit } from "./types";

export interface KitReady {
  /** Day index on which all of the kit can be in the warehouse. */
  day: number;
  /** The item that comes last; undefined when everything is on hand. */
  bindingItem?: string;
}

type Placed = Pick<PlacedVisit, "visit" | "crew" | "startDay" | "startMin">;

/** Before any promise, which may itself lie in the past. */
const FIRST_TURN = -1e6;

/**
 * What the kits that are still in the warehouse ask for; an item that the catalogue lacks is a failed check already.
 * @param isBoxed items that a plan's kits claim in the units of the box, the others as the visits use them
 */
function claimsOf(
  input: ProgrammeInput,
  visits: readonly ProgrammeVisit[],
  kits: readonly PlannedKit[],
  isBoxed: (itemCode: string) => boolean,
): VisitClaim[] {
  const hops = new Map(input.hops.map((h) => [h.code, h]));
  const known = new Set(input.catalogue.map((i) => i.code));
  const turns = new Map(kits.map((kit, turn) => [kit.visitId, { kit, turn }]));
  return (
    visits
      // Of an issued kit what goes after it.
      .filter((v) => turns.has(v.id) || !input.issued.has(v.id))
      .map((v): VisitClaim => {
        const { weight, promisedOn } = hops.get(v.hopCode)!;
        const inTurn = turns.get(v.id);
        const lines = inTurn
          ? inTurn.kit.lines.map((l) => (isBoxed(l.itemCode) ? { ...l, quantity: l.box } : l))
          : v.lines;
        return {
          visitId: v.id,
          promiseDay: inTurn ? FIRST_TURN + inTurn.turn : promisedOn && daysBetween(input.today, promisedOn),
          priority: weight,
          wantedDay: inTurn && daysBetween(input.today, inTurn.kit.pickOn),
          lines: lines.filter((l) => known.has(l.itemCode) && !isCut(input, l)),
        };
      })
  );
}

/**
 * Kits that their own warehouses cover on their day, transfers that are proposed counted: items shared out over all
 * warehouses together say nothing against them.
 * @param isAskedFor which items are looked at
 */
function coveredKits(
  input: ProgrammeInput,
  visits: readonly ProgrammeVisit[],
  placed: readonly Placed[],
  kits: readonly PlannedKit[],
  isAskedFor: (itemCode: string) => boolean,
): Map<string, number> {
  const starts = new Map(placed.map((p) => [visits[p.visit]!.id, addDays(input.today, p.startDay)]));
  const { rows } = netPlaces(
    placedNeeds(input, visits, placed, kits).filter((n) => isAskedFor(n.itemCode)),
    {
      ...input,
      orders: input.orders.filter((o) => isAskedFor(o.itemCode)),
      transfers: input.transfers.filter((t) => isAskedFor(t.itemCode)),
      spares: sparesKept(input, starts).filter((s) => isAskedFor(s.itemCode)),
    },
  );
  const stopped = new Set(rows.flatMap((r) => r.withTransfers.stops.map((s) => s.visitId)));
  return new Map(
    kits.filter((k) => !stopped.has(k.visitId)).map((k) => [k.visitId, daysBetween(input.today, k.pickOn)]),
  );
}

/** From when each kit can be whole when the plan's kits are served in their turn. */
export function readyKits(
  input: ProgrammeInput,
  visits: readonly ProgrammeVisit[],
  { placed }: Pick<Plan, "placed">,
): Map<string, KitReady> {
  const kits = boxesOfPlan(input, visits, placed, []);
  const covered = coveredKits(input, visits, placed, kits, () => true);
  const supplies = earliestReadyDays(
    claimsOf(input, visits, kits, () => true),
    positionsOf(input, new Set(input.catalogue.map((i) => i.code))),
    receiptsOf(input),
  );
  return new Map(
    supplies.map(({ visitId, readyDay, bindingItem }) => {
      const pickDay = covered.get(visitId);
      // Every line has a position, and an item that can be ordered is there some day.
      const day = readyDay!;
      return [visitId, pickDay !== undefined && pickDay < day ? { day: pickDay } : { day, bindingItem }];
    }),
  );
}

/**
 * From when the kits of a problem's visits may be claimed.
 * @param placed who starts when by the plan that counts: the one in force for a new plan, else the plan that is looked at
 */
export function supplyOfKits(
  input: ProgrammeInput,
  visits: readonly ProgrammeVisit[],
  placed: readonly Placed[],
): KitSupply {
  const kits = boxesOfPlan(input, visits, placed, []);
  const positions = positionsOf(input, new Set(input.catalogue.map((i) => i.code)));
  const lotCodes = new Set(positions.filter((p) => (p.lots ?? []).length > 0).map((p) => p.itemCode));
  const inLots = (itemCode: string) => lotCodes.has(itemCode);
  // What the search shares out as a sum over days knows no boxes: which vehicle opens one follows from the plan it finds.
  const items = kitSupply(claimsOf(input, visits, kits, inLots), positions, receiptsOf(input), input);
  const units = new Map(input.catalogue.map((i) => [i.code, i.unit]));
  const supply = { ...items, scarce: items.scarce.map((s) => ({ ...s, unit: units.get(s.code) })) };
  if (kits.length === 0) return supply;
  const covered = coveredKits(input, visits, placed, kits, inLots);
  const startDay = new Map(placed.map((p) => [visits[p.visit]!.id, p.startDay]));
  const earliestStart = new Map(supply.earliestStart);
  const lastItem = new Map(supply.lastItem);
  for (const [visitId, start] of supply.earliestStart) {
    if (!covered.has(visitId) || !inLots(lastItem.get(visitId)!) || start <= startDay.get(visitId)!) continue;
    earliestStart.set(visitId, startDay.get(visitId)!);
    lastItem.delete(visitId);
  }
  return { ...supply, earliestStart, lastItem };
}

/** The problem with its kits served in the turn of another plan: the one that is judged, changed or run. */
export function servedInTurn(
  problem: ScheduleProblem,
  input: ProgrammeInput,
  visits: readonly ProgrammeVisit[],
  placed: readonly Placed[],
): { problem: ScheduleProblem; lastItem: KitSupply["lastItem"] } {
  const { earliestStart, takes, scarce, lastItem } = supplyOfKits(input, visits, placed);
  return {
    problem: {
      ...problem,
      scarce,
      visits: problem.visits.map((v) => ({
        ...v,
        kitReadyDay: earliestStart.get(v.id) ?? 0,
        takes: takes.get(v.id),
      })),
    },
    lastItem,
  };
}

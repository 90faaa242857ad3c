/** Stores what a programme's plan gave, in the units of the database. */
import type {
  PlannedKit,
  ProgrammeInput,
  ProgrammeNetting,
  ProgrammePlan,
  ProgrammeVisit,
} from "@/lib/programme";
import { addDays, type CalendarDate } from "@/lib/time";
import type { Db } from "../open";
import type { SeenRows } from "./dataSince";
import {
  type NewPlan,
  type PlanNeeds,
  type PlannedVisit,
  type PlanState,
  type StoredKit,
  savePlan,
} from "./plans";

const hundredths = (quantity: number) => Math.round(quantity * 100);

export function storeProgrammePlan(
  db: Db,
  input: ProgrammeInput,
  made: ProgrammePlan,
  head: {
    state: PlanState;
    createdBy: string;
    createdAt: number;
    versions: Record<string, number>;
    seen: SeenRows;
  },
): number {
  const { plan } = made;
  const newPlan: NewPlan = {
    head: {
      state: head.state,
      firstDay: input.today,
      dayCount: input.dayCount,
      seed: plan.seed,
      iterations: plan.iterations,
      cost: plan.cost,
      lowerBound: plan.lowerBound,
      basis: { versions: head.versions, seen: head.seen, settled: made.settled, nights: plan.nights ?? [] },
      createdBy: head.createdBy,
      createdAt: head.createdAt,
    },
    visits: visitRows(input, made),
    kits: kitRows(made.kits),
    cutting: [...made.cutting],
    ...needRows(input, made.netting),
  };
  return savePlan(db, newPlan);
}

/** Kits in the units of the database, none of them begun. */
export function kitRows(kits: readonly PlannedKit[]): StoredKit[] {
  return kits.map((k) => ({
    visitId: k.visitId,
    pickOn: k.pickOn,
    placeCode: k.placeCode,
    state: "planned",
    massKg: k.massKg,
    volumeL: k.volumeL,
    lines: k.lines
      .filter((l) => hundredths(l.quantity) > 0)
      .map((l) => ({
        itemCode: l.itemCode,
        name: l.name,
        neededC: hundredths(l.quantity),
        boxC: hundredths(l.box),
        pickedC: 0,
        shortC: hundredths(l.short),
        drumSerial: l.drumSerial ?? null,
        runId: l.runId ?? null,
        lotCode: null,
        reason: l.reason,
      })),
  }));
}

/** What a plan's row says of a visit wherever it stands. */
export function aboutVisit(v: ProgrammeVisit) {
  return {
    visitId: v.id,
    kind: v.kind,
    hopCode: v.hopCode,
    side: v.side,
    siteCode: v.siteCode,
    durationMin: Math.round(v.durationMin),
    isJoint: v.isJoint,
  };
}

function visitRows(input: ProgrammeInput, made: ProgrammePlan): PlannedVisit[] {
  const placed = new Map(made.plan.placed.map((p) => [p.visit, p]));
  const unplaced = new Map(made.plan.unplaced.map((u) => [u.visit, u]));
  const pinned = new Set(made.problem.pinned.map((p) => p.visit));
  const underWay = new Set(made.problem.underWay?.map((p) => p.visit));
  const before = new Map(input.inForce.map((x) => [x.visitId, x]));
  const dateOf = (day: number): CalendarDate => addDays(input.today, day);
  return made.visits.map((v, i): PlannedVisit => {
    const p = placed.get(i);
    const u = unplaced.get(i);
    const ready = made.kitReady.get(v.id);
    // What is under way keeps the start that it had.
    const began = underWay.has(i) ? before.get(v.id) : undefined;
    return {
      ...aboutVisit(v),
      kitReadyOn: ready ? dateOf(ready.day) : null,
      crewCode: p ? input.crews[p.crew]!.code : null,
      startOn: began?.startOn ?? (p ? dateOf(p.startDay) : null),
      startMin: began?.startMin ?? p?.startMin ?? null,
      endOn: p ? dateOf(p.endDay) : null,
      endMin: p?.endMin ?? null,
      riskMin: p ? riskOf(made, i, p.startDay, v.durationMin) : 0,
      isPinned: pinned.has(i),
      unplacedRule: p ? null : (u?.rule ?? "not placed"),
      unplacedDetail: p ? null : (u?.detail ?? "the search ended before it was tried"),
    };
  });
}

export function needRows(
  input: Pick<ProgrammeInput, "today">,
  { rows, transfers }: ProgrammeNetting,
): PlanNeeds {
  return {
    netting: rows.map(({ itemCode, placeCode, onHand, spares, alone, withTransfers }) => ({
      itemCode,
      placeCode,
      runsOutOn: alone.runsOutDay === undefined ? null : addDays(input.today, alone.runsOutDay),
      onHandC: hundredths(onHand),
      totalNeedC: hundredths(alone.gross.reduce((a, b) => a + b, 0)),
      body: {
        firstOn: input.today,
        ...(spares > 0 ? { spares } : {}),
        gross: [...alone.gross],
        scheduled: [...alone.scheduled],
        projectedWithoutOrders: [...alone.projectedWithoutOrders],
        projected: [...withTransfers.projected],
        runsOutDay: alone.runsOutDay,
        stops: alone.stops.map((s) => ({ ...s })),
        stopsLeft: withTransfers.stops.map((s) => ({ ...s })),
        orders: withTransfers.orders.map((o) => ({
          quantity: o.quantity,
          receiptDay: o.receiptDay,
          releaseDay: o.releaseDay,
          pastDueDays: o.pastDueDays,
        })),
      },
    })),
    transfers: transfers.map((t) => ({
      itemCode: t.itemCode,
      fromPlace: t.fromPlaceId,
      toPlace: t.toPlaceId,
      quantityC: hundredths(t.quantity),
      sendOn: addDays(input.today, t.sendDay),
      arriveOn: addDays(input.today, t.arriveDay),
      daysLate: t.daysLate,
      fromReserve: t.fromReserve ?? false,
    })),
  };
}

/** Minutes between P50 and P80 of a visit that starts on `day`. */
function riskOf(made: ProgrammePlan, visit: number, day: number, durationMin: number): number {
  const window = made.problem.windows[made.problem.visits[visit]!.window]!;
  return Math.round((window.riskMinPerH[day]! * durationMin) / 60);
}

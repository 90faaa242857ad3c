/** From a plan to kits: when each is picked, from which warehouse, and which lines stock will not cover that day. */
import type { CuttingPlan } from "@/lib/drums";
import { FIVE_DAYS, pickDay } from "@/lib/stock";
import { addDays, type CalendarDate, daysBetween, weekdayOf } from "@/lib/time";
import type { KitNeedLine, ProgrammeVisit } from "./types";

export interface PlannedKitLine extends KitNeedLine {
  drumSerial?: string;
  /** What on hand and receipts due by the pick day do not cover, after the kits picked before it. */
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
  placeCode: string;
}

/**
 * @param onHand units in the warehouses today, by item
 * @param receipts orders on the way
 */
export function plannedKits(
  wanted: readonly KitWanted[],
  today: CalendarDate,
  kitDays: number,
  onHand: ReadonlyMap<string, number>,
  receipts: readonly { itemCode: string; quantity: number; dueOn: CalendarDate }[],
  cutting: readonly CuttingPlan[],
): PlannedKit[] {
  const drumOfRun = new Map(
    cutting.flatMap((c) =>
      c.drums.flatMap((d) => (d.buy ? [] : d.cuts.map((cut) => [cut.runId, d.drum.serial] as const))),
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
    .sort((a, b) => daysBetween(b.pickOn, a.pickOn) || (a.visit.id < b.visit.id ? -1 : 1));
  const taken = new Map<string, number>();
  const due = new Map<string, { dueOn: CalendarDate; quantity: number }[]>();
  for (const r of receipts) due.set(r.itemCode, [...(due.get(r.itemCode) ?? []), r]);

  return kits.map(({ visit, pickOn, placeCode }) => ({
    visitId: visit.id,
    pickOn,
    placeCode,
    massKg: visit.massKg,
    volumeL: visit.volumeL,
    lines: visit.lines.map((line): PlannedKitLine => {
      if (line.runId) {
        const isShort = lateRuns.has(line.runId) || fromNewDrum.has(line.runId);
        return { ...line, drumSerial: drumOfRun.get(line.runId), short: isShort ? line.quantity : 0 };
      }
      const before = taken.get(line.itemCode) ?? 0;
      const arrived = (due.get(line.itemCode) ?? [])
        .filter((r) => r.dueOn <= pickOn)
        .reduce((sum, r) => sum + r.quantity, 0);
      const free = Math.max(0, (onHand.get(line.itemCode) ?? 0) + arrived - before);
      taken.set(line.itemCode, before + line.quantity);
      return { ...line, short: Math.max(0, line.quantity - free) };
    }),
  }));
}

/** What of a report a person is asked about before it counts: a slip of the hand, more often than the truth. */
import { type Figure, type Phrase, phrase, shortFigure } from "@/lib/phrase";
import type { VisitKind } from "@/lib/schedule";
import type { EndSide } from "@/lib/site";
import type { FaultCause } from "@/lib/stock";
import { type CalendarDate, daysBetween } from "@/lib/time";

/** Times the estimate, or the planned need, from which it is asked about. Our own choice. */
const ASKED_FROM = 2;

/** So many more than planned are asked about at the least: two clamps instead of one are no slip. Our own choice. */
const ASKED_MORE = 3;

/** A run is read off the marks on its jacket, one a metre (common practice). */
const RUN_TOLERANCE_M = 1;

export interface ReportDoubt {
  /** The field of the report that it is about: "workedMin", "uses.3.used", "faults.0.itemCode", "outcome". */
  path: string;
  /** Known to app/_client/outbox/doubts.ts. A page that a phone has kept may know that of hours only. */
  rule: "hours-doubtful" | "report-doubtful";
  value: number | string;
  words: Phrase;
}

export interface DoubtedReport {
  outcome: string;
  workedOn: CalendarDate;
  workedMin: number;
  /** In the item's unit. */
  uses: readonly { itemCode: string; runId: string | null; used: number }[];
  /** Units found dead or failing, one each. A page that a phone has kept may not say the cause. */
  faults?: readonly { itemCode: string; cause: FaultCause }[];
  /** When it was written, by the clock where its crew is at home. */
  written?: { on: CalendarDate; atMin: number };
}

/** What is known of a visit that a report of it can be held against. */
export interface VisitKnown {
  kind: VisitKind;
  /** First day of the visit by the plan. */
  startOn: CalendarDate | null;
  /** By the norms, set-up included. */
  plannedMin: number;
  /** When its crew's shift starts, minutes after midnight. */
  shiftFromMin: number;
  /** Installs of its hop that are not reported done. */
  openInstalls: readonly { visitId: string; side: EndSide }[];
  uses: readonly UseKnown[];
}

/** In the item's unit. */
export interface UseKnown {
  itemCode: string;
  runId: string | null;
  /** By the kit. */
  planned: number;
  /** Of a run: what was cut for it. */
  cut?: number;
  /** What the visit's other reports that count say was used. */
  before: number;
  /** Whole pieces that the kit brought; absent where pieces are not counted, and in what a phone has kept. */
  held?: number;
  /** Pieces of the kit that other reports of the visit found dead or doubtful. */
  deadBefore?: number;
}

export function reportDoubts(report: DoubtedReport, known: VisitKnown): ReportDoubt[] {
  const hours = hoursDoubt({ ...report, ...known });
  return [
    ...(hours
      ? [{ path: "workedMin", rule: "hours-doubtful" as const, value: report.workedMin, words: hours }]
      : []),
    ...usesDoubted(report, known),
    ...deadDoubted(report, known),
    ...orderDoubted(report, known),
  ];
}

export type ReportedHours = Pick<DoubtedReport, "workedMin" | "workedOn" | "written"> &
  Pick<VisitKnown, "startOn" | "plannedMin" | "shiftFromMin">;

/** Why hours worked on site are doubtful; undefined = they are not. */
export function hoursDoubt(report: ReportedHours): Phrase | undefined {
  const { workedMin, workedOn, startOn, plannedMin, written, shiftFromMin } = report;
  // Work that was done before its planned day began on the day that is told.
  const days = startOn === null || startOn > workedOn ? 1 : daysBetween(startOn, workedOn) + 1;
  const hours = hoursOf(workedMin);
  if (workedMin > days * 1440)
    return phrase(
      "{{hours}} h are more than the {{most}} h of the days from the visit's start to the day worked.",
      {
        hours,
        most: shortFigure(days * 24),
      },
    );
  // Hours of a visit that began on an earlier day may be of that day.
  if (days === 1 && written?.on === workedOn && workedMin > Math.max(0, written.atMin - shiftFromMin))
    return phrase(
      "{{hours}} h on that day are more than can be: the shift starts at {{from}}, and the report was written at {{at}}.",
      { hours, from: clockOf(shiftFromMin), at: clockOf(written.atMin) },
    );
  if (workedMin > ASKED_FROM * plannedMin)
    return phrase("{{hours}} h are more than twice the {{planned}} h estimated for the visit.", {
      hours,
      planned: hoursOf(plannedMin),
    });
  return undefined;
}

function usesDoubted({ uses }: DoubtedReport, known: VisitKnown): ReportDoubt[] {
  return uses.flatMap((u, i): ReportDoubt[] => {
    const of = known.uses.find((k) => k.itemCode === u.itemCode && k.runId === u.runId);
    // What stands already is asked about no more.
    if (!of || u.used <= 0) return [];
    const words = whyDoubtful(of, u.used + of.before);
    return words ? [{ path: `uses.${i}.used`, rule: "report-doubtful" as const, value: u.used, words }] : [];
  });
}

function whyDoubtful({ runId, planned, cut }: UseKnown, used: number): Phrase | undefined {
  if (runId !== null) {
    const most = cut ?? planned;
    if (used <= most + RUN_TOLERANCE_M) return undefined;
    const values = { used: metres(used), most: metres(most) };
    return cut === undefined
      ? phrase(
          "{{used}} used by all reports of the visit together, but {{most}} planned for this run.",
          values,
        )
      : phrase("{{used}} used by all reports of the visit together, but {{most}} cut for this run.", values);
  }
  if (used <= ASKED_FROM * planned || used < planned + ASKED_MORE) return undefined;
  return phrase("{{used}} used by all reports of the visit together, but {{most}} planned.", {
    used: shortFigure(used),
    most: shortFigure(planned),
  });
}

/**
 * A piece that is dead was not used, so of one item both together are no more than the kit held. What failed in service
 * hung there before, and is no piece of this kit.
 */
function deadDoubted({ uses, faults = [] }: DoubtedReport, known: VisitKnown): ReportDoubt[] {
  const ofKit = known.uses.filter((k) => k.runId === null && k.held !== undefined);
  return ofKit.flatMap(({ itemCode, held = 0, before, deadBefore = 0 }): ReportDoubt[] => {
    const isOfKit = (f: { itemCode: string; cause: FaultCause }) =>
      f.itemCode === itemCode && f.cause !== "failed in service";
    const dead = faults.filter(isOfKit).length + deadBefore;
    const line = uses.findIndex((u) => u.itemCode === itemCode && u.runId === null);
    const used = before + (uses[line]?.used ?? 0);
    if (dead === 0 || used + dead <= held) return [];
    const found = faults.findLastIndex(isOfKit);
    // What stands already is asked about no more.
    if (found < 0 && !(line >= 0 && uses[line]!.used > 0)) return [];
    return [
      {
        path: found < 0 ? `uses.${line}.used` : `faults.${found}.itemCode`,
        rule: "report-doubtful",
        value: itemCode,
        words: phrase(
          "{{used}} used and {{dead}} dead or doubtful by all reports of the visit together, but {{held}} in its kit.",
          { used: shortFigure(used), dead: shortFigure(dead), held: shortFigure(held) },
        ),
      },
    ];
  });
}

/** Both ends hang before they can look at each other. */
function orderDoubted({ outcome }: DoubtedReport, { kind, openInstalls }: VisitKnown): ReportDoubt[] {
  if (outcome !== "done" || (kind !== "alignment" && kind !== "acceptance")) return [];
  const sides = new Set(openInstalls.map((i) => i.side));
  return [...sides].map((side) => ({
    path: "outcome",
    rule: "report-doubtful" as const,
    value: outcome,
    words:
      side === "near"
        ? phrase("The install at the near end of the hop is not reported done.")
        : phrase("The install at the far end of the hop is not reported done."),
  }));
}

const hoursOf = (min: number): Figure => shortFigure(Math.round(min / 6) / 10);
const metres = (m: number): Figure => ({ ...shortFigure(m), unit: "m" });
const clockOf = (min: number): string =>
  [Math.floor(min / 60), Math.floor(min % 60)].map((n) => String(n).padStart(2, "0")).join(":");

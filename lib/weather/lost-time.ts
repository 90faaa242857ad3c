/** Where the shift minutes went in which a sequence made no headway. */
import type { WorkPart } from "./finish";
import { factorAt } from "./masks";
import type { FinishTables } from "./tables";
import type { HourMask, LimitingFactor, SpellSegment } from "./types";
import { LIMITING_FACTORS, WORK_CLASSES } from "./types";

/** Shift minutes that passed without work, by what closed the class that was next. */
export interface LostTime {
  lostMin: Record<LimitingFactor, number>;
  /** The hours suited the class, but not for long enough in one stretch. */
  shortSpellMin: number;
}

/** Adds the lost shift minutes of placed parts to `lost`. */
export function addLostTime(
  mask: HourMask,
  tables: FinishTables,
  segments: readonly SpellSegment[],
  parts: readonly WorkPart[],
  lost: LostTime,
): void {
  const { shift } = tables;
  for (const part of parts) {
    const segment = segments[part.segment]!;
    const c = WORK_CLASSES.indexOf(segment.workClass);
    const isSplit = segment.splittable && segment.spell === undefined;
    const until = isSplit ? part.endMin : part.startMin;
    for (let i = 0; i < shift.from.length; i++) {
      if (shift.to[i]! <= part.readyMin) continue;
      if (shift.from[i]! >= until) break;
      const from = Math.max(shift.from[i]!, part.readyMin);
      const to = Math.min(shift.to[i]!, until);
      for (let h = Math.floor(from / 60); h * 60 < to; h++) {
        const minutes = Math.min(to, h * 60 + 60) - Math.max(from, h * 60);
        const factor = factorAt(mask, c, h);
        if (factor !== "none") lost.lostMin[factor] += minutes;
        else if (!isSplit) lost.shortSpellMin += minutes;
      }
    }
  }
}

export function noLostTime(): LostTime {
  return {
    lostMin: Object.fromEntries(LIMITING_FACTORS.map((f) => [f, 0])) as Record<LimitingFactor, number>,
    shortSpellMin: 0,
  };
}

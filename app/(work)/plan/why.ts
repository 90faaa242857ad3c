/** Why a visit has no place and what rules break, in the reader's language: plans keep their reasons in English. */

import { formatDate } from "@/app/_ui/format";
import { sayKept } from "@/app/_ui/language/kept";
import type { Words } from "@/app/_ui/language/words";
import { type BrokenByName, HELD_BY, type NamedEffect } from "@/lib/programme";
import { REASONS } from "@/lib/schedule";
import type { CalendarDate } from "@/lib/time";

const HELD_AND_REASONS = [...Object.values(HELD_BY), ...REASONS];

export const whyWords = (reason: string, words: Words): string =>
  withDays(sayKept(reason, HELD_AND_REASONS, words), words.locale);

/** lib writes days as calendars count them; people read "Wed 18 Mar". */
const withDays = (text: string, locale: string): string =>
  text.replaceAll(/\b\d{4}-\d{2}-\d{2}\b/g, (day) => formatDate(day as CalendarDate, "weekday", locale));

/** Broken rules as a planner reads them; what is kept of an edit stays English. */
export const brokenWords = (broken: readonly BrokenByName[], words: Words): BrokenByName[] =>
  broken.map((b) => ({ ...b, rule: whyWords(b.rule, words), message: whyWords(b.message, words) }));

/** What an edit would do, for the page that asked. */
export const effectWords = (
  { shifts, broken }: Pick<NamedEffect, "shifts" | "broken">,
  words: Words,
): Pick<NamedEffect, "shifts" | "broken"> => ({
  shifts: shifts.map((s) => ({
    ...s,
    unplaced: s.unplaced && {
      rule: whyWords(s.unplaced.rule, words),
      detail: whyWords(s.unplaced.detail, words),
    },
  })),
  broken: brokenWords(broken, words),
});

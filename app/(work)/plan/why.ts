/** Why a visit has no place and what rules break, in the reader's language: plans keep their reasons in English. */

import { formatDate } from "@/app/_ui/format";
import { sayKept } from "@/app/_ui/language/kept";
import type { Words } from "@/app/_ui/language/words";
import { READING_TEXTS } from "@/lib/acceptance";
import { type BrokenByName, HELD_BY, type NamedEffect, type VisitShift } from "@/lib/programme";
import { REASONS } from "@/lib/schedule";
import type { EndSide } from "@/lib/site";
import { CHECK_TEXTS } from "@/lib/takeoff";
import type { CalendarDate } from "@/lib/time";
import { type VisitWork, visitIdOf } from "@/lib/visitIds";
import { sayVisit } from "./sayVisit";
import { shiftWords } from "./shiftWords";

// Failed checks and readings hold a hop too; their sentences are more special than those about whom or what.
const HELD_AND_REASONS = [
  ...Object.values(HELD_BY),
  "design check: {{message}}",
  ...CHECK_TEXTS,
  ...READING_TEXTS,
  ...REASONS,
];

export const whyWords = (reason: string, words: Words): string =>
  withDays(withVisits(sayKept(reason, HELD_AND_REASONS, words), words), words.locale);

/** A visit as plans name it; those made earlier number the first revisit too. */
const VISIT_NAMED =
  /(\S+) (near|far) (install|alignment|acceptance|revisit)\b(?:, part (\d+)|(?<=revisit) (\d+)(?!\d| (?:h|min|days?)\b))?/g;

const withVisits = (text: string, words: Words): string =>
  text.replaceAll(
    VISIT_NAMED,
    (_, hop: string, side: EndSide, kind: VisitWork, part: string | undefined, old: string | undefined) =>
      sayVisit(visitIdOf(hop, side, kind, Number(part ?? old ?? 1)), words),
  );

/** lib writes days as calendars count them; people read "Wed 18 Mar". */
const withDays = (text: string, locale: string): string =>
  text.replaceAll(/\b\d{4}-\d{2}-\d{2}\b/g, (day) => formatDate(day as CalendarDate, "weekday", locale));

export interface SaidShift extends VisitShift {
  /** What of its place the edit changes, in words. */
  changes: string;
}

export interface SaidBroken extends BrokenByName {
  /** What a planner can do about it. */
  helps?: string;
}

/** What a planner can do where a move by hand breaks a rule, by the rule's name. */
export const REMEDIES_BY_HAND: Readonly<Record<string, string>> = {
  order: "move the hop's visits together: pick several, then move them as one",
  work: "another day, an earlier start, or a crew with a longer shift: it cannot end later than the shift, the site and the light allow",
  weather: "another day, or wait for the next forecast",
  shift: "another day, a start within the hours that the crew can be there, or a crew that is nearer",
  "weekly hours": "another week, or another crew",
  people: "another crew, or a day on which its people are there and their certificates hold",
  access: "a day and hours at which the site is open",
  notice: "a later day: the owner wants to be told before",
  gate: "a day after its gates open",
  "design check": "correct the design first: the hop's page says what is wrong",
  coordinate: "give the site its coordinate first",
  kit: "a day after its kit can be whole",
  rest: "a later start on the next day, or another crew",
  "nights away": "a day nearer to the crew's other work, or another crew",
  payload: "another crew, or a day with fewer kits on the vehicle",
  "site lock": "a day on which no other crew is on the site",
  together: "move both ends to a day that suits both crews",
  kept: "unpin the other visit first, or choose another day",
  calendar: "a day on which the crew works",
};

/** The same of a visit that waits for one in the tray: nothing in there can be picked. */
export const REMEDY_FOR_WAITING =
  "give that visit its place first: those without a place are moved one after the other";

const remedyOf = ({ rule, message }: BrokenByName): string | undefined =>
  rule === "order" && message.includes("is placed but waits for")
    ? REMEDY_FOR_WAITING
    : REMEDIES_BY_HAND[rule];

/** Broken rules as a planner reads them, with what helps; what is kept of an edit stays English. */
export const brokenWords = (broken: readonly BrokenByName[], words: Words): SaidBroken[] =>
  broken.map((b) => {
    const remedy = remedyOf(b);
    return {
      ...b,
      rule: whyWords(b.rule, words),
      message: whyWords(b.message, words),
      helps: remedy && words.t(remedy),
    };
  });

/** What an edit would do, for the page that asked. */
export const effectWords = (
  { shifts, broken, brokenBefore }: Pick<NamedEffect, "shifts" | "broken" | "brokenBefore">,
  words: Words,
): { shifts: SaidShift[]; broken: SaidBroken[]; brokenBefore: SaidBroken[] } => ({
  shifts: shifts.map((s) => ({
    ...s,
    changes: shiftWords(s.from, s.to, words),
    unplaced: s.unplaced && {
      rule: whyWords(s.unplaced.rule, words),
      detail: whyWords(s.unplaced.detail, words),
    },
  })),
  broken: brokenWords(broken, words),
  brokenBefore: brokenWords(brokenBefore, words),
});

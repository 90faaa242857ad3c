/** What is asked about lots of goods that come in: whether they need one, and whether anybody may still use them. */
import { phrase } from "@/lib/phrase";
import { type Problem, problem } from "@/lib/result";
import type { CalendarDate } from "@/lib/time";

interface ComingIn {
  itemCode: string;
  expiresOn?: CalendarDate;
  /** The last day of use that a person saw is past, and takes in all the same. */
  sureOfExpired?: CalendarDate;
}

/** A last day of use before today is asked about, until a person confirms that very day. */
export function pastLastDay(
  path: string,
  { itemCode, expiresOn, sureOfExpired }: ComingIn,
  today: CalendarDate,
): Problem[] {
  if (!expiresOn || expiresOn >= today || sureOfExpired === expiresOn) return [];
  return [
    problem(
      path,
      "past-last-day",
      expiresOn,
      phrase("The last day of use of {{item}} is past: no kit takes it.", { item: itemCode }),
      phrase("Correct the day, put it on hold, or confirm that it is taken in all the same."),
    ),
  ];
}

/** What ages comes in with its lot and last day of use, or no netting sees it expire; what is kept by serials has no lot. */
export function lotProblems(
  path: string,
  item: { code: string; ages: boolean; takesSerials: boolean },
  { lotCode, expiresOn }: { lotCode?: string; expiresOn?: CalendarDate },
): Problem[] {
  if (item.ages && (!lotCode || !expiresOn))
    return [
      problem(
        path,
        "lot-missing",
        lotCode,
        phrase("{{item}} has a last day of use: it and the lot are needed.", { item: item.code }),
        phrase("Copy both from the label."),
      ),
    ];
  if (lotCode && !item.ages && item.takesSerials)
    return [
      problem(
        path,
        "lot-of-serials",
        lotCode,
        phrase("Pieces of {{item}} are kept by serials and have no lot.", { item: item.code }),
        phrase("Leave the lot empty: serials are read with a receipt, with a kit or at the hop."),
      ),
    ];
  return [];
}

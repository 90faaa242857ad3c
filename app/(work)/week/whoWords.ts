/** Who of a crew goes, as its pages and the sheet say it: those on leave are left out and named apart. */
import { formatDate } from "@/app/_ui/format";
import type { Words } from "@/app/_ui/language/words";
import type { CrewFacts } from "@/db/queries/week";
import { type Away, whoGoes } from "@/lib/programme";
import type { CalendarDate } from "@/lib/time";

type Person = CrewFacts["people"][number];

/** @param until the last day of which leave is named */
export function whoWords(
  people: readonly Person[],
  on: CalendarDate,
  until: CalendarDate,
  words: Words,
): { names: string; away: string[] } {
  const { going, away } = whoGoes(people, on, until);
  return { names: namesOf(going, words), away: away.map((a) => awayWords(a, on, words)) };
}

const namesOf = (people: readonly Person[], { t }: Words): string =>
  people.length === 0
    ? t("nobody, all are on leave")
    : people.map(({ name, isLead }) => (isLead ? t("{{name}} (lead)", { name }) : name)).join(", ");

function awayWords(
  { member: { name }, fromOn, untilOn }: Away<Person>,
  on: CalendarDate,
  words: Words,
): string {
  const { t, locale } = words;
  const day = (date: CalendarDate) => formatDate(date, "weekday", locale);
  if (fromOn <= on) return t("{{name}} is on leave until {{day}}", { name, day: day(untilOn) });
  return fromOn === untilOn
    ? t("{{name}} is on leave on {{day}}", { name, day: day(fromOn) })
    : t("{{name}} is on leave from {{from}} to {{to}}", { name, from: day(fromOn), to: day(untilOn) });
}

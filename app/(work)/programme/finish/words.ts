/** Words for what a simulation of the plan found. */

import { formatDate } from "@/app/_ui/format";
import type { Words } from "@/app/_ui/language/words";
import type { VisitDriver } from "@/db/queries/risk";
import { figure, type Phrase, phrase } from "@/lib/phrase";
import type { HopProgress, RiskByName } from "@/lib/programme";
import type { ChainStart, LossCause } from "@/lib/risk";
import type { CalendarDate } from "@/lib/time";

/** The latest promise of the hops that are not done. */
export function lastPromise(hops: readonly HopProgress[]): CalendarDate | undefined {
  return hops
    .filter((h) => h.state !== "done")
    .flatMap((h) => h.promisedOn ?? [])
    .reduce<CalendarDate | undefined>((last, on) => (last && last > on ? last : on), undefined);
}

/** Hops that were run, and those that were not whose promise has passed: no run can keep it. */
export function finishRowsOf({ hops: run }: Pick<RiskByName, "hops">, hops: readonly HopProgress[]) {
  const byCode = new Map(run.map((h) => [h.hopCode, h]));
  return hops
    .filter((h) => byCode.has(h.hopCode) || h.promiseMetShare !== undefined)
    .map(({ hopCode, promisedOn, plannedOn, promiseMetShare }) => {
      const own = byCode.get(hopCode);
      return {
        hopCode,
        promisedOn,
        plannedOn: own?.plannedOn ?? plannedOn,
        p50On: own?.p50On,
        p80On: own?.p80On,
        promiseMetShare: promiseMetShare ?? own?.promiseMetShare,
      };
    });
}

/** "near alignment", "far alignment, part 2". */
export function workPhrase({ side, kind, part }: Pick<VisitDriver, "side" | "kind" | "part">): Phrase {
  const of = { side: phrase(side), kind: phrase(kind) };
  return part > 1
    ? phrase("{{side}} {{kind}}, part {{part}}", { ...of, part: figure(part) })
    : phrase("{{side}} {{kind}}", of);
}

export const CAUSE_WORDS: Readonly<Record<LossCause, string>> = {
  wind: "wind over its limit",
  gust: "gusts over their limit",
  rain: "rain",
  "dry time": "drying after rain",
  temperature: "too cold or too hot for the work",
  "wind chill": "wind chill",
  "heat index": "heat",
  daylight: "darkness",
  thunder: "thunder",
  icing: "icing",
  "no data": "no weather data",
  "spell too short": "open hours too few for work that may not pause",
  "past weather by month": "weather, by monthly figures",
  "other end": "waiting for the crew at the other end",
  "earlier work": "waiting for earlier work of another crew",
  "site taken": "another crew on the site",
};

export const START_WORDS: Readonly<Record<ChainStart, string>> = {
  "first day": "nothing: the chain begins on the first day",
  kit: "a kit that is not whole earlier",
  gate: "a gate that is not met earlier",
  notice: "the notice that the site wants",
  "plan date": "the day that the plan gives it",
};

/** "6 past years (2020 to 2025)". */
export function yearsWords({ years }: Pick<RiskByName, "years">, { t }: Words): string {
  if (years.length === 0) return t("monthly weather figures, as no past year could be used");
  const [first, last] = [String(years[0]), String(years.at(-1))];
  return t("the weather of {{count}} past years ({{span}})", {
    count: years.length,
    span: years.length === 1 ? first : t("{{from}} to {{to}}", { from: first, to: last }),
  });
}

/** A day of a run that was followed; undefined = it did not end within the days that were. */
export const dateOrLater = (on: CalendarDate | undefined, { t, locale }: Words): string =>
  on ? formatDate(on, "day", locale) : t("later");

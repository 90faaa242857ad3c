/** What a broken rule means for one visit with one crew on one day, as a planner says it. */
import { addDays } from "@/lib/time";
import { WORK_CLASSES } from "@/lib/weather";
import type { Model } from "../model";
import { BREAKS, RULES } from ".";
import { ACCESS } from "./access";
import { HORIZON } from "./horizon";
import { KEPT } from "./kept";
import { KIT } from "./kit";
import { NIGHTS_AWAY } from "./nightsAway";
import { NOTICE } from "./notice";
import { ORDER } from "./order";
import { PAYLOAD } from "./payload";
import { PEOPLE } from "./people";
import { RELEASE } from "./release";
import { REST } from "./rest";
import { SHIFT } from "./shift";
import { SITE_LOCK } from "./siteLock";
import { TOGETHER } from "./together";
import { WEATHER } from "./weather";
import { WEEKLY_HOURS } from "./weeklyHours";

const WEEKDAYS = ["Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"];

/** @param rule a position in RULES */
export function violation(m: Model, v: number, rule: number, c: number, day: number): string {
  const visit = m.problem.visits[v]!;
  const crew = m.problem.crews[c]!;
  const label = (u: number | undefined) => (u === undefined ? "other work" : m.problem.visits[u]!.label);
  switch (rule) {
    case BREAKS.kept:
      return KEPT.text();
    case BREAKS.gate:
      return RELEASE.text(addDays(m.problem.firstDay, Math.ceil(visit.releaseDay)));
    case BREAKS.kit:
      return day < visit.kitReadyDay
        ? KIT.text(addDays(m.problem.firstDay, Math.ceil(visit.kitReadyDay)))
        : KIT.shared((visit.takes ?? []).map((t) => m.problem.scarce![t.item]!.code).join(", "));
    case BREAKS.notice:
      return NOTICE.text(visit.noticeDays);
    case BREAKS.access:
      return ACCESS.text(WEEKDAYS[m.weekday[day]!]!);
    case BREAKS.people: {
      const there = crew.days[day];
      return there ? PEOPLE.text(visit.needs, there) : "the crew does not work that day";
    }
    case BREAKS.weather:
      return WEATHER.text(WORK_CLASSES[m.segClass[m.segFrom[v]!]!]!);
    case BREAKS.shift:
      return SHIFT.text();
    case BREAKS.weeklyHours:
      return WEEKLY_HOURS.text(crew.weeklyMaxMin);
    case BREAKS.rest:
      return REST.text(crew.restMin);
    case BREAKS.nightsAway:
      return NIGHTS_AWAY.text(crew.nightsAwayMax);
    case BREAKS.payload:
      return PAYLOAD.text(crew.payloadKg);
    case BREAKS.siteLock:
      return SITE_LOCK.text();
    case BREAKS.order:
      return ORDER.text(
        visit.after.length > 0 ? visit.after.map(label).join(", ") : "the order of the hop's visits",
      );
    case BREAKS.together:
      return TOGETHER.text(label(visit.togetherWith));
    case BREAKS.horizon:
      return HORIZON.text(m.dayCount);
    default:
      throw new RangeError(`there is no rule ${rule} of ${RULES.length}`);
  }
}

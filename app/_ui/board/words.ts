import { addDays, type CalendarDate } from "@/lib/time";
import { formatClock, formatDate } from "../format";
import { type BoardVisit, KIND_LOOK, KIT_LOOK, WEATHER_LOOK } from "./types";

/** All that a block says, as one sentence: read out on focus, shown under the board. */
export function visitWords(visit: BoardVisit, firstDay: CalendarDate, locale: string): string {
  const part = visit.part ? `, part ${visit.part},` : "";
  const parts = [`${KIND_LOOK[visit.kind].word}${part} ${visit.hopCode} at ${visit.siteCode}`];
  if (visit.crewId !== null) {
    const start = formatDate(addDays(firstDay, visit.startDay), "weekday", locale);
    const end =
      visit.endDay === visit.startDay
        ? formatClock(visit.endMin)
        : `${formatDate(addDays(firstDay, visit.endDay), "weekday", locale)} ${formatClock(visit.endMin)}`;
    parts.push(`${start} ${formatClock(visit.startMin)} to ${end}`);
  }
  if (visit.isLate) parts.push("after the promise date");
  if (visit.isPinned) parts.push("pinned");
  if (visit.togetherId) parts.push("together with the other end");
  if (visit.weather) parts.push(join(WEATHER_LOOK[visit.weather.state].word, visit.weather.text));
  if (visit.kit) parts.push(join(KIT_LOOK[visit.kit.state].word, visit.kit.text));
  if (visit.rule) parts.push(join(`not placed: ${visit.rule}`, visit.detail ?? ""));
  return parts.join("; ");
}

const join = (word: string, text: string): string => (text ? `${word} (${text})` : word);

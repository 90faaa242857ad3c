import { addDays, type CalendarDate } from "@/lib/time";

import { formatClock, formatDate } from "../format";
import type { Words } from "../language/words";
import { type BoardVisit, KIND_LOOK, KIT_LOOK, REPORT_LOOK, WEATHER_LOOK } from "./types";

/** All that a block says, as one sentence: read out on focus, shown under the board. */
export function visitWords(visit: BoardVisit, firstDay: CalendarDate, { t, locale }: Words): string {
  const what = { kind: t(KIND_LOOK[visit.kind].word), hop: visit.hopCode, site: visit.siteCode };
  const parts = [
    visit.part
      ? t("{{kind}}, part {{part}}, {{hop}} at {{site}}", { ...what, part: visit.part })
      : t("{{kind}} {{hop}} at {{site}}", what),
  ];
  if (visit.crewId !== null) {
    const start = formatDate(addDays(firstDay, visit.startDay), "weekday", locale);
    const end =
      visit.endDay === visit.startDay
        ? formatClock(visit.endMin)
        : `${formatDate(addDays(firstDay, visit.endDay), "weekday", locale)} ${formatClock(visit.endMin)}`;
    parts.push(t("{{day}} {{start}} to {{end}}", { day: start, start: formatClock(visit.startMin), end }));
  }
  if (visit.report) parts.push(join(t(REPORT_LOOK[visit.report.state].word), visit.report.text));
  if (visit.crewShort) parts.push(visit.crewShort);
  if (visit.isLate) parts.push(t("after the promise date"));
  if (visit.isBeforeGate) parts.push(t("hop planned before a gate opens"));
  if (visit.isPinned) parts.push(t("pinned"));
  if (visit.togetherId) parts.push(t("together with the other end"));
  if (visit.weather) parts.push(join(t(WEATHER_LOOK[visit.weather.state].word), visit.weather.text));
  if (visit.kit) parts.push(join(t(KIT_LOOK[visit.kit.state].word), visit.kit.text));
  if (visit.rule) parts.push(join(t("not placed: {{rule}}", { rule: visit.rule }), visit.detail ?? ""));
  return parts.join("; ");
}

const join = (word: string, text: string): string => (text ? `${word} (${text})` : word);

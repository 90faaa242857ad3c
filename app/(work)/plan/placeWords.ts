/** Where a visit stands in words, from its start to its end. */

import { formatClock, formatDate } from "@/app/_ui/format";
import type { Words } from "@/app/_ui/language/words";
import type { CalendarDate } from "@/lib/time";

export interface SaidPlace {
  crewCode: string;
  startOn: CalendarDate;
  startMin: number;
  endOn: CalendarDate;
  endMin: number;
}

/** "C2, Wed 18 Mar 08:07–12:37"; over more than one day both ends name theirs. */
export function placeWords(p: SaidPlace | undefined, { t, locale }: Words): string {
  if (!p) return t("no place");
  const start = `${formatDate(p.startOn, "weekday", locale)} ${formatClock(p.startMin)}`;
  const end = formatClock(p.endMin);
  return p.endOn === p.startOn
    ? `${p.crewCode}, ${start}–${end}`
    : `${p.crewCode}, ${start} – ${formatDate(p.endOn, "weekday", locale)} ${end}`;
}

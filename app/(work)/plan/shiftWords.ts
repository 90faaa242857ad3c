/** What another plan, or a move, changes of a visit, in words. */

import { formatDuration } from "@/app/_ui/format";
import type { Words } from "@/app/_ui/language/words";
import { placeChanges } from "@/lib/programme";
import type { SaidPlace } from "./placeWords";

/** "other crew, 3 days later, now 1 night from start to end"; empty when nothing changes. */
export function shiftWords(from: SaidPlace | undefined, to: SaidPlace | undefined, words: Words): string {
  const { t, locale } = words;
  if (!from || !to) return from ? t("loses its place") : to ? t("gets a place") : "";
  const change = placeChanges(from, to);
  const said: string[] = [];
  if (change.crew) said.push(t("other crew"));
  if (change.byDays !== 0)
    said.push(
      change.byDays > 0
        ? t("{{count}} days later", { count: change.byDays })
        : t("{{count}} days earlier", { count: -change.byDays }),
    );
  if (change.byDays === 0 && change.startMin !== 0) said.push(byWords("start", change.startMin, words));
  if (change.byDays === 0 && change.endMin !== 0 && change.daysNow === change.daysBefore)
    said.push(byWords("end", change.endMin, words));
  if (change.daysNow !== change.daysBefore)
    said.push(
      change.daysNow === 1
        ? t("now within one day")
        : t("now {{count}} nights from start to end", { count: change.daysNow - 1 }),
    );
  else if (change.byDays !== 0 && change.longerMin !== 0)
    said.push(
      change.longerMin > 0
        ? t("from start to end {{by}} longer", { by: formatDuration(change.longerMin, locale) })
        : t("from start to end {{by}} shorter", { by: formatDuration(-change.longerMin, locale) }),
    );
  return said.join(", ");
}

function byWords(which: "start" | "end", byMin: number, { t, locale }: Words): string {
  const by = formatDuration(Math.abs(byMin), locale);
  if (which === "start")
    return byMin > 0 ? t("start {{by}} later", { by }) : t("start {{by}} earlier", { by });
  return byMin > 0 ? t("end {{by}} later", { by }) : t("end {{by}} earlier", { by });
}

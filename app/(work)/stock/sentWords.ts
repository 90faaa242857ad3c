import { formatDate } from "@/app/_ui/format";
import type { Words } from "@/app/_ui/language/words";
import type { RunsOutRow } from "@/db/queries/runsOut";

/** Days that a row names itself; what leaves after them is told as one sum. */
const DAYS_NAMED = 3;

/** What other warehouses send by which day: a sum under the first day would call all of it urgent. */
export function sentWords(
  { transfers, unit, saved, stopsLeft }: Pick<RunsOutRow, "transfers" | "unit" | "saved" | "stopsLeft">,
  { t, locale, amount }: Words,
): string {
  const [first, ...others] = transfers;
  if (!first) return "";
  const named = others.slice(0, DAYS_NAMED - 1);
  const later = others.slice(DAYS_NAMED - 1).reduce((sum, s) => sum + s.quantity, 0);
  return [
    t("of {{quantity}} from {{fromPlaces}} by {{send}}", {
      quantity: amount(first.quantity, unit),
      fromPlaces: first.fromPlaces.join(", "),
      send: formatDate(first.sendOn, "day", locale),
    }),
    ...named.map((s) =>
      s.fromPlaces.join() === first.fromPlaces.join()
        ? t("{{quantity}} more by {{send}}", {
            quantity: amount(s.quantity, unit),
            send: formatDate(s.sendOn, "day", locale),
          })
        : t("{{quantity}} more from {{fromPlaces}} by {{send}}", {
            quantity: amount(s.quantity, unit),
            fromPlaces: s.fromPlaces.join(", "),
            send: formatDate(s.sendOn, "day", locale),
          }),
    ),
    ...(later > 0 ? [t("{{quantity}} more after that", { quantity: amount(later, unit) })] : []),
    ...(saved > 0
      ? [stopsLeft === 0 ? t("saves all of them") : t("saves {{count}} visits", { count: saved })]
      : []),
  ].join(", ");
}

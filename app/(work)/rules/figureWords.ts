import type { Figure, FigureValue } from "@/app/_server/ruleFigures/figure";
import { formatNumber, formatQuantity } from "@/app/_ui/format";
import type { Words } from "@/app/_ui/language/words";

const DIGITS = 4;

/** A figure's value with its unit, as people read it. */
export function figureWords(f: Figure, value: FigureValue, words: Words): string {
  const { t, locale } = words;
  if (value === null) return t("no limit");
  if (typeof value === "boolean") return value ? t("yes") : t("no");
  if (typeof value === "string") return t(f.choices?.find((c) => c.value === value)?.label ?? value);
  // "1 1/m" would be read as a fraction.
  if (f.unit === "1/m") return formatQuantity(value, t("per m"), DIGITS, locale);
  return f.unit ? formatQuantity(value, t(f.unit), DIGITS, locale) : formatNumber(value, DIGITS, locale);
}

const POINT = /^(.*), (optimistic|likely|pessimistic)$/;
const EACH = /^(.*), each (\w+)$/;

/** A figure's name: "Per ODU, likely", "Fixed, each run, optimistic". */
export function figureName(label: string, { t }: Pick<Words, "t">): string {
  const [, stem, point] = POINT.exec(label) ?? [];
  if (stem && point) return `${figureName(stem, { t })}, ${t(point)}`;
  const [, work, unit] = EACH.exec(label) ?? [];
  return work && unit ? `${t(work)}, ${t(`each ${unit}`)}` : t(label);
}

/** "2 climbers, 1 ground hand, everyone aloft", part by part. */
export const peopleSaid = (people: string, { t }: Pick<Words, "t">): string =>
  people
    .split(", ")
    .map((part) => {
      const [, count, who] = /^(\d+) (.*)$/.exec(part) ?? [];
      return count && who ? `${count} ${t(who)}` : t(part);
    })
    .join(", ");

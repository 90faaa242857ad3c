import type { Figure, FigureValue } from "@/app/_server/ruleFigures";
import { formatNumber, formatQuantity } from "@/app/_ui/format";

const DIGITS = 4;

/** A figure's value with its unit, as people read it. */
export function figureWords(f: Figure, value: FigureValue): string {
  if (value === null) return "no limit";
  if (typeof value === "boolean") return value ? "yes" : "no";
  if (typeof value === "string") return f.choices?.find((c) => c.value === value)?.label ?? value;
  // "1 1/m" would be read as a fraction.
  if (f.unit === "1/m") return formatQuantity(value, "per m", DIGITS);
  return f.unit ? formatQuantity(value, f.unit, DIGITS) : formatNumber(value, DIGITS);
}

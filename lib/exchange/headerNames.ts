/** Does a header name a column, how surely, and in which unit? */
import { headerOf } from "./columns";
import type { Column, Confidence, UnitConversion } from "./types";
import { conversionText, isUnitName, type UnitId, unitNamed, unitNamesLike, unitsLike } from "./units";

export type Extra = { conversion?: UnitConversion; note?: string };

export function nameHit(
  header: string,
  column: Column,
): { confidence: Confidence; extra: Extra } | undefined {
  if (header === headerOf(column)) return { confidence: "exact", extra: {} };
  const { unit } = column;
  if (unit === undefined) {
    const confidence = nameConfidence(header, column);
    return confidence && { confidence, extra: {} };
  }
  const split = splitUnit(header, unit);
  if (split) {
    const confidence = nameConfidence(split.name, column);
    if (!confidence) return undefined;
    if (split.unit === unit)
      return { confidence: confidence === "exact" ? "normalised" : confidence, extra: {} };
    return { confidence: "unit", extra: conversionFor(column, split.unit) };
  }
  const confidence = nameConfidence(header, column);
  if (!confidence) return undefined;
  return { confidence, extra: { note: `states no unit and is read as ${unit}` } };
}

function nameConfidence(name: string, column: Column): Confidence | undefined {
  if (name === column.label) return "exact";
  const lower = name.toLowerCase();
  if (column.aliases.some((a) => a.toLowerCase() === lower)) return "alias";
  const plain = plainName(name);
  const names = [column.label, column.key, keyWithoutUnit(column), ...column.aliases];
  return names.some((n) => plainName(n) === plain) ? "normalised" : undefined;
}

/** `mountHeightM` -> `mountHeight`: a header "Mount height [m]" has its unit split off already. */
function keyWithoutUnit(column: Column): string {
  return column.unit ? column.key.replace(/(Ms|MmH|Pct|[A-Z][a-z]?[a-z]?)$/, "") : column.key;
}

/** Lower case words without accents and punctuation; camel case becomes words. */
export function plainName(text: string): string {
  return text
    .replace(/(\p{Ll}|\d)(\p{Lu})/gu, "$1 $2")
    .normalize("NFKD")
    .replace(/\p{M}/gu, "")
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, " ")
    .trim();
}

/** `Height (ft)`, `Height [ft]`, `height_ft`, `Height, ft`, `heightFt` -> name and unit, for units like `like`. */
function splitUnit(header: string, like: UnitId): { name: string; unit: UnitId } | undefined {
  const bracketed = /^(.+?)\s*[([]\s*([^)\]]+?)\s*[)\]]\s*$/.exec(header);
  if (bracketed) {
    const unit = unitNamed(bracketed[2]!, like);
    return unit && { name: bracketed[1]!, unit };
  }
  const text = header.replace(/\u00b0\s*/g, "deg");
  for (const name of unitNamesLike(like)) {
    if (!text.toLowerCase().endsWith(name)) continue;
    const before = text.slice(0, text.length - name.length);
    const isSeparate = /[\s_,/.-]$/.test(before);
    const isCamel = /[\p{Ll}\d]$/u.test(before) && /^\p{Lu}/u.test(text.slice(before.length));
    if ((isSeparate || isCamel) && before.trim() !== "") {
      return { name: before.replace(/[\s_,/.-]+$/, ""), unit: unitNamed(name, like)! };
    }
  }
  return undefined;
}

export function conversionFor(column: Column, unit: UnitId | undefined): Extra {
  if (unit === undefined || column.unit === undefined || unit === column.unit) return {};
  if (!unitsLike(column.unit).includes(unit)) {
    throw new RangeError(`${column.label} cannot be given in ${unit}`);
  }
  return { conversion: { from: unit, to: column.unit, text: conversionText(unit, column.unit) } };
}

export function unmatchedReason(header: string, columns: readonly Column[]): string {
  const bracketed = /^(.+?)\s*[([]\s*([^)\]]+?)\s*[)\]]\s*$/.exec(header);
  const column = bracketed && columns.find((c) => nameConfidence(bracketed[1]!, c) !== undefined);
  if (!bracketed || !column) return "no column of that name";
  if (column.unit && isUnitName(bracketed[2]!)) return `${column.label} cannot be given in ${bracketed[2]}`;
  return column.unit
    ? `"${bracketed[2]}" is not a unit that is known for ${column.label}`
    : "no column of that name";
}

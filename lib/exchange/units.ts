/** Units that a header may state, by family, with the factor to the family's base unit. */

interface UnitDef {
  family: string;
  /** base = value * factor + offset. */
  factor: number;
  offset?: number;
  /** Lower case, as headers spell it. */
  names: readonly string[];
}

const UNIT_DEFS = {
  m: { family: "length", factor: 1, names: ["m", "meter", "meters", "metre", "metres", "mtr"] },
  km: { family: "length", factor: 1000, names: ["km", "kilometer", "kilometers", "kilometre", "kilometres"] },
  cm: { family: "length", factor: 0.01, names: ["cm"] },
  mm: {
    family: "length",
    factor: 0.001,
    names: ["mm", "millimeter", "millimeters", "millimetre", "millimetres"],
  },
  ft: { family: "length", factor: 0.3048, names: ["ft", "feet", "foot"] },
  in: { family: "length", factor: 0.0254, names: ["in", "inch", "inches", '"'] },
  "m/s": {
    family: "speed",
    factor: 1,
    names: ["m/s", "ms", "mps", "m s-1", "metres per second", "meters per second"],
  },
  "km/h": { family: "speed", factor: 1 / 3.6, names: ["km/h", "kmh", "kph", "kmph"] },
  kn: { family: "speed", factor: 1852 / 3600, names: ["kn", "kt", "kts", "knot", "knots"] },
  mph: { family: "speed", factor: 0.44704, names: ["mph", "mi/h"] },
  kg: { family: "mass", factor: 1, names: ["kg", "kilogram", "kilograms"] },
  g: { family: "mass", factor: 0.001, names: ["g", "gram", "grams"] },
  lb: { family: "mass", factor: 0.45359237, names: ["lb", "lbs", "pound", "pounds"] },
  "kg/m": { family: "mass per length", factor: 1, names: ["kg/m"] },
  "kg/km": { family: "mass per length", factor: 0.001, names: ["kg/km"] },
  "kg/100 m": { family: "mass per length", factor: 0.01, names: ["kg/100 m", "kg/100m"] },
  "lb/ft": { family: "mass per length", factor: 0.45359237 / 0.3048, names: ["lb/ft"] },
  L: { family: "volume", factor: 1, names: ["l", "litre", "litres", "liter", "liters"] },
  m3: { family: "volume", factor: 1000, names: ["m3", "cbm"] },
  ft3: { family: "volume", factor: 28.316846592, names: ["ft3", "cu ft"] },
  degC: { family: "temperature", factor: 1, names: ["degc", "c", "celsius", "deg c"] },
  degF: {
    family: "temperature",
    factor: 5 / 9,
    offset: -160 / 9,
    names: ["degf", "f", "fahrenheit", "deg f"],
  },
  GHz: { family: "frequency", factor: 1000, names: ["ghz"] },
  MHz: { family: "frequency", factor: 1, names: ["mhz"] },
  "mm/h": { family: "rain", factor: 1, names: ["mm/h", "mm/hr", "mmh"] },
  "in/h": { family: "rain", factor: 25.4, names: ["in/h", "in/hr"] },
  V: { family: "voltage", factor: 1, names: ["v", "volt", "volts"] },
  mV: { family: "voltage", factor: 0.001, names: ["mv"] },
  W: { family: "power", factor: 1, names: ["w", "watt", "watts"] },
  kW: { family: "power", factor: 1000, names: ["kw"] },
  N: { family: "force", factor: 1, names: ["n", "newton", "newtons"] },
  kN: { family: "force", factor: 1000, names: ["kn", "kilonewton"] },
  lbf: { family: "force", factor: 4.4482216152605, names: ["lbf"] },
  dB: { family: "loss", factor: 1, names: ["db"] },
  dBm: { family: "level", factor: 1, names: ["dbm"] },
  mm2: { family: "section", factor: 1, names: ["mm2", "sqmm", "sq mm"] },
  "ohm/100 m": { family: "loop resistance", factor: 1, names: ["ohm/100 m", "ohm/100m"] },
  "ohm/km": { family: "loop resistance", factor: 0.1, names: ["ohm/km"] },
  min: { family: "time", factor: 1, names: ["min", "mins", "minute", "minutes"] },
  h: { family: "time", factor: 60, names: ["h", "hr", "hrs", "hour", "hours"] },
  days: { family: "days", factor: 1, names: ["days", "day", "d"] },
  weeks: { family: "days", factor: 7, names: ["weeks", "week", "wk", "wks"] },
  deg: { family: "angle", factor: 1, names: ["deg", "degree", "degrees"] },
  "%": { family: "share", factor: 1, names: ["%", "percent", "pct"] },
} as const satisfies Record<string, UnitDef>;

export type UnitId = keyof typeof UNIT_DEFS;

const UNITS: Readonly<Record<UnitId, UnitDef>> = UNIT_DEFS;
export const UNIT_IDS = Object.keys(UNIT_DEFS) as readonly UnitId[];

/** All units of the family of `unit`, itself first: what a person may choose for a column. */
export function unitsLike(unit: UnitId): readonly UnitId[] {
  return [unit, ...UNIT_IDS.filter((u) => u !== unit && UNITS[u].family === UNITS[unit].family)];
}

/** The unit that `text` names among those of the family of `like`; undefined when it names none of them. */
export function unitNamed(text: string, like: UnitId): UnitId | undefined {
  const name = plainUnit(text);
  return unitsLike(like).find((u) => UNITS[u].names.includes(name));
}

/** Does `text` name a unit of any family? */
export function isUnitName(text: string): boolean {
  const name = plainUnit(text);
  return UNIT_IDS.some((u) => UNITS[u].names.includes(name));
}

/** Longest first, so that "km/h" is tried before "h". */
export function unitNamesLike(like: UnitId): readonly string[] {
  return unitsLike(like)
    .flatMap((u) => UNITS[u].names)
    .sort((a, b) => b.length - a.length);
}

/**
 * `value` in another unit of the same family, rounded to 12 significant digits so that 100 ft is 30.48 m and
 * not 30.480000000000004 m: a second import of the same file must give the same number.
 * @throws RangeError when the families differ
 */
export function convertUnit(value: number, from: UnitId, to: UnitId): number {
  if (from === to) return value;
  const a = UNITS[from];
  const b = UNITS[to];
  if (a.family !== b.family) throw new RangeError(`cannot convert ${from} to ${to}`);
  const base = value * a.factor + (a.offset ?? 0);
  return Number(((base - (b.offset ?? 0)) / b.factor).toPrecision(12));
}

/** "ft to m: x 0.3048". */
export function conversionText(from: UnitId, to: UnitId): string {
  const zero = convertUnit(0, from, to);
  const factor = Number((convertUnit(1, from, to) - zero).toPrecision(6));
  const shift = zero === 0 ? "" : ` ${zero < 0 ? "-" : "+"} ${Math.abs(Number(zero.toPrecision(6)))}`;
  return `${from} to ${to}: x ${factor}${shift}`;
}

function plainUnit(text: string): string {
  return text
    .trim()
    .toLowerCase()
    .replace(/\u00b0\s*/g, "deg")
    .replace(/\u00b2/g, "2")
    .replace(/\u00b3/g, "3")
    .replace(/\u03a9|\u2126/g, "ohm")
    .replace(/\s+/g, " ");
}

/** Rules as data: a driver counted at the end, times a factor, with an allowance, rounded at a level. */
import type { AntennaPosition, CatalogueItem, LinkEnd, Owner, Scheme, Site } from "@/lib/site";
import {
  ambiguousItem,
  type CatalogueIndex,
  type Fit,
  findItem,
  missingCode,
  noCatalogueItem,
  wanted,
} from "./catalogue";
import { antennasFrom } from "./counts";
import { figure, roundUp, tidy } from "./rounding";
import type { DesignCheck, Driver, FullPolicy, TakeoffLine, TakeoffRule } from "./types";
import { fail } from "./verdict";

export interface DriverMeaning {
  meaning: string;
  /** What one of it is called in a line's reason. */
  word: string;
  /** Known run by run, so that a rule may round at level "run". */
  perRun: boolean;
  /** Counted antenna by antenna, so that a rule's mounts and polarisations narrow the count. */
  perAntenna?: true;
}

const perEnd = (word: string, meaning: string): DriverMeaning => ({ word, meaning, perRun: false });
const perRun = (word: string, meaning: string): DriverMeaning => ({ word, meaning, perRun: true });
const perAntenna = (word: string, meaning: string): DriverMeaning => ({
  word,
  meaning,
  perRun: false,
  perAntenna: true,
});

/** The closed list of drivers with what each counts (docs/methods/takeoff.md prints the same list). */
export const DRIVERS: Readonly<Record<Driver, DriverMeaning>> = {
  hops: perEnd("hop", "1 on the near end, 0 on the far end"),
  ends: perEnd("end", "1"),
  antennas: perAntenna("antenna", "antenna positions of the end"),
  "antennas from 1.2 m": perAntenna("antenna from 1.2 m", "antennas of 1.2 m and larger"),
  "antennas from 2.4 m": perAntenna("antenna from 2.4 m", "antennas of 2.4 m and larger"),
  ODUs: perRun("ODU", "radio units of the end"),
  "remote ODUs": perRun("remote ODU", "radio units on a pole beside the antenna"),
  couplers: perEnd("coupler", "hybrid couplers, by scheme"),
  "orthomode couplings": perEnd("orthomode coupling", "orthomode couplings, by scheme"),
  "waveguide flanges": perEnd("flange", "waveguide joints made at the end"),
  "polarisation parts to buy": perEnd("part", "polarisation changes whose part is not in the coupler's box"),
  runs: perRun("run", "IF cable runs, one per ODU"),
  "metres of cut cable": perRun("m cut", "sum of the cut lengths"),
  "metres of outdoor route": perRun("m outdoors", "vertical, bridge and tray segments of the runs"),
  "metres of indoor route": perRun("m indoors", "indoor segments of the runs"),
  connectors: perRun("connector", "2 per run"),
  "earthing points": perRun("earthing point", "earthing points along the runs"),
  "ODU earthing leads": perRun("ODU lead", "1 per ODU"),
  "metres of ODU earthing lead": perRun("m lead", "sum of the distances from ODU to earthing bar"),
  wraps: perRun("wrap", "1 per ODU connector, 1 per earthing point, 1 per entry by policy"),
  entries: perRun("entry", "1 per run"),
  "drip loops": perRun("drip loop", "1 per run"),
  "ties outdoors": perRun("tie", "by the metre of outdoor route, at drip loops, earthing points and wraps"),
  "ties indoors": perRun("tie", "by the metre of indoor route"),
  "cable hangers": perRun("hanger", "by the hanger spacing, where the policy holds the route by hangers"),
  "metres of self-amalgamating tape": perRun("m tape", "from the roll, over all wraps, end loss included"),
  "metres of PVC tape": perRun("m tape", "from the roll, over all wraps, end loss included"),
  IDUs: perEnd("IDU", "1"),
  "IDU power feeds": perEnd("power feed", "1 where the end's order includes the IDU's DC feed"),
};

/** What the rules of one end count and fit. `perRun` values are in the order of the runs. */
export interface RuleSubject {
  scheme: Scheme;
  end: LinkEnd;
  site?: Site;
  /** Totals of drivers; those known run by run stand in `perRun`. */
  perEnd: Partial<Record<Driver, number>>;
  perRun: Partial<Record<Driver, readonly number[]>>;
  /** Extra words for a driver's reason, e.g. where the ties go. */
  notes: Partial<Record<Driver, string>>;
  fit: Fit;
  index: CatalogueIndex;
  policy: FullPolicy;
}

export interface RuleOutcome {
  lines: readonly TakeoffLine[];
  checks: readonly DesignCheck[];
}

/** Applies every enabled rule that holds at the end. A rule whose driver is zero gives no line. */
export function applyRules(rules: readonly TakeoffRule[], subject: RuleSubject): RuleOutcome {
  const lines: TakeoffLine[] = [];
  const checks: DesignCheck[] = [];
  for (const rule of rules) {
    if (!rule.enabled || !holds(rule, subject)) continue;
    const values = driverValues(rule, subject);
    const total = sum(values);
    if (total <= 0) continue;
    const { item, check } = itemOf(rule, subject);
    if (check) checks.push(check);
    const line = lineOf(rule, values, total, item, subject);
    if ("state" in line) checks.push(line);
    else lines.push(line);
  }
  return { lines, checks };
}

/** Do all the conditions hold that the rule sets? Mounts and polarisations: on at least one antenna. */
export function holds(rule: TakeoffRule, subject: Pick<RuleSubject, "scheme" | "site" | "end">): boolean {
  const { schemes, structures } = rule.when;
  if (schemes && !schemes.includes(subject.scheme)) return false;
  if (structures && !(subject.site && structures.includes(subject.site.structure))) return false;
  if (!rule.when.mounts && !rule.when.polarisations) return true;
  return subject.end.antennas.some((a) => antennaHolds(rule, a));
}

function antennaHolds(rule: TakeoffRule, antenna: AntennaPosition): boolean {
  const { mounts, polarisations } = rule.when;
  if (mounts && !mounts.includes(antenna.mount)) return false;
  return !polarisations || antenna.polarisations.some((p) => polarisations.includes(p));
}

/** The driver's values, one per run where it is known run by run, else one for the end. */
function driverValues(rule: TakeoffRule, subject: RuleSubject): readonly number[] {
  if (DRIVERS[rule.driver].perAntenna) {
    const diameters = subject.end.antennas.filter((a) => antennaHolds(rule, a)).map((a) => a.diameterM);
    const fromM =
      rule.driver === "antennas from 2.4 m" ? 2.4 : rule.driver === "antennas from 1.2 m" ? 1.2 : 0;
    return [antennasFrom(diameters, fromM)];
  }
  return subject.perRun[rule.driver] ?? [subject.perEnd[rule.driver] ?? 0];
}

function itemOf(
  rule: TakeoffRule,
  subject: Pick<RuleSubject, "end" | "fit" | "index">,
): { item?: CatalogueItem; check?: DesignCheck } {
  const where = subject.end.side;
  if (rule.itemCode !== undefined) {
    const item = subject.index.byCode.get(rule.itemCode);
    return item
      ? { item }
      : { check: noCatalogueItem(where, `item ${rule.itemCode} (${rule.name})`, rule.category) };
  }
  const { item, fitting } = findItem(subject.index, rule.category, subject.fit);
  if (!item) return { check: noCatalogueItem(where, wanted(rule.category, subject.fit), rule.category) };
  if (fitting.length > 1)
    return { item, check: ambiguousItem(where, wanted(rule.category, subject.fit), fitting) };
  return { item };
}

/** The item that rules on `driver` use at this end: of several rules the first by id, whatever their order. */
export function itemOfDriver(
  rules: readonly TakeoffRule[],
  driver: Driver,
  subject: Pick<RuleSubject, "scheme" | "end" | "site" | "fit" | "index">,
): CatalogueItem | undefined {
  const first = rules
    .filter((r) => r.enabled && r.driver === driver && holds(r, subject))
    .reduce<TakeoffRule | undefined>((a, b) => (a && a.id <= b.id ? a : b), undefined);
  return first && itemOf(first, subject).item;
}

function lineOf(
  rule: TakeoffRule,
  values: readonly number[],
  total: number,
  item: CatalogueItem | undefined,
  subject: RuleSubject,
): TakeoffLine | DesignCheck {
  const perItem = rule.measure && item ? contentOf(item, rule.measure) : 1;
  if (perItem === undefined) return lacksContent(rule, item!, subject.end.side);
  const allowance = rule.allowanceFrom ? subject.policy[rule.allowanceFrom] : rule.allowance;
  const scale = (1 + allowance) / perItem;
  const exact = tidy((total * rule.factor + rule.offset) * scale);
  // At level "run" the offset, which belongs to the end, is rounded with the first run.
  const quantity =
    rule.level === "order"
      ? exact
      : rule.level === "run"
        ? tidy(
            sum(
              values.map((v, i) =>
                roundUp((v * rule.factor + (i === 0 ? rule.offset : 0)) * scale, rule.step),
              ),
            ),
          )
        : roundUp(exact, rule.step);
  return {
    ruleId: rule.id,
    itemCode: item?.code ?? missingCode(rule.category),
    name: item?.name ?? rule.category,
    unit: item?.unit ?? rule.measure ?? "piece",
    owner: item?.owner ?? DEFAULT_OWNER,
    exact,
    quantity,
    level: rule.level,
    step: rule.step,
    reason: reasonOf(rule, total, allowance, perItem, item, exact, quantity, subject.notes[rule.driver]),
  };
}

/** Who owns what the catalogue does not know: installation material is the contractor's. */
const DEFAULT_OWNER: Owner = "contractor";

/** How much one piece of the item holds, in the rule's measure; undefined when the catalogue does not say. */
function contentOf(item: CatalogueItem, measure: "m" | "g"): number | undefined {
  if (measure === "m") return item.unit === "m" ? 1 : positive(item.attributes.rollLengthM);
  return positive(item.attributes.contentG);
}

const positive = (value: number | undefined): number | undefined =>
  value !== undefined && value > 0 ? value : undefined;

function lacksContent(rule: TakeoffRule, item: CatalogueItem, where: string): DesignCheck {
  const attribute = rule.measure === "m" ? "rollLengthM" : "contentG";
  return fail("item-lacks-attribute", where, {
    message: `${rule.name} cannot be counted: ${item.code} has no ${attribute}.`,
    remedy: `Enter ${attribute} of ${item.code} in the catalogue.`,
  });
}

/** "84 = 80 connectors + 5 %": the numbers from the driver to the quantity. */
function reasonOf(
  rule: TakeoffRule,
  total: number,
  allowance: number,
  perItem: number,
  item: CatalogueItem | undefined,
  exact: number,
  quantity: number,
  note: string | undefined,
): string {
  const { word } = DRIVERS[rule.driver];
  const one = Math.abs(total - 1) < 1e-9;
  const plural =
    one || word.startsWith("m ")
      ? word
      : word === "entry"
        ? "entries"
        : word === "flange"
          ? "flanges"
          : pluralOf(word);
  let sumText = `${figure(total)} ${plural}`;
  if (note) sumText += ` (${note})`;
  if (rule.factor !== 1) sumText += ` x ${figure(rule.factor, 4)}${rule.measure ? ` ${rule.measure}` : ""}`;
  if (rule.offset !== 0) sumText += ` + ${figure(rule.offset)}`;
  if (allowance !== 0) sumText += ` + ${figure(allowance * 100, 1)} %`;
  if (perItem !== 1) sumText += ` / ${figure(perItem)} ${rule.measure} a ${item?.unit ?? "piece"}`;
  if (rule.level === "order")
    return `${figure(exact)} = ${sumText}; rounded up to ${figure(rule.step)} over the order`;
  const rounded = Math.abs(quantity - exact) > 1e-9;
  return rounded
    ? `${figure(quantity)} = ${figure(exact)} rounded up to ${figure(rule.step)} per ${rule.level}; ${figure(exact)} = ${sumText}`
    : `${figure(quantity)} = ${sumText}`;
}

const pluralOf = (word: string): string => {
  const space = word.indexOf(" from ");
  return space < 0 ? `${word}s` : `${word.slice(0, space)}s${word.slice(space)}`;
};

export const sum = (values: readonly number[]): number => {
  let total = 0;
  for (const value of values) total += value;
  return total;
};

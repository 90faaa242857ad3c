/** Rules as data: a driver counted at the end, times a factor, with an allowance, rounded at a level. */
import type { AntennaPosition, CatalogueItem, ItemCategory, LinkEnd, Owner, Scheme, Site } from "@/lib/site";
import { CONTENT_NAMES } from "./attributeNames";
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
import { DRIVERS } from "./drivers";
import { counted, figure, roundUp, tidy } from "./rounding";
import type { DesignCheck, Driver, FullPolicy, TakeoffLine, TakeoffRule } from "./types";
import { fail } from "./verdict";

/** What the rules of one end count and fit. `perRun` values are in the order of the runs. */
export interface RuleSubject {
  scheme: Scheme;
  end: LinkEnd;
  site?: Site;
  /** Totals of drivers; those known run by run stand in `perRun`. */
  perEnd: Partial<Record<Driver, number>>;
  perRun: Partial<Record<Driver, readonly number[]>>;
  /** Words for the reason of a category's line, e.g. where the ties go. */
  notes: Partial<Record<ItemCategory, string>>;
  fit: Fit;
  index: CatalogueIndex;
  policy: FullPolicy;
}

export interface RuleOutcome {
  lines: readonly TakeoffLine[];
  checks: readonly DesignCheck[];
}

/**
 * Applies every enabled rule that holds at the end. A rule whose driver is zero gives no line; one whose quantity
 * or item cannot be found gives a failed check and a line with the code `MISSING:<category>`.
 */
export function applyRules(rules: readonly TakeoffRule[], subject: RuleSubject): RuleOutcome {
  const lines: TakeoffLine[] = [];
  const checks: DesignCheck[] = [];
  for (const rule of rules) {
    if (!rule.enabled || !holds(rule, subject)) continue;
    const { item, check } = itemOf(rule, subject);
    const values = driverValues(rule, subject);
    const total = sum(values);
    const isUncountedTape = total <= 0 && TAPE_DRIVERS.includes(rule.driver);
    const wraps = isUncountedTape ? sum(subject.perRun.wraps ?? []) : 0;
    if (total <= 0 && wraps <= 0) continue;
    if (check && !checks.some((c) => c.message === check.message)) checks.push(check);
    if (wraps > 0) {
      lines.push(uncountedTape(rule, wraps));
      continue;
    }
    const perItem = rule.measure && item ? contentOf(item, rule.measure) : 1;
    if (item && perItem === undefined) checks.push(lacksContent(rule, item, subject.end.side));
    lines.push(lineOf(rule, values, total, perItem === undefined ? undefined : item, perItem ?? 1, subject));
  }
  return { lines, checks };
}

/** Drivers that need the tape's own data: empty where tape.ts could not work them out (a check says why). */
const TAPE_DRIVERS: readonly Driver[] = ["metres of self-amalgamating tape", "metres of PVC tape"];

/** Tape that cannot be measured is still asked for, wrap by wrap. */
const uncountedTape = (rule: TakeoffRule, wraps: number): TakeoffLine => ({
  ruleId: rule.id,
  itemCode: missingCode(rule.category),
  name: rule.category,
  unit: "wrap",
  owner: DEFAULT_OWNER,
  exact: wraps,
  quantity: wraps,
  level: rule.level,
  step: rule.step,
  reason: `${figure(wraps)} wraps; their tape in metres is unknown, see the failed check`,
});

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
  const { antennasFromM } = DRIVERS[rule.driver];
  if (antennasFromM !== undefined) {
    const diameters = subject.end.antennas.filter((a) => antennaHolds(rule, a)).map((a) => a.diameterM);
    return [antennasFrom(diameters, antennasFromM)];
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
  perItem: number,
  subject: RuleSubject,
): TakeoffLine {
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
    reason: reasonOf(rule, total, allowance, perItem, item, exact, quantity, subject.notes[rule.category]),
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
  const attribute = CONTENT_NAMES[rule.measure ?? "m"];
  return fail("item-lacks-attribute", where, {
    message: `${rule.name} cannot be counted: ${item.code} has no ${attribute}.`,
    remedy: `Enter the ${attribute} of ${item.code} in the catalogue.`,
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
  const { one, many } = DRIVERS[rule.driver];
  let sumText = counted(total, one, many);
  if (note) sumText += ` (${note})`;
  if (rule.factor !== 1) sumText += ` x ${figure(rule.factor, 4)}${rule.measure ? ` ${rule.measure}` : ""}`;
  if (rule.offset !== 0) sumText = `(${sumText} + ${figure(rule.offset)})`;
  if (allowance !== 0) sumText += ` + ${figure(allowance * 100, 1)} %`;
  if (perItem !== 1) sumText += ` / ${figure(perItem)} ${rule.measure} a ${item?.unit ?? "piece"}`;
  if (rule.level === "order")
    return `${figure(exact)} = ${sumText}; rounded up to ${figure(rule.step)} over the order`;
  const rounded = Math.abs(quantity - exact) > 1e-9;
  return rounded
    ? `${figure(quantity)} = ${figure(exact)} rounded up to ${figure(rule.step)} per ${rule.level}; ${figure(exact)} = ${sumText}`
    : `${figure(quantity)} = ${sumText}`;
}

export const sum = (values: readonly number[]): number => {
  let total = 0;
  for (const value of values) total += value;
  return total;
};

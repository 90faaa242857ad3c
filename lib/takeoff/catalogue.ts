/** Finding the catalogue item that fits: radios on all four parts of their identity, the rest by what they must fit. */
import {
  type CatalogueItem,
  type ItemAttributes,
  type ItemCategory,
  MATCHED_ON,
  type MatchedAttribute,
} from "@/lib/site";
import { MATCHED_NAMES } from "./attributeNames";
import type { DesignCheck } from "./types";
import { fail, warn } from "./verdict";

/** What an item has to fit. Only the attributes that the category is matched on are looked at. */
export type Fit = Pick<ItemAttributes, MatchedAttribute>;

export interface Found {
  item?: CatalogueItem;
  /** Codes of the items that fit equally well; more than one = the first by code was taken. */
  fitting: readonly string[];
}

export interface CatalogueIndex {
  byCode: ReadonlyMap<string, CatalogueItem>;
  /** Sorted by code, so that the order of import decides nothing. */
  byCategory: ReadonlyMap<ItemCategory, readonly CatalogueItem[]>;
  /** Answers already found, by category and fit. */
  found: Map<string, Found>;
}

const indexes = new WeakMap<readonly CatalogueItem[], CatalogueIndex>();

/** The catalogue by code and category, built once per catalogue array. The array must not be changed afterwards. */
export function indexCatalogue(catalogue: readonly CatalogueItem[]): CatalogueIndex {
  const known = indexes.get(catalogue);
  if (known) return known;
  const byCode = new Map<string, CatalogueItem>();
  const byCategory = new Map<ItemCategory, CatalogueItem[]>();
  for (const item of [...catalogue].sort((a, b) => (a.code < b.code ? -1 : a.code > b.code ? 1 : 0))) {
    if (byCode.has(item.code)) continue; // a code twice is refused where catalogues are read
    byCode.set(item.code, item);
    const list = byCategory.get(item.category);
    if (list) list.push(item);
    else byCategory.set(item.category, [item]);
  }
  const index: CatalogueIndex = { byCode, byCategory, found: new Map() };
  indexes.set(catalogue, index);
  return index;
}

/** The item of `category` that fits. Earthing leads: the thinnest that is not below the wanted section. */
export function findItem(index: CatalogueIndex, category: ItemCategory, fit: Fit): Found {
  const on = category === "earthing lead" ? EARTHING_LEAD_ON : (MATCHED_ON[category] ?? NOTHING);
  let key: string = category;
  for (const attribute of on) key += `|${fit[attribute]}`;
  const known = index.found.get(key);
  if (known) return known;
  const all = index.byCategory.get(category) ?? [];
  const fitting =
    category === "earthing lead" ? thinnestAllowed(all, fit) : all.filter((i) => fits(i, on, fit));
  const found = { item: fitting[0], fitting: fitting.map((i) => i.code) };
  index.found.set(key, found);
  return found;
}

function attributeWords(attribute: MatchedAttribute, value: number | string | undefined): string {
  const [name, unit] = MATCHED_NAMES[attribute];
  if (value === undefined) return `${name} unknown`;
  return unit === undefined ? `${name} ${value}` : `${name} ${value} ${unit}`;
}

/** What was looked for, in words: `connector with cable diameter 10.3 mm`. */
export function wanted(category: ItemCategory, fit: Fit): string {
  const on = category === "earthing lead" ? EARTHING_LEAD_ON : (MATCHED_ON[category] ?? NOTHING);
  if (on.length === 0) return category;
  return `${category} with ${on.map((a) => attributeWords(a, fit[a])).join(", ")}`;
}

/** Nothing in the catalogue fits. The line stays in the take-off, as `MISSING:<category>`. */
export const noCatalogueItem = (where: string, what: string, category: ItemCategory): DesignCheck =>
  fail("no-catalogue-item", where, {
    message: `The catalogue has no ${what}; the line is kept as ${missingCode(category)}.`,
    remedy: "Add the item to the catalogue, or correct the attribute or code it is looked up by.",
  });

/** Several items fit equally well: the first by code is taken, and a person should say which. */
export const ambiguousItem = (where: string, what: string, fitting: readonly string[]): DesignCheck =>
  warn("ambiguous-item", where, {
    message: `${fitting.length} items fit as ${what}: ${fitting.join(", ")}; ${fitting[0]} is taken.`,
    remedy: "Name the item's code in the rule, or make the items differ in what they are matched on.",
  });

/** Code of a line whose item the catalogue lacks. */
export const missingCode = (category: ItemCategory): string => `MISSING:${category}`;

const NOTHING: readonly (keyof Fit)[] = [];
const EARTHING_LEAD_ON: readonly (keyof Fit)[] = ["crossSectionMm2"];

function fits(item: CatalogueItem, on: readonly (keyof Fit)[], fit: Fit): boolean {
  return on.every((a) => fit[a] !== undefined && item.attributes[a] === fit[a]);
}

function thinnestAllowed(leads: readonly CatalogueItem[], fit: Fit): CatalogueItem[] {
  const least = fit.crossSectionMm2 ?? Number.POSITIVE_INFINITY;
  const allowed = leads.filter((i) => (i.attributes.crossSectionMm2 ?? 0) >= least);
  const thinnest = Math.min(...allowed.map((i) => i.attributes.crossSectionMm2!));
  return allowed.filter((i) => i.attributes.crossSectionMm2 === thinnest);
}

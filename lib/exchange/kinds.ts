/** The kinds of things that files bring in, in an order in which each refers only to earlier ones. */
import type { z } from "zod";
import { actualHours } from "./kinds/actualHours";
import { crewMembers, crews } from "./kinds/crews";
import { antennas, radios } from "./kinds/design";
import { gates } from "./kinds/gates";
import { ends, hops } from "./kinds/hops";
import { items } from "./kinds/items";
import { sites } from "./kinds/sites";
import { orders, places, stock } from "./kinds/stock";
import { weather, weatherPlaces } from "./kinds/weather";
import type { KindName } from "./rows";
import { schemaOf } from "./schema";
import type { Column, ImportKind } from "./types";

const KINDS: { readonly [K in KindName]: ImportKind<K> } = {
  sites,
  places,
  items,
  hops,
  ends,
  antennas,
  radios,
  gates,
  stock,
  orders,
  crews,
  "crew members": crewMembers,
  "weather places": weatherPlaces,
  weather,
  "actual hours": actualHours,
};

/** Every kind after those it refers to. */
export const KIND_NAMES = Object.keys(KINDS) as readonly KindName[];

const schemas = new Map<KindName, z.ZodObject>();

export function kindOf<K extends KindName>(name: K): ImportKind<K> {
  return KINDS[name];
}

/** zod schema of the kind's stored rows. */
export function rowSchema(name: KindName): z.ZodObject {
  let schema = schemas.get(name);
  if (!schema) {
    schema = schemaOf(KINDS[name].columns);
    schemas.set(name, schema);
  }
  return schema;
}

/** @throws RangeError when the kind has no such column: a matching names columns of its own kind only */
export function columnOf(name: KindName, key: string): Column {
  const column = KINDS[name].columns.find((c) => c.key === key);
  if (!column) throw new RangeError(`${name} has no column ${key}`);
  return column;
}

/** Labels of the key columns, e.g. `Hop + End + Gate`. */
export function keyLabel(name: KindName): string {
  return KINDS[name].key.map((k) => columnOf(name, k).label).join(" + ");
}

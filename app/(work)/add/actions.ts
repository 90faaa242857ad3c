"use server";

import { z } from "zod";
import { defineAction } from "@/app/_server/action";
import { type ByHand, type Prepared, prepareByHand, storeByHand } from "@/app/_server/designByHand";
import { IMPORTERS } from "../import/kinds";

/** Longer than any column takes; what is too long for its own is said by the column. */
const cells = z.record(z.string().max(40), z.string().max(2000));
const opened = z.object({ code: z.string().min(1).max(60), mark: z.string().max(60) }).nullable();
const decimal = z.enum(["point", "comma"]);

const site = z.object({ opened, decimal, cells }).transform(
  ({ opened, decimal, cells }): ByHand => ({
    kind: "site",
    opened,
    decimal,
    rows: [{ kind: "sites", at: "site", cells: opened ? { ...cells, code: opened.code } : cells }],
  }),
);

/** More than any end has; a file has no such limit. */
const MOST_ROWS = 40;

const at = z.string().max(40);

const hop = z
  .object({
    opened,
    decimal,
    cells,
    parts: z
      .array(z.object({ kind: z.enum(["ends", "antennas", "radios", "gates"]), at, cells }))
      .max(MOST_ROWS),
    /** Parts that stand and are taken out. */
    out: z
      .array(z.object({ kind: z.enum(["antennas", "radios", "gates"]), at, cells }))
      .max(MOST_ROWS)
      .default([]),
  })
  .transform(({ opened, decimal, cells, parts, out }): ByHand => {
    const code = opened?.code ?? cells.code ?? "";
    const ofHop = <P extends { cells: Record<string, string> }>(part: P) => ({
      ...part,
      cells: { ...part.cells, hopCode: code },
    });
    return {
      kind: "hop",
      opened,
      decimal,
      rows: [{ kind: "hops", at: "hop", cells: { ...cells, code } }, ...parts.map(ofHop)],
      out: opened ? out.map(ofHop) : [],
    };
  });

/** A site entered or changed by hand. */
export const saveSite = defineAction({
  name: "save-site",
  roles: IMPORTERS,
  input: site,
  prepare: (typed, { db }) => prepareByHand(db, typed),
  run: (typed, context, prepared: Prepared) => storeByHand(typed, prepared, context),
  revalidate: (_typed, { code }) => ["/sites", `/sites/${encodeURIComponent(code)}`],
});

/** A hop with its ends, antennas, radios and gates, entered or changed by hand. */
export const saveHop = defineAction({
  name: "save-hop",
  roles: IMPORTERS,
  input: hop,
  prepare: (typed, { db }) => prepareByHand(db, typed),
  run: (typed, context, prepared: Prepared) => storeByHand(typed, prepared, context),
  revalidate: (_typed, { code }) => ["/sites", `/hops/${encodeURIComponent(code)}`],
});

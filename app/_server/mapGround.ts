/** What lies under the map: a company's own outlines and, if it has one, its server of map pictures. */

import { z } from "zod";
import { addLogEntry, type LogAction } from "@/db/queries/log";
import { readSetting, removeSetting, writeSetting } from "@/db/queries/settings";
import type { Role } from "@/db/schema/auth";
import { type Outline, parseOutlines, parseTileTemplate } from "@/lib/map";
import { ok } from "@/lib/result";
import type { ActionContext, ActionDefinition } from "./carryOut";

export const GROUND_ROLES: readonly Role[] = ["administrator"];
const label = z
  .string()
  .trim()
  .min(3, "Say in a few words whose outlines these are.")
  .max(120, "Use 120 characters at most.");

const log = ({ db, visitor, now }: ActionContext, action: LogAction, detail: unknown) =>
  addLogEntry(db, { at: now, userName: visitor.name, action, subject: "map", detail });

/** The next version, so that browsers ask anew. */
const nextVersion = ({ db }: ActionContext) => (readSetting(db, "mapOutlines")?.version ?? 0) + 1;

const outlinesInput = z.object({ label, text: z.string() });

/** Takes the place of all outlines before. */
export const keepOutlines: ActionDefinition<typeof outlinesInput, { outlines: number }, Outline[]> = {
  name: "keep-map-outlines",
  roles: GROUND_ROLES,
  input: outlinesInput,
  prepare: async ({ text }) => parseOutlines(text),
  run: ({ label }, context, outlines) => {
    writeSetting(context.db, "mapOutlines", { label, version: nextVersion(context), outlines });
    log(context, "brought in map outlines", { label, outlines: outlines.length });
    return ok({ outlines: outlines.length });
  },
};

const nothing = z.object({});

export const dropOutlines: ActionDefinition<typeof nothing, null> = {
  name: "drop-map-outlines",
  roles: GROUND_ROLES,
  input: nothing,
  run: (_, context) => {
    const before = readSetting(context.db, "mapOutlines")?.label;
    writeSetting(context.db, "mapOutlines", { label: "none", version: nextVersion(context), outlines: [] });
    log(context, "removed map outlines", { label: before });
    return ok(null);
  },
};

const tilesInput = z.object({
  template: z
    .string()
    .max(500)
    .superRefine((text, context) => {
      const parsed = parseTileTemplate(text);
      if (!parsed.ok)
        for (const p of parsed.problems)
          context.addIssue({ code: "custom", message: `${p.message} ${p.remedy}` });
    }),
  attribution: z
    .string()
    .trim()
    .min(3, "Name the owner of the pictures as the terms of that server ask for.")
    .max(200, "Use 200 characters at most."),
});

/** From then on every browser that opens the map asks that server for pictures of the ground. */
export const keepTiles: ActionDefinition<typeof tilesInput, null> = {
  name: "keep-map-tiles",
  roles: GROUND_ROLES,
  input: tilesInput,
  run: ({ template, attribution }, context) => {
    writeSetting(context.db, "mapTiles", { template: template.trim(), attribution });
    log(context, "set the map's tile address", { template: template.trim(), attribution });
    return ok(null);
  },
};

export const dropTiles: ActionDefinition<typeof nothing, null> = {
  name: "drop-map-tiles",
  roles: GROUND_ROLES,
  input: nothing,
  run: (_, context) => {
    removeSetting(context.db, "mapTiles");
    log(context, "removed the map's tile address", {});
    return ok(null);
  },
};

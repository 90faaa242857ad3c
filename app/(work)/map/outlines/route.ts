/** The outlines under the map. Their address carries their version, so a browser asks once for each. */
import { z } from "zod";
import { defineRoute } from "@/app/_server/action";
import { readSetting } from "@/db/queries/settings";

const YEAR_S = 365 * 86_400;

export const GET = defineRoute({
  roles: [],
  reach: "any",
  input: z.object({ version: z.coerce.number().int().optional() }),
  run: ({ version }, { db }) => {
    const kept = readSetting(db, "mapOutlines");
    return Response.json(kept?.outlines ?? [], {
      headers: {
        "Cache-Control": version === kept?.version ? `private, max-age=${YEAR_S}, immutable` : "no-store",
      },
    });
  },
});

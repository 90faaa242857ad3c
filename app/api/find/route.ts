/** Find anything: what the search in the bar asks with every letter. */

import { z } from "zod";
import { defineRoute } from "@/app/_server/action";
import { findFor } from "@/app/_server/find";
import { serverWords } from "@/app/_server/language";

export const GET = defineRoute({
  roles: [],
  // What lies outside the visitor's regions is left out one by one.
  reach: "any",
  input: z.object({ q: z.string().max(100, "at most 100 letters").default("") }),
  run: async ({ q }, { db, visitor }) => ({ found: findFor(db, visitor, q, await serverWords()) }),
});

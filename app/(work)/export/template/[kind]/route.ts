/** An empty file of one kind to fill in, with an example row. */
import { z } from "zod";
import { defineRoute, problemResponse } from "@/app/_server/action";
import { fileAnswer } from "@/app/_server/fileAnswer";
import { templateCsv, templateXlsx } from "@/lib/exchange";
import { IMPORTERS, kindOfSlug } from "../../../import/kinds";

const input = z.object({
  format: z.enum(["csv", "xlsx"]).default("csv"),
  separator: z.enum([",", ";"]).default(","),
});

export const GET = defineRoute<typeof input, { kind: string }>({
  roles: IMPORTERS,
  input,
  run: async ({ format, separator }, { params }) => {
    const kind = kindOfSlug(params.kind);
    if (!kind)
      return problemResponse([
        {
          path: "kind",
          rule: "no-such-kind",
          value: params.kind,
          message: `There is no kind of rows called "${params.kind}".`,
          remedy: "Choose one on the page Bring in.",
        },
      ]);
    const bytes = format === "csv" ? templateCsv(kind, { separator }) : await templateXlsx(kind);
    return fileAnswer(`${params.kind}-template`, format, bytes);
  },
});

/** One workbook to fill in for a whole programme: a sheet per kind, and one that explains every column. */
import { defineRoute } from "@/app/_server/action";
import { fileAnswer } from "@/app/_server/fileAnswer";
import { KIND_NAMES, templateWorkbook } from "@/lib/exchange";
import { IMPORTERS } from "../../../import/kinds";

export const GET = defineRoute({
  roles: IMPORTERS,
  run: async () => {
    const kinds = KIND_NAMES.filter((kind) => kind !== "weather");
    return fileAnswer("programme-template", "xlsx", await templateWorkbook(kinds));
  },
});

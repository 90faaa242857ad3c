/** The rows of a preview, the ones that need a look first. */
import { defineRoute, problemResponse } from "@/app/_server/action";
import { fileLines, importById, type PreviewLine } from "@/db/queries/imports";
import type { Fate } from "@/lib/exchange";
import { IMPORTERS } from "../../kinds";

/** More rows than this help nobody in a browser; the counts cover all, the download all that were refused. */
const MOST_ROWS = 20_000;

export interface PreviewRowView extends PreviewLine {
  id: string;
  /** File, and sheet where there is one. */
  from: string;
  kind: string;
}

const FIRST: Readonly<Record<Fate, number>> = { refused: 0, changed: 1, new: 2, same: 3 };

export const GET = defineRoute<never, { id: string }>({
  roles: IMPORTERS,
  run: (_input, { db, params }) => {
    const tables = importById(db, params.id)?.summary.tables;
    if (!tables)
      return problemResponse([
        {
          path: "id",
          rule: "no-such-import",
          message: "There is no preview of this import.",
          remedy: "Bring the files in again.",
        },
      ]);
    const all = tables.flatMap((t) =>
      (fileLines(db, params.id, t.seq)?.[t.sheet ?? ""] ?? []).map(
        (line, i): PreviewRowView => ({
          ...line,
          id: `${t.seq} ${t.sheet ?? ""} ${i}`,
          from: t.sheet ? `${t.fileName}, ${t.sheet}` : t.fileName,
          kind: t.kind,
        }),
      ),
    );
    all.sort((a, b) => FIRST[a.fate] - FIRST[b.fate]);
    return { rows: all.slice(0, MOST_ROWS), total: all.length };
  },
});

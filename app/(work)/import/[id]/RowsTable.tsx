"use client";

import { Fragment, useEffect, useState } from "react";
import { type Column, DataTable } from "@/app/_ui/DataTable";
import { Dialog } from "@/app/_ui/Dialog";
import { formatNumber } from "@/app/_ui/format";
import { English } from "@/app/_ui/language/English";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { messageOf } from "@/app/_ui/language/problemWords";
import { T } from "@/app/_ui/language/T";
import { Notice } from "@/app/_ui/Notice";
import { StateMark } from "@/app/_ui/StateMark";
import type { ExchangeProblem } from "@/lib/exchange";
import { FATE_WORDS } from "../importWords";
import { FindingWords, RemedyWords } from "./FindingWords";
import type { PreviewRowView } from "./rows/route";

/** What changes, or what is wrong; in English, as lib says it: the search and the file of it read this. */
function whatOf(row: PreviewRowView): string {
  if (row.problems) return row.problems.map((p) => withColumn(p, p.message)).join(" ");
  return (row.changes ?? [])
    .map((c) => `${c.label}: ${c.from || "blank"} \u2192 ${c.to || "blank"}`)
    .join("; ");
}

/** Most messages begin with the column's name. */
const withColumn = ({ column, message }: ExchangeProblem, told: string): string =>
  column && !message.startsWith(column.replace(/ \(.*\)$/, "")) ? `${column}: ${told}` : told;

/** The same in the reader's language, as far as it is said there. */
function What({ row }: { row: PreviewRowView }) {
  const words = useWords();
  if (!row.problems) return <English>{whatOf(row)}</English>;
  return row.problems.map((p, i) => (
    // biome-ignore lint/suspicious/noArrayIndexKey: the list never changes
    <Fragment key={i}>
      {i > 0 ? " " : null}
      {p.said?.message ? withColumn(p, messageOf(p, words)) : <English>{withColumn(p, p.message)}</English>}
    </Fragment>
  ));
}

export const ROW_COLUMNS: readonly Column<PreviewRowView>[] = [
  { id: "key", header: "Key", value: (r) => r.key ?? `row ${r.row}`, isRowHeader: true, width: 170 },
  {
    id: "fate",
    isSaid: true,
    header: "Fate",
    value: (r) => FATE_WORDS[r.fate].word,
    cell: (r) => (
      <StateMark state={FATE_WORDS[r.fate].state}>
        <T>{FATE_WORDS[r.fate].word}</T>
      </StateMark>
    ),
    filter: "choice",
    width: 110,
    onCard: "beside title",
  },
  { id: "kind", isSaid: true, header: "Kind", value: (r) => r.kind, filter: "choice", width: 110 },
  { id: "from", header: "File", value: (r) => r.from, filter: "choice", width: 170 },
  { id: "row", header: "Row", value: (r) => r.row, kind: "number", width: 72 },
  {
    id: "what",
    header: "What changes, or what is wrong",
    value: whatOf,
    cell: (r) => <What row={r} />,
    width: 460,
  },
];

const ROW_WORD = { one: "row", many: "rows" };

/** Every row of the preview with its fate. The rows come from the server after the page: ten thousand are a megabyte. */
export function RowsTable({ importId, digest }: { importId: string; digest: string }) {
  const { t, locale } = useWords();
  const [loaded, setLoaded] = useState<{ rows: PreviewRowView[]; total: number }>();
  const [isLost, setIsLost] = useState(false);
  const [open, setOpen] = useState<PreviewRowView>();

  // biome-ignore lint/correctness/useExhaustiveDependencies: another digest is another preview
  useEffect(() => {
    let isCurrent = true;
    fetch(`/import/${importId}/rows`)
      .then((answer) => (answer.ok ? answer.json() : Promise.reject(new Error("refused"))))
      .then((rows) => isCurrent && setLoaded(rows))
      .catch(() => isCurrent && setIsLost(true));
    return () => {
      isCurrent = false;
    };
  }, [importId, digest]);

  if (isLost)
    return (
      <Notice kind="problem" announce title={t("The rows could not be loaded")}>
        {t("Reload the page to try again. Nothing was stored.")}
      </Notice>
    );
  if (!loaded) return <div className="ui-table-wait" style={{ minHeight: "20rem" }} />;
  return (
    <>
      {loaded.total > loaded.rows.length ? (
        <p className="px-4 py-2">
          {t("The first {{shown}} of {{total}} rows: refused ones first, then changed, new and same.", {
            shown: formatNumber(loaded.rows.length, 0, locale),
            total: formatNumber(loaded.total, 0, locale),
          })}
        </p>
      ) : null}
      <DataTable
        label={t("Rows of the preview")}
        rows={loaded.rows}
        columns={ROW_COLUMNS}
        rowId={(r) => r.id}
        rowWord={ROW_WORD}
        onOpen={setOpen}
        exportName="preview"
      />
      <Dialog
        open={open !== undefined}
        onClose={() => setOpen(undefined)}
        title={
          open
            ? t("{{file}}, row {{row}}: {{fate}}", {
                file: open.from,
                row: String(open.row),
                fate: t(open.fate),
              })
            : ""
        }
        wide
      >
        {open ? <RowDetail row={open} /> : null}
      </Dialog>
    </>
  );
}

function RowDetail({ row }: { row: PreviewRowView }) {
  const { t } = useWords();
  if (row.problems)
    return (
      <ul className="grid gap-3">
        {row.problems.map((p, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: the list never changes
          <li key={i}>
            <strong>{p.column ?? t("Row")}</strong>{" "}
            <code>{p.value === undefined ? t("(empty)") : String(p.value)}</code>
            <br />
            <FindingWords problem={p} />{" "}
            <em>
              <RemedyWords problem={p} />
            </em>
          </li>
        ))}
      </ul>
    );
  if (!row.changes)
    return (
      <p>
        {row.fate === "new" ? t("The row is new and will be added.") : t("The row stands already as it is.")}
      </p>
    );
  return (
    <table className="ui-facts">
      <thead>
        <tr>
          <th scope="col">{t("Field")}</th>
          <th scope="col">{t("Now")}</th>
          <th scope="col">{t("Will be")}</th>
        </tr>
      </thead>
      <tbody>
        {row.changes.map((c) => (
          <tr key={c.key}>
            <th scope="row">{c.label}</th>
            <td>{c.from || t("blank")}</td>
            <td>{c.to || t("blank")}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

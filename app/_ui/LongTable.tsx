"use client";

import { type ReactNode, useId, useState } from "react";
import { Button } from "./Button";
import { useWords } from "./language/LanguageProvider";
import { ScrollRegion } from "./ScrollRegion";

export interface LongTableRow {
  key: string;
  /** What a search looks through: codes, names, dates as they are shown. */
  text: string;
  /** The cells of the row. */
  cells: ReactNode;
}

export interface LongTableProps {
  label: string;
  /** The row of heads. */
  head: ReactNode;
  rows: readonly LongTableRow[];
}

/** Rows that a screen shows at once; on a phone, where each row is a block, fewer. */
const STEP = { screen: 50, phone: 15 };

const wordsOf = (text: string): string[] => text.toLowerCase().split(/\s+/).filter(Boolean);

/**
 * A table of facts that may be long: the first rows, a search through all of them, and more on request. A short list is
 * a table and nothing else.
 */
export function LongTable({ label, head, rows }: LongTableProps) {
  const { t } = useWords();
  const id = useId();
  const [search, setSearch] = useState("");
  const [steps, setSteps] = useState(1);
  const wanted = wordsOf(search);
  const found =
    wanted.length === 0
      ? rows
      : rows.filter((r) => {
          const text = r.text.toLowerCase();
          return wanted.every((word) => text.includes(word));
        });
  const onScreen = STEP.screen * steps;
  const onPhone = STEP.phone * steps;
  const shown = found.slice(0, onScreen);
  return (
    <>
      {rows.length > STEP.phone ? (
        <div
          className={`ui-no-print flex flex-wrap items-center gap-x-3 gap-y-1 px-4 py-2 ${rows.length > STEP.screen ? "" : "sm:hidden"}`}
        >
          <label htmlFor={id}>{t("Search this list")}</label>
          <input
            id={id}
            type="search"
            className="ui-input"
            style={{ maxWidth: "16rem" }}
            value={search}
            onChange={(e) => {
              setSearch(e.target.value);
              setSteps(1);
            }}
          />
          <span role="status" className="text-quiet">
            {t("{{found}} of {{count}} rows", { found: found.length, count: rows.length })}
          </span>
        </div>
      ) : null}
      <ScrollRegion label={label}>
        <table className="ui-facts ui-facts-stack">
          <thead>{head}</thead>
          <tbody>
            {shown.map((r, i) => (
              <tr key={r.key} className={i < onPhone ? undefined : "max-sm:hidden"}>
                {r.cells}
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollRegion>
      {found.length > onPhone ? (
        <div className={`ui-no-print px-4 py-2 ${found.length > onScreen ? "" : "sm:hidden"}`}>
          <Button size="small" onClick={() => setSteps(steps + 1)}>
            {t("Show more of this list")} <span className="sr-only">{label}</span>
          </Button>
        </div>
      ) : null}
    </>
  );
}

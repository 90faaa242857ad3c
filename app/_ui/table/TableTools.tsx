"use client";

import { type ReactNode, useId, useState } from "react";
import { Button } from "../Button";
import { Check } from "../Field";
import { formatCount, formatNumber } from "../format";
import { Glyph } from "../Glyph";
import { useWords } from "../language/LanguageProvider";
import type { Words } from "../language/words";
import { Popover } from "../Popover";
import { Tag } from "../StateMark";
import { LiveRegion } from "../Toast";
import { type Column, canGroup, namedValue } from "./columns";
import type { Engine } from "./engine";
import { ChoiceFilter, RangeFilter } from "./TableFilters";
import { type ColumnFilter, nextSort, type TableView, withFilter } from "./view";

export interface TableToolsProps<Row extends object> {
  label: string;
  table: Engine<Row>;
  columns: readonly Column<Row>[];
  view: TableView;
  change: (step: (view: TableView) => TableView) => void;
  shownCount: number;
  allCount: number;
  rowWord: { one: string; many: string };
  locale: string;
  onExport?: () => void;
  extra?: ReactNode;
}

/** Search, filters, grouping, column choice, export, and what is in force right now. */
export function TableTools<Row extends object>(props: TableToolsProps<Row>) {
  const { label, table, columns, view, change, shownCount, allCount, rowWord, locale, onExport, extra } =
    props;
  const [open, setOpen] = useState(false);
  const { t } = useWords();
  const searchId = useId();
  const toolsId = useId();
  const filterable = columns.filter((column) => column.filter !== undefined);
  const groupable = columns.filter(canGroup);
  const filterCount = Object.keys(view.filters).length;
  const rowWords = t(rowWord.many);
  const all = formatCount(allCount, t(rowWord.one), rowWords, locale);
  const counted =
    shownCount === allCount
      ? all
      : t("{{shown}} of {{all}}", { shown: formatNumber(shownCount, 0, locale), all });

  return (
    // biome-ignore lint/a11y/useSemanticElements: <search> is not yet known to every reader; the role is
    <div className="ui-table-head ui-no-print" role="search" aria-label={label}>
      <div className="ui-toolbar">
        <div className="ui-table-search">
          <label className="sr-only" htmlFor={searchId}>
            {t("Search {{rows}}", { rows: rowWords })}
          </label>
          <Glyph name="search" />
          <input
            id={searchId}
            type="search"
            className="ui-input"
            placeholder={t("Search {{rows}}", { rows: rowWords })}
            value={view.query}
            onChange={(event) => change((v) => ({ ...v, query: event.target.value }))}
          />
        </div>
        <Button
          className="ui-table-tools-switch"
          glyph="filter"
          aria-expanded={open}
          aria-controls={toolsId}
          onClick={() => setOpen(!open)}
        >
          {t("Filter and sort")}
          {filterCount > 0 ? ` (${filterCount})` : ""}
        </Button>
        <div className="ui-table-tools" id={toolsId} data-open={open}>
          {filterable.map((column) =>
            column.filter === "choice" ? (
              <ChoiceFilter key={column.id} {...{ table, column, view, change, locale }} />
            ) : (
              <RangeFilter key={column.id} {...{ table, column, view, change, locale }} />
            ),
          )}
          {groupable.length > 0 ? (
            <Popover
              label={view.group ? t("By {{column}}", { column: t(nameOf(columns, view.group)) }) : t("Group")}
              glyph="group"
            >
              {(close) => (
                <fieldset className="ui-fieldset">
                  <legend>{t("Group by")}</legend>
                  {[undefined, ...groupable].map((column) => (
                    <Check
                      key={column?.id ?? ""}
                      kind="radio"
                      name={`${toolsId}-group`}
                      label={column ? t(column.header) : t("No grouping")}
                      checked={view.group === column?.id}
                      onChange={() => change((v) => ({ ...v, group: column?.id }))}
                      onClick={close}
                    />
                  ))}
                </fieldset>
              )}
            </Popover>
          ) : null}
          <div className="ui-table-sort">
            <Popover label={t("Sort")} glyph="sort">
              <fieldset className="ui-fieldset">
                <legend>{t("Sort by (press again to turn round)")}</legend>
                {columns
                  .filter((column) => column.sortable !== false)
                  .map((column) => {
                    const now = view.sort.find((s) => s.id === column.id);
                    return (
                      <Button
                        key={column.id}
                        kind="plain"
                        wide
                        className="justify-start"
                        glyph={now ? (now.desc ? "down" : "up") : undefined}
                        aria-pressed={now !== undefined}
                        onClick={() => change((v) => nextSort(v, column.id, false))}
                      >
                        {t(column.header)}
                        {now ? (
                          <span className="sr-only">, {now.desc ? t("descending") : t("ascending")}</span>
                        ) : null}
                      </Button>
                    );
                  })}
              </fieldset>
            </Popover>
          </div>
          <Popover label={t("Columns")} glyph="columns">
            <fieldset className="ui-fieldset">
              <legend>{t("Columns shown")}</legend>
              {columns.map((column) => (
                <Check
                  key={column.id}
                  label={t(column.header)}
                  checked={table.getColumn(column.id)?.getIsVisible() ?? false}
                  disabled={column.isRowHeader}
                  onChange={(event) => {
                    const shown = columns
                      .filter((c) =>
                        c.id === column.id ? event.target.checked : table.getColumn(c.id)?.getIsVisible(),
                      )
                      .map((c) => c.id);
                    if (shown.length > 0) change((v) => ({ ...v, columns: shown }));
                  }}
                />
              ))}
              {view.columns ? (
                <Button size="small" wide onClick={() => change((v) => ({ ...v, columns: undefined }))}>
                  {t("As given")}
                </Button>
              ) : null}
            </fieldset>
          </Popover>
          {onExport ? (
            <Button glyph="export" onClick={onExport}>
              {t("Export")}
            </Button>
          ) : null}
          {extra}
        </div>
      </div>
      <div className="ui-table-status">
        <span className="font-semibold">{counted}</span>
        <LiveRegion>{counted}</LiveRegion>
        {Object.entries(view.filters).map(([id, filter]) => (
          <Tag
            key={id}
            tone="active"
            onRemove={() => change((v) => withFilter(v, id, {}))}
            removeLabel={t("Remove filter {{column}}", { column: t(nameOf(columns, id)) })}
          >
            {t(nameOf(columns, id))}: {filterWords(columns, id, filter, t)}
          </Tag>
        ))}
        {filterCount > 0 || view.query ? (
          <Button kind="plain" size="small" onClick={() => change((v) => ({ ...v, query: "", filters: {} }))}>
            {t("Show all")}
          </Button>
        ) : null}
      </div>
    </div>
  );
}

/** What a filter lets pass: its ticked values, or its range. */
function filterWords<Row>(
  columns: readonly Column<Row>[],
  id: string,
  filter: ColumnFilter,
  t: Words["t"],
): string {
  const column = columns.find((c) => c.id === id);
  if (!filter.oneOf)
    return t("{{from}} to {{to}}", { from: filter.from ?? t("any"), to: filter.to ?? t("any") });
  const names = filter.oneOf.map((value) => (value && column ? namedValue(column, value, t) : value));
  return names.map((name) => name || t("no value")).join(", ");
}

function nameOf<Row>(columns: readonly Column<Row>[], id: string): string {
  return columns.find((column) => column.id === id)?.header ?? id;
}

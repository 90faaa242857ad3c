"use client";

import { useWindowVirtualizer } from "@tanstack/react-virtual";
import { useLayoutEffect, useRef, useState } from "react";
import { Button } from "../Button";
import { formatNumber } from "../format";
import { Glyph } from "../Glyph";
import { useWords } from "../language/LanguageProvider";
import { groupName, leavesOf, shownValue, sumOf } from "./cells";
import type { Column } from "./columns";
import type { EngineRow } from "./engine";
import type { RowsProps } from "./TableGrid";

export interface TableCardsProps<Row extends object> extends RowsProps<Row> {
  everyRow: boolean;
}

/** Cards that a phone shows before it is asked for all: what follows the table stays within reach of a thumb. */
const FIRST_CARDS = 12;

/**
 * The rows as cards, for a phone: the first ones, and all on request. All of them scroll with the page, and only those
 * near the view exist.
 */
export function TableCards<Row extends object>(props: TableCardsProps<Row>) {
  const { rows, view, change, everyRow, rowWord, locale } = props;
  const { t } = useWords();
  const isCut = !view.showsAll && !everyRow && rows.length > FIRST_CARDS;
  if (!isCut) return <CardList {...props} />;
  const isGrouped = rows.some((row) => row.getIsGrouped());
  return (
    <>
      <CardList {...props} rows={rows.slice(0, FIRST_CARDS)} everyRow />
      <div className="ui-cards-more ui-no-print">
        <Button onClick={() => change((now) => ({ ...now, showsAll: true }))}>
          {isGrouped
            ? t("Show more of this list")
            : t("Show all {{all}} {{rows}}", {
                all: formatNumber(rows.length, 0, locale),
                rows: t(rowWord.many),
              })}
        </Button>
      </div>
    </>
  );
}

function CardList<Row extends object>(props: TableCardsProps<Row>) {
  const { label, rows, columns, everyRow } = props;
  const list = useRef<HTMLUListElement>(null);
  const [top, setTop] = useState(0);
  useLayoutEffect(() => {
    const box = list.current?.getBoundingClientRect();
    if (box) setTop(box.top + window.scrollY);
  }, []);
  const bodyCount = columns.filter((column, at) => at > 0 && column.onCard !== "left out").length;
  const virtual = useWindowVirtualizer({
    count: rows.length,
    estimateSize: () => 76 + Math.ceil(bodyCount / 2) * 42,
    overscan: 6,
    scrollMargin: top,
    initialRect: { width: 390, height: 844 },
    useFlushSync: false,
  });
  const items = everyRow
    ? rows.map((_, index) => ({ index, start: top, end: top }))
    : virtual.getVirtualItems();
  const first = items[0];
  const offset = first ? first.start - top : 0;
  return (
    <ul
      ref={list}
      className="ui-cards"
      aria-label={label}
      style={everyRow ? undefined : { height: virtual.getTotalSize() }}
    >
      <li aria-hidden="true" style={{ height: offset }} />
      {items.map(({ index }) => {
        const row = rows[index];
        if (!row) return null;
        return (
          <li
            key={row.id}
            data-index={index}
            ref={everyRow ? undefined : virtual.measureElement}
            aria-setsize={rows.length}
            aria-posinset={index + 1}
          >
            {row.getIsGrouped() ? <GroupCard {...props} row={row} /> : <Card {...props} row={row} />}
          </li>
        );
      })}
    </ul>
  );
}

function Card<Row extends object>(props: RowsProps<Row> & { row: EngineRow<Row> }) {
  const { row, columns, onOpen, selection, locale } = props;
  const words = useWords();
  const { t } = words;
  const [title, ...others] = columns;
  const beside = others.filter((column) => column.onCard === "beside title");
  const body = others.filter((column) => (column.onCard ?? "body") === "body");
  return (
    <article className="ui-card">
      <div className="ui-card-head">
        {selection ? (
          <label className="ui-card-select">
            <input
              type="checkbox"
              checked={selection.selected.has(row.id)}
              onChange={() => selection.toggle(row.id, false)}
            />
            <span className="sr-only">{t("Select {{row}}", { row: row.id })}</span>
          </label>
        ) : null}
        <div className="ui-card-title">{title ? shownValue(title, row.original, words, locale) : row.id}</div>
        {beside.map((column) => (
          <div key={column.id}>{shownValue(column, row.original, words, locale)}</div>
        ))}
        {onOpen ? (
          <button type="button" className="ui-card-open" onClick={() => onOpen(row.original)}>
            <Glyph name="next" label={t("Open {{row}}", { row: row.id })} />
          </button>
        ) : null}
      </div>
      <dl className="ui-card-body">
        {body.map((column) => (
          <div key={column.id}>
            <dt>
              {t(column.header)}
              {column.unit ? <span className="ui-unit"> {t(column.unit)}</span> : null}
            </dt>
            <dd>{shownValue(column, row.original, words, locale)}</dd>
          </div>
        ))}
      </dl>
    </article>
  );
}

function GroupCard<Row extends object>(props: RowsProps<Row> & { row: EngineRow<Row> }) {
  const { row, columns, locale, rowWord } = props;
  const isOpen = row.getIsExpanded();
  const { t } = useWords();
  const count = leavesOf(row).length;
  const sums: readonly Column<Row>[] = columns.filter((column) => column.sums);
  return (
    <button
      type="button"
      className="ui-card-group"
      aria-expanded={isOpen}
      onClick={() => row.toggleExpanded()}
    >
      <Glyph name={isOpen ? "down" : "next"} />
      <span>{groupName(row, columns, t)}</span>
      <span className="ui-unit">
        {formatNumber(count, 0, locale)} {t(count === 1 ? rowWord.one : rowWord.many)}
        {sums.map((column) => (
          <span key={column.id}>
            {", "}
            {t(column.header)} {formatNumber(sumOf(column, row), column.digits ?? 0, locale)}{" "}
            {column.unit ? t(column.unit) : null}
          </span>
        ))}
      </span>
    </button>
  );
}

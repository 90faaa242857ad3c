"use client";

import { useVirtualizer } from "@tanstack/react-virtual";
import {
  type KeyboardEvent,
  type MouseEvent,
  memo,
  type ReactNode,
  useEffect,
  useRef,
  useState,
} from "react";
import { formatInColumn, formatNumber } from "../format";
import { Glyph } from "../Glyph";
import { useWords } from "../language/LanguageProvider";
import { useMedia } from "../useMedia";
import { groupName, shownValue, sumOf } from "./cells";
import { alignOf, type Column, widthOf } from "./columns";
import type { EngineRow } from "./engine";
import { nextSort, type TableView } from "./view";

export interface RowsProps<Row extends object> {
  label: string;
  rows: readonly EngineRow<Row>[];
  /** Those that are shown, row header first. */
  columns: readonly Column<Row>[];
  view: TableView;
  change: (step: (view: TableView) => TableView) => void;
  onOpen?: (row: Row) => void;
  selection?: {
    selected: ReadonlySet<string>;
    toggle: (id: string, withRange: boolean) => void;
    toggleAll: () => void;
    state: "none" | "some" | "all";
  };
  locale: string;
  rowWord: { one: string; many: string };
}

export interface TableGridProps<Row extends object> extends RowsProps<Row> {
  /** CSS length of the scrolling part. */
  height: string;
  /** Draw every row: on paper there is nothing to scroll. */
  everyRow: boolean;
}

const SELECT_WIDTH = 48;
const SPARE_ROWS = 10;

/** The table on a wide screen: a head that stays, rows that exist only while they are near the view. */
export function TableGrid<Row extends object>(props: TableGridProps<Row>) {
  const { label, rows, columns, view, change, onOpen, selection, locale, rowWord, height, everyRow } = props;
  const scroller = useRef<HTMLDivElement>(null);
  const [active, setActive] = useState(0);
  const { t } = useWords();
  // The row itself, not a flag: React may still run an effect of an earlier render after the key was heard.
  const wanted = useRef<number>(undefined);
  const rowPx = useMedia("(pointer: coarse), (max-width: 40rem)") ? 48 : 40;
  const headPx = rowPx;

  const virtual = useVirtualizer({
    count: rows.length,
    getScrollElement: () => scroller.current,
    estimateSize: () => rowPx,
    overscan: SPARE_ROWS,
    scrollMargin: headPx,
    scrollPaddingStart: headPx,
    initialRect: { width: 1000, height: 600 },
    useFlushSync: false,
  });
  // biome-ignore lint/correctness/useExhaustiveDependencies: a new row height makes the old positions wrong
  useEffect(() => virtual.measure(), [rowPx]);
  const items = everyRow
    ? rows.map((_, index) => ({ index, start: headPx + index * rowPx, end: headPx + (index + 1) * rowPx }))
    : virtual.getVirtualItems();
  const above = items.length > 0 ? (items[0]?.start ?? headPx) - headPx : 0;
  const below = items.length > 0 ? rows.length * rowPx - ((items.at(-1)?.end ?? headPx) - headPx) : 0;
  const current = Math.min(active, Math.max(0, rows.length - 1));

  useEffect(() => {
    if (wanted.current === undefined) return;
    const row = scroller.current?.querySelector<HTMLElement>(`tr[data-index="${wanted.current}"]`);
    if (!row) return; // not drawn yet: the scroll brings it and this runs again
    wanted.current = undefined;
    row.focus({ preventScroll: true });
  });

  function goTo(index: number): void {
    const next = Math.max(0, Math.min(rows.length - 1, index));
    wanted.current = next;
    setActive(next);
    virtual.scrollToIndex(next);
  }

  function onKeyDown(event: KeyboardEvent): void {
    const target = event.target as HTMLElement;
    if (target.tagName !== "TR") return;
    const page = Math.max(1, Math.floor((scroller.current?.clientHeight ?? 400) / rowPx) - 2);
    const row = rows[current];
    const to: Record<string, number> = {
      ArrowDown: current + 1,
      ArrowUp: current - 1,
      PageDown: current + page,
      PageUp: current - page,
      Home: 0,
      End: rows.length - 1,
    };
    const index = to[event.key];
    if (index !== undefined) goTo(index);
    else if (!row) return;
    else if (event.key === "Enter" && row.getIsGrouped()) row.toggleExpanded();
    else if (event.key === "Enter" && onOpen) onOpen(row.original);
    else if (event.key === "ArrowRight" && row.getIsGrouped()) row.toggleExpanded(true);
    else if (event.key === "ArrowLeft" && row.getIsGrouped()) row.toggleExpanded(false);
    else if (event.key === " " && selection && !row.getIsGrouped()) selection.toggle(row.id, event.shiftKey);
    else return;
    event.preventDefault();
  }

  const width = columns.reduce((sum, column) => sum + widthOf(column), selection ? SELECT_WIDTH : 0);
  return (
    <div className="ui-table-scroll" ref={scroller} style={{ maxHeight: everyRow ? undefined : height }}>
      <table
        // biome-ignore lint/a11y/noNoninteractiveElementToInteractiveRole: rows take the focus; such a table is a grid
        role="grid"
        className="ui-table"
        aria-label={label}
        aria-rowcount={rows.length + 1}
        aria-multiselectable={selection ? true : undefined}
        style={{ minWidth: width }}
        onKeyDown={onKeyDown}
        // With the active row scrolled out of existence Tab would find no way in: then the table itself takes it.
        tabIndex={items.some(({ index }) => index === current) ? undefined : 0}
        onFocus={(event) => {
          if (event.target === event.currentTarget)
            goTo(items[Math.min(SPARE_ROWS, items.length - 1)]?.index ?? 0);
        }}
      >
        <colgroup>
          {selection ? <col style={{ width: SELECT_WIDTH }} /> : null}
          {columns.map((column) => (
            <col key={column.id} style={{ width: widthOf(column) }} />
          ))}
        </colgroup>
        <thead>
          <tr aria-rowindex={1}>
            {selection ? (
              <th scope="col" className="ui-table-select">
                <input
                  type="checkbox"
                  aria-label={t("Select all {{rows}} shown", { rows: t(rowWord.many) })}
                  checked={selection.state === "all"}
                  ref={(box) => {
                    if (box) box.indeterminate = selection.state === "some";
                  }}
                  onChange={selection.toggleAll}
                />
              </th>
            ) : null}
            {columns.map((column) => (
              <HeadCell key={column.id} {...{ column, view, change }} />
            ))}
          </tr>
        </thead>
        <Space height={above} />
        <tbody>
          {items.map(({ index }) => {
            const row = rows[index];
            if (!row) return null;
            const common = { index, row, columns, locale, isActive: index === current, rowWord };
            return row.getIsGrouped() ? (
              <GroupRow
                key={row.id}
                {...common}
                isOpen={row.getIsExpanded()}
                leads={selection ? 1 : 0}
                onFocus={setActive}
              />
            ) : (
              <BodyRow
                key={row.id}
                {...common}
                isSelected={selection?.selected.has(row.id)}
                onToggle={selection?.toggle}
                onOpen={onOpen}
                onFocus={setActive}
              />
            );
          })}
        </tbody>
        <Space height={below} />
      </table>
    </div>
  );
}

/** Stands for the rows that are out of view. */
function Space({ height }: { height: number }) {
  return height > 0 ? (
    <tbody aria-hidden="true">
      <tr style={{ height }} />
    </tbody>
  ) : null;
}

interface HeadCellProps<Row> {
  column: Column<Row>;
  view: TableView;
  change: (step: (view: TableView) => TableView) => void;
}

function HeadCell<Row>({ column, view, change }: HeadCellProps<Row>) {
  const { t } = useWords();
  const at = view.sort.findIndex((s) => s.id === column.id);
  const sort = view.sort[at];
  const words = (
    <>
      <span>
        {t(column.header)}
        {column.unit ? <span className="ui-unit"> {t(column.unit)}</span> : null}
      </span>
      {sort ? <Glyph name={sort.desc ? "down" : "up"} /> : null}
      {sort && view.sort.length > 1 ? <small>{at + 1}</small> : null}
    </>
  );
  return (
    <th
      scope="col"
      data-align={alignOf(column)}
      title={column.hint ? t(column.hint) : undefined}
      aria-sort={sort ? (sort.desc ? "descending" : "ascending") : undefined}
    >
      {column.sortable === false ? (
        <span className="ui-table-sorter">{words}</span>
      ) : (
        <button
          type="button"
          className="ui-table-sorter"
          onClick={(event) => change((v) => nextSort(v, column.id, event.shiftKey))}
        >
          {words}
        </button>
      )}
    </th>
  );
}

interface AnyRowProps<Row extends object> {
  index: number;
  row: EngineRow<Row>;
  columns: readonly Column<Row>[];
  locale: string;
  isActive: boolean;
  rowWord: { one: string; many: string };
  onFocus: (index: number) => void;
}

interface BodyRowProps<Row extends object> extends AnyRowProps<Row> {
  isSelected?: boolean;
  onToggle?: (id: string, withRange: boolean) => void;
  onOpen?: (row: Row) => void;
}

function DrawBodyRow<Row extends object>(props: BodyRowProps<Row>): ReactNode {
  const { index, row, columns, locale, isActive, isSelected, onToggle, onOpen, onFocus } = props;
  const words = useWords();
  function onClick(event: MouseEvent): void {
    const inside = (event.target as HTMLElement).closest("a, button, input, label");
    if (inside || !onOpen || window.getSelection()?.toString()) return;
    onOpen(row.original);
  }
  return (
    <tr
      data-index={index}
      data-opens={onOpen !== undefined}
      aria-rowindex={index + 2}
      aria-selected={isSelected}
      tabIndex={isActive ? 0 : -1}
      onFocus={() => onFocus(index)}
      onClick={onClick}
    >
      {onToggle ? (
        <td className="ui-table-select">
          <input
            type="checkbox"
            tabIndex={-1}
            aria-label={words.t("Select {{row}}", { row: row.id })}
            checked={isSelected ?? false}
            onClick={(event) => onToggle(row.id, event.shiftKey)}
            readOnly
          />
        </td>
      ) : null}
      {columns.map((column, at) => {
        const Cell = at === 0 ? "th" : "td";
        return (
          <Cell key={column.id} scope={at === 0 ? "row" : undefined} data-align={alignOf(column)}>
            <div className="ui-table-cell">{shownValue(column, row.original, words, locale)}</div>
          </Cell>
        );
      })}
    </tr>
  );
}
// Rows are redrawn on every scroll step otherwise; the cast keeps the type parameter that memo drops.
const BodyRow = memo(DrawBodyRow) as typeof DrawBodyRow;

interface GroupRowProps<Row extends object> extends AnyRowProps<Row> {
  isOpen: boolean;
  leads: number;
}

/** Head of a group: its value, how many rows, and sums of the columns that have them. */
function GroupRow<Row extends object>(props: GroupRowProps<Row>) {
  const { index, row, columns, locale, isActive, isOpen, leads, rowWord, onFocus } = props;
  const { t } = useWords();
  const firstSum = columns.findIndex((column, at) => at > 0 && column.sums);
  const span = firstSum < 0 ? columns.length : firstSum;
  const count = row.getLeafRows().filter((leaf) => leaf.subRows.length === 0).length;
  return (
    <tr
      className="ui-table-group"
      data-index={index}
      aria-rowindex={index + 2}
      tabIndex={isActive ? 0 : -1}
      onFocus={() => onFocus(index)}
    >
      <th scope="rowgroup" colSpan={span + leads}>
        <button
          type="button"
          tabIndex={-1}
          className="ui-table-fold"
          aria-expanded={isOpen}
          onClick={() => row.toggleExpanded()}
        >
          <Glyph name={isOpen ? "down" : "next"} />
          <span className="truncate">{groupName(row, columns, t)}</span>
          <span className="ui-unit">
            {formatNumber(count, 0, locale)} {t(count === 1 ? rowWord.one : rowWord.many)}
          </span>
        </button>
      </th>
      {columns.slice(span).map((column) => (
        <td key={column.id} data-align={alignOf(column)}>
          <div className="ui-table-cell">
            {column.sums ? formatInColumn(sumOf(column, row), column.unit, column.digits ?? 0, locale) : null}
          </div>
        </td>
      ))}
    </tr>
  );
}

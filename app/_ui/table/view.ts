/**
 * What a reader has done to a table: searched, narrowed, sorted, grouped, chosen columns. It lives in the
 * address, so that a link shows the same rows to a colleague, and a saved view is just such a link.
 */
export interface ColumnFilter {
  /** Ticked values ("" = no value). */
  oneOf?: readonly string[];
  /** Inclusive ends of a range; numbers with a decimal point, dates as `YYYY-MM-DD`. */
  from?: string;
  to?: string;
}

export interface TableView {
  query: string;
  sort: readonly { id: string; desc: boolean }[];
  filters: Readonly<Record<string, ColumnFilter>>;
  group?: string;
  /** Ids of the columns shown; undefined = as the page gives them. */
  columns?: readonly string[];
  /** All rows as cards on a phone, not the first alone: the way back leads to where one was. */
  showsAll?: true;
}

export const PLAIN_VIEW: TableView = { query: "", sort: [], filters: {} };

const FILTER = "f.";
const RANGE = /^(.*)\.\.(.*)$/s;

/** Address keys of a table; two tables on one page have different `prefix`es. */
function ownKey(key: string, prefix: string): string | undefined {
  if (!key.startsWith(prefix)) return undefined;
  const name = key.slice(prefix.length);
  return ["q", "sort", "group", "cols", "all"].includes(name) || name.startsWith(FILTER) ? name : undefined;
}

/**
 * Reads a view from address parameters. Column ids that the page does not have are dropped, so that an old
 * link still opens. A range is written `10..40`, either end may be left out; anything else is a ticked value.
 */
export function readView(
  params: Iterable<[string, string]>,
  columnIds: ReadonlySet<string>,
  rangeIds: ReadonlySet<string>,
  prefix = "",
): TableView {
  const view = { ...PLAIN_VIEW, filters: {} as Record<string, ColumnFilter> } as {
    -readonly [K in keyof TableView]: TableView[K];
  };
  const filters: Record<string, ColumnFilter> = {};
  for (const [key, value] of params) {
    const name = ownKey(key, prefix);
    if (name === undefined) continue;
    if (name === "q") view.query = value;
    else if (name === "group") view.group = columnIds.has(value) ? value : undefined;
    else if (name === "all") {
      if (value === "1") view.showsAll = true;
    } else if (name === "sort") {
      view.sort = value
        .split(",")
        .map((part) => ({ id: part.replace(/^-/, ""), desc: part.startsWith("-") }))
        .filter((part) => columnIds.has(part.id));
    } else if (name === "cols") {
      const shown = value.split(",").filter((id) => columnIds.has(id));
      if (shown.length > 0) view.columns = shown;
    } else {
      const id = name.slice(FILTER.length);
      if (!columnIds.has(id)) continue;
      const range = rangeIds.has(id) ? RANGE.exec(value) : null;
      if (range) filters[id] = { from: range[1] || undefined, to: range[2] || undefined };
      else if (!rangeIds.has(id)) filters[id] = { oneOf: [...(filters[id]?.oneOf ?? []), value] };
    }
  }
  view.filters = filters;
  return view;
}

/** Writes a view into a copy of `params`, leaving the keys of others alone. Same view, same text. */
export function writeView(view: TableView, params: URLSearchParams, prefix = ""): URLSearchParams {
  const out = new URLSearchParams();
  for (const [key, value] of params) if (ownKey(key, prefix) === undefined) out.append(key, value);
  if (view.query) out.set(`${prefix}q`, view.query);
  if (view.sort.length > 0) {
    out.set(`${prefix}sort`, view.sort.map((s) => (s.desc ? `-${s.id}` : s.id)).join(","));
  }
  if (view.group) out.set(`${prefix}group`, view.group);
  if (view.showsAll) out.set(`${prefix}all`, "1");
  if (view.columns) out.set(`${prefix}cols`, view.columns.join(","));
  for (const id of Object.keys(view.filters).sort()) {
    const filter = view.filters[id];
    if (!filter || isIdle(filter)) continue;
    const key = `${prefix}${FILTER}${id}`;
    if (filter.oneOf) for (const value of filter.oneOf) out.append(key, value);
    else out.set(key, `${filter.from ?? ""}..${filter.to ?? ""}`);
  }
  return out;
}

/** Does this filter let every row pass? */
export function isIdle(filter: ColumnFilter): boolean {
  return (filter.oneOf?.length ?? 0) === 0 && !filter.from && !filter.to;
}

/** The view with one column's filter replaced, or dropped when it is idle. */
export function withFilter(view: TableView, id: string, filter: ColumnFilter): TableView {
  const { [id]: _, ...others } = view.filters;
  return { ...view, filters: isIdle(filter) ? others : { ...others, [id]: filter } };
}

/**
 * Next step of a column's sort on a press: ascending, descending, none. With `keep` (Shift) the other
 * columns stay and this one joins behind them.
 */
export function nextSort(view: TableView, id: string, keep: boolean): TableView {
  const now = view.sort.find((s) => s.id === id);
  const next = now === undefined ? [{ id, desc: false }] : now.desc ? [] : [{ id, desc: true }];
  if (!keep) return { ...view, sort: next };
  if (now === undefined) return { ...view, sort: [...view.sort, ...next] };
  return { ...view, sort: view.sort.flatMap((s) => (s.id === id ? next : [s])) };
}

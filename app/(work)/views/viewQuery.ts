/** What of a list's address is its view: filters, sort, columns, tab; not which row somebody happens to have open. */
import type { ListKind } from "@/db/schema/savedView";

const NOT_OF_THE_VIEW = new Set(["visit", "plan", "slip", "days", "all"]);

export const LIST_PATHS: Readonly<Record<ListKind, string>> = {
  sites: "/sites",
  hops: "/sites",
  plan: "/plan",
  stock: "/stock",
  kits: "/kits",
};

/** In one order, so that two addresses of the same view are the same text. */
export function viewQuery(search: string): string {
  const kept = [...new URLSearchParams(search)].filter(
    ([key, value]) => !NOT_OF_THE_VIEW.has(key) && value !== "",
  );
  kept.sort(([a, x], [b, y]) => (a < b ? -1 : a > b ? 1 : x < y ? -1 : x > y ? 1 : 0));
  return new URLSearchParams(kept).toString();
}

export const viewHref = (list: ListKind, query: string): string =>
  query === "" ? LIST_PATHS[list] : `${LIST_PATHS[list]}?${query}`;

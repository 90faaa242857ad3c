/** Readings that a click asks for: JSON from this area's own routes, with refusals as problems. */
import type { Problem, Result } from "@/lib/result";

const LOST: Problem = {
  path: "",
  rule: "no-answer",
  message: "The server did not answer.",
  remedy: "Check the connection, then try again.",
};

export async function ask<T>(
  path: string,
  query: Record<string, string | number | undefined>,
): Promise<Result<T>> {
  const search = new URLSearchParams();
  for (const [key, value] of Object.entries(query)) if (value !== undefined) search.set(key, String(value));
  try {
    const response = await fetch(`${path}?${search}`);
    const body = await response.json();
    if (response.ok) return { ok: true, value: body as T };
    return { ok: false, problems: body.problems ?? [LOST] };
  } catch {
    return { ok: false, problems: [LOST] };
  }
}

/** Puts one key into the address without loading the page anew; undefined takes it out. */
export function keepInAddress(key: string, value: string | undefined): void {
  const url = new URL(window.location.href);
  if (value === undefined) url.searchParams.delete(key);
  else url.searchParams.set(key, value);
  window.history.replaceState(window.history.state, "", url);
}

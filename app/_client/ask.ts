/** Readings that a press asks for: JSON from the product's own routes, with refusals as problems. */
import type { Problem, Result } from "@/lib/result";

export const LOST: Problem = {
  path: "",
  rule: "no-answer",
  message: "The server did not answer.",
  remedy: "Check the connection, then try again.",
};

export async function ask<T>(
  path: string,
  query: Record<string, string | number | undefined>,
  signal?: AbortSignal,
): Promise<Result<T>> {
  const search = new URLSearchParams();
  for (const [key, value] of Object.entries(query)) if (value !== undefined) search.set(key, String(value));
  try {
    const response = await fetch(`${path}?${search}`, { signal });
    const body = await response.json();
    if (response.ok) return { ok: true, value: body as T };
    return { ok: false, problems: body.problems ?? [LOST] };
  } catch {
    return { ok: false, problems: [LOST] };
  }
}

/** Long loops in pieces, so that a caller can show progress, breathe and cancel. */
import type { Progress, RunOptions } from "./types";

const CHUNK_ROWS = 500;

/**
 * Calls `each` for every row in order and reports after each chunk and at the end.
 * @throws the signal's reason when it is aborted: nothing has been stored, so there is nothing to undo
 */
export async function inChunks<T>(
  rows: readonly T[],
  stage: Progress["stage"],
  options: RunOptions,
  each: (row: T, index: number) => void,
): Promise<void> {
  const chunk = Math.max(1, options.chunkRows ?? CHUNK_ROWS);
  for (let from = 0; from < rows.length; from += chunk) {
    options.signal?.throwIfAborted();
    const to = Math.min(rows.length, from + chunk);
    for (let i = from; i < to; i++) each(rows[i]!, i);
    await options.onProgress?.({ stage, done: to, total: rows.length });
  }
}

/** Stretches of workable minutes with the tables that answer "when is it done" in logarithmic time. */

const DAY_MIN = 1440;

export interface Spans {
  /** Sorted, disjoint, not touching: minutes from the origin, [from, to). */
  from: Int32Array;
  to: Int32Array;
  /** Workable minutes before each span; one entry more than spans, the last is the total. */
  before: Int32Array;
  /** First span that ends after the begin of each day of 1440 minutes. */
  atDay: Int32Array;
  /** Longest span in each block of a binary tree over the spans: leaf i at `leaves + i`. */
  longest: Int32Array;
  leaves: number;
}

/** @param pairs from, to, from, to ...: sorted; touching pairs are merged */
export function spansOf(pairs: readonly number[], hours: number): Spans {
  const merged: number[] = [];
  for (let i = 0; i < pairs.length; i += 2) {
    const from = pairs[i]!;
    const to = pairs[i + 1]!;
    if (to <= from) continue;
    if (merged.length > 0 && from <= merged[merged.length - 1]!) {
      merged[merged.length - 1] = Math.max(merged[merged.length - 1]!, to);
    } else merged.push(from, to);
  }
  const n = merged.length / 2;
  let leaves = 1;
  while (leaves < n) leaves *= 2;
  const spans: Spans = {
    from: new Int32Array(n),
    to: new Int32Array(n),
    before: new Int32Array(n + 1),
    atDay: new Int32Array(Math.ceil(hours / 24) + 1),
    longest: new Int32Array(2 * leaves),
    leaves,
  };
  for (let i = 0; i < n; i++) {
    spans.from[i] = merged[2 * i]!;
    spans.to[i] = merged[2 * i + 1]!;
    spans.longest[leaves + i] = spans.to[i]! - spans.from[i]!;
    spans.before[i + 1] = spans.before[i]! + spans.longest[leaves + i]!;
  }
  for (let k = leaves - 1; k > 0; k--) {
    spans.longest[k] = Math.max(spans.longest[2 * k]!, spans.longest[2 * k + 1]!);
  }
  let i = 0;
  for (let d = 0; d < spans.atDay.length; d++) {
    while (i < n && spans.to[i]! <= d * DAY_MIN) i++;
    spans.atDay[d] = i;
  }
  return spans;
}

/** First span that ends after minute `t`; the number of spans when there is none. */
export function spanAt(spans: Spans, t: number): number {
  const last = spans.atDay.length - 1;
  let i = spans.atDay[Math.min(last, Math.max(0, Math.floor(t / DAY_MIN)))]!;
  while (i < spans.to.length && spans.to[i]! <= t) i++;
  return i;
}

export const totalMinutes = (spans: Spans): number => spans.before[spans.from.length]!;

/** First workable minute at or after `t`; undefined when none is left. */
export function beginFrom(spans: Spans, t: number): number | undefined {
  const i = spanAt(spans, t);
  return i === spans.from.length ? undefined : Math.max(t, spans.from[i]!);
}

/** Workable minutes before minute `t`. */
export function minutesBefore(spans: Spans, t: number): number {
  const i = spanAt(spans, t);
  return i === spans.from.length ? spans.before[i]! : spans.before[i]! + Math.max(0, t - spans.from[i]!);
}

/**
 * The minute at which `worked` workable minutes have passed since the origin: the end of the last of them.
 * undefined when the spans hold fewer.
 */
export function minuteAfter(spans: Spans, worked: number): number | undefined {
  const n = spans.from.length;
  if (worked > spans.before[n]!) return undefined;
  let lo = 0;
  let hi = n - 1;
  while (lo < hi) {
    const mid = (lo + hi + 1) >> 1;
    if (spans.before[mid]! < worked) lo = mid;
    else hi = mid - 1;
  }
  return n === 0 ? 0 : spans.from[lo]! + worked - spans.before[lo]!;
}

/** Earliest minute >= t from which `durationMin` minutes pass within one span; undefined when none is left. */
export function fitFrom(spans: Spans, t: number, durationMin: number): number | undefined {
  const i = spanAt(spans, t);
  if (i === spans.from.length) return undefined;
  const start = Math.max(t, spans.from[i]!);
  if (spans.to[i]! - start >= durationMin) return start;
  const j = nextLongEnough(spans, i + 1, durationMin);
  return j === undefined ? undefined : spans.from[j]!;
}

/** First span at or after `i` that lasts `durationMin`: up the tree until a block can hold it, then down. */
function nextLongEnough(spans: Spans, i: number, durationMin: number): number | undefined {
  if (i >= spans.from.length) return undefined;
  const { longest, leaves } = spans;
  let k = leaves + i;
  while (longest[k]! < durationMin) {
    while (k & 1) k >>= 1; // a right child: its parent's block ends here too
    if (k === 0) return undefined;
    k++;
  }
  while (k < leaves) {
    k *= 2;
    if (longest[k]! < durationMin) k++;
  }
  return k - leaves;
}

/** Minutes that lie in both. The two share their origin and their hours. */
export function intersect(a: Spans, b: Spans, hours: number): Spans {
  const pairs: number[] = [];
  let i = 0;
  let j = 0;
  while (i < a.from.length && j < b.from.length) {
    const from = Math.max(a.from[i]!, b.from[j]!);
    const to = Math.min(a.to[i]!, b.to[j]!);
    if (to > from) pairs.push(from, to);
    if (a.to[i]! < b.to[j]!) i++;
    else j++;
  }
  return spansOf(pairs, hours);
}

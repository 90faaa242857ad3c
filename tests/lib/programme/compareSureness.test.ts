import { expect, test } from "vitest";
import { promiseChanges, surenessOf } from "@/lib/programme";
import { calendarDate } from "@/lib/time";

const day = (dayOfMay: number) => calendarDate(`2026-05-${String(dayOfMay).padStart(2, "0")}`);
const hop = (hopCode: string, promiseMetShare?: number, p80 = 10) => ({
  hopCode,
  plannedOn: day(8),
  p80On: day(p80),
  unfinishedShare: 0,
  promiseMetShare,
});

test("counts promises that hold in fewer than four runs of five; hops without a promise are not counted", () => {
  expect(
    surenessOf({
      programme: { plannedOn: day(8), p50On: day(9), p80On: undefined, unfinishedShare: 0.3 },
      allPromisesMetShare: 0.1,
      hops: [hop("A", 0.8), hop("B", 0.799), hop("C", 0), hop("D")],
    }),
  ).toEqual({ p50On: day(9), p80On: undefined, allPromisesMetShare: 0.1, unsureHops: 2, promisedHops: 3 });
});

test("names promises that change by five points or more, the one that loses most first", () => {
  const before = {
    hops: [hop("A", 0.9), hop("B", 0.5), hop("C", 0.7), hop("D", 0.6), hop("E"), hop("F", 1)],
  };
  const after = {
    hops: [hop("A", 0.951), hop("B", 0.1, 12), hop("C", 0.66), hop("D", 0.4), hop("E", 1), hop("G", 0.9)],
  };
  expect(promiseChanges(before, after)).toEqual([
    { hopCode: "B", before: 0.5, after: 0.1, p80Before: day(10), p80After: day(12) },
    { hopCode: "D", before: 0.6, after: 0.4, p80Before: day(10), p80After: day(10) },
    { hopCode: "A", before: 0.9, after: 0.951, p80Before: day(10), p80After: day(10) },
  ]);
  expect(promiseChanges(before, before)).toEqual([]);
});

test("names unsure promises that only one of the plans finishes: they are counted, so they must be found", () => {
  const before = { hops: [hop("A", 0.9), hop("GONE", 0.6), hop("GONE SURE", 0.95), hop("NO PROMISE")] };
  const after = { hops: [hop("A", 0.9), hop("NEW", 0.59, 14), hop("NEW SURE", 0.8), hop("NO PROMISE")] };
  expect(promiseChanges(before, after)).toEqual([
    { hopCode: "GONE", before: 0.6, after: undefined, p80Before: day(10), p80After: undefined },
    { hopCode: "NEW", before: undefined, after: 0.59, p80Before: undefined, p80After: day(14) },
  ]);
});

test("a promise that has passed is kept in no run, whether its hop was run or not", () => {
  const risk = { allPromisesMetShare: 0.4, hops: [] };
  expect(surenessOf(risk)).toMatchObject({ allPromisesMetShare: 0.4, unsureHops: 0 });
  expect(surenessOf(risk, new Set(["H"]))).toMatchObject({
    allPromisesMetShare: 0,
    unsureHops: 1,
    promisedHops: 1,
  });
});

import { expect, test } from "vitest";
import { releaseOf } from "@/lib/programme";
import type { Gate } from "@/lib/site";
import { calendarDate } from "@/lib/time";

const today = calendarDate("2026-03-02");
const gate = (over: Partial<Gate>): Gate => ({
  hopId: "H",
  kind: "survey",
  owner: "us",
  state: "met",
  ...over,
});

test("met gates hold nothing", () => {
  expect(releaseOf([gate({})], "near", today)).toEqual({ releaseDay: 0 });
});

test("the latest dated gate gives the release day", () => {
  const gates = [
    gate({ kind: "supply", state: "dated", dueOn: calendarDate("2026-03-09") }),
    gate({ kind: "site ready", state: "dated", dueOn: calendarDate("2026-03-12") }),
  ];
  expect(releaseOf(gates, "near", today).releaseDay).toBe(10);
});

test("an open gate stops the end and is named with its owner", () => {
  const stop = releaseOf(
    [gate({ kind: "spectrum licence", owner: "regulator", state: "open" })],
    "far",
    today,
  );
  expect(stop.blockedBy).toContain("spectrum licence");
  expect(stop.blockedBy).toContain("regulator");
});

test("a gate of one end does not hold the other; a gate of the hop holds both", () => {
  const near = gate({ side: "near", state: "open" });
  expect(releaseOf([near], "far", today).blockedBy).toBeUndefined();
  expect(releaseOf([near], "near", today).blockedBy).toBeDefined();
  expect(releaseOf([gate({ state: "open" })], "far", today).blockedBy).toBeDefined();
});

test("a dated gate that is overdue releases today, not in the past", () => {
  const late = gate({ state: "dated", dueOn: calendarDate("2026-02-20") });
  expect(releaseOf([late], "near", today).releaseDay).toBe(0);
});

/** What of the reports on a phone waits beside a new one, and what the new one stands for. */
import { expect, test } from "vitest";
import { standsFor } from "@/app/_client/outbox/standsFor";
import type { WaitingReport } from "@/app/_client/outbox/store";

const written = (
  key: string,
  said: Record<string, unknown>,
  more?: Partial<WaitingReport>,
): WaitingReport => ({
  key,
  userId: "u1",
  visitId: "VH001/near/install",
  label: "VH001",
  writtenAtMillis: 1,
  report: { outcome: "done", workedOn: "2026-03-16", workedMin: 300, lastSeenReportId: 0, ...said },
  ...more,
});
const refused = { problems: [{ path: "hung.0.serial", rule: "r", message: "m", remedy: "r" }] };

test("the same said twice waits once, whatever the page knew of meanwhile", () => {
  const first = written("a", {});
  expect(standsFor(written("b", { lastSeenReportId: 7 }), [first], undefined)).toEqual({
    key: "a",
    replaced: [],
  });
});

test("a later done stands for the one that waits; a hold and another day's work wait besides", () => {
  const done = written("a", {});
  expect(standsFor(written("b", { workedMin: 60, isOnTop: true }), [done], undefined).replaced).toEqual([]);
  expect(standsFor(written("b", { workedMin: 360 }), [done], undefined)).toEqual({
    key: "b",
    replaced: ["a"],
  });
  const hold = written("a", { outcome: "hold", holdReason: "gate locked" });
  expect(standsFor(written("b", {}), [hold], undefined)).toEqual({ key: "b", replaced: [] });
  const part = written("a", { outcome: "part done" });
  expect(standsFor(written("b", { workedOn: "2026-03-17" }), [part], undefined).replaced).toEqual([]);
});

test("a refused report is over when its day or its form speaks again, and only then", () => {
  const before = written("a", { outcome: "part done" }, refused);
  expect(standsFor(written("b", {}), [before], undefined).replaced).toEqual(["a"]);
  const nextDay = written("b", { workedOn: "2026-03-17" });
  expect(standsFor(nextDay, [before], undefined).replaced).toEqual([]);
  expect(standsFor(nextDay, [before], "a").replaced).toEqual(["a"]);
  // Refused and said the same again: it goes out anew under its own key.
  expect(standsFor(written("b", { outcome: "part done" }), [before], "a")).toEqual({
    key: "b",
    replaced: ["a"],
  });
});

test("other visits and other people on the phone keep what they have", () => {
  const other = [
    written("a", {}, { visitId: "VH002/far/install" }),
    written("c", {}, { userId: "u2" }),
    written("d", {}, { userId: "u2", ...refused }),
  ];
  expect(standsFor(written("b", {}), other, "d")).toEqual({ key: "b", replaced: [] });
});

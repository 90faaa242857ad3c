import { expect, test } from "vitest";
import { type SerialFacts, serialAccount } from "@/lib/stock";
import type { CalendarDate } from "@/lib/time";

const day = (n: number) => `2026-03-${String(n).padStart(2, "0")}` as CalendarDate;
const spell = (from: number, to: number | null, isWrong = false) => ({
  position: "A near",
  hungOn: day(from),
  endedOn: to === null ? null : day(to),
  isWrong,
});
const row = (kind: string, n: number, toPlace: string | null) => ({ kind, on: day(n), toPlace });
const of = (part: Partial<SerialFacts>) => {
  const { state, where } = serialAccount({
    serial: "RU-1",
    itemCode: "ODU",
    spells: [],
    rows: [],
    hangsAt: null,
    ...part,
  });
  return where === null ? state : `${state}: ${where}`;
};

test("a radio that hangs is accounted for, whatever the ledger said of it before", () => {
  expect(of({ spells: [spell(3, null)], rows: [row("receipt", 1, "WH")] })).toBe("hangs");
});

test("one that was taken down must turn up at a place, at another hop, or be gone by a row", () => {
  const spells = [spell(3, 9)];
  expect(of({ spells })).toBe("missing");
  expect(of({ spells, rows: [row("receipt", 1, "WH")] })).toBe("missing");
  expect(of({ spells, rows: [row("quality hold", 9, "WH HOLD")] })).toBe("back: WH HOLD");
  expect(of({ spells, rows: [row("quality hold", 9, "WH HOLD"), row("return", 12, null)] })).toBe(
    "gone: return",
  );
  expect(of({ spells, hangsAt: "H-2" })).toBe("elsewhere: H-2");
});

test("a record that was written wrong is none", () => {
  expect(of({ spells: [spell(3, 3, true)], rows: [row("installed", 3, null)] })).toBe("installed");
  const account = serialAccount({
    serial: "RU-1",
    itemCode: "ODU",
    spells: [spell(3, 5), spell(6, 6, true)],
    rows: [row("receipt", 1, "WH")],
    hangsAt: null,
  });
  expect(account).toMatchObject({ hungOn: day(3), endedOn: day(5), receivedOn: day(1), state: "missing" });
});

test("one that was dead on arrival never hung and is on hold", () => {
  expect(of({ rows: [row("quality hold", 4, "WH HOLD")] })).toBe("back: WH HOLD");
});

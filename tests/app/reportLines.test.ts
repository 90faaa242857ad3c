import { expect, test } from "vitest";
import en from "@/app/_ui/language/catalogue/en/common.json";
import { makeWords } from "@/app/_ui/language/words";
import { materialWords } from "@/app/(work)/week/visit/[...visitId]/materialWords";
import { reportLines } from "@/app/(work)/week/visit/[...visitId]/reportLines";
import type { StoredUse } from "@/db/queries/reports";
import type { CatalogueItem } from "@/lib/site";

const words = makeWords("en", en);
const NONE: ReadonlySet<string> = new Set();
const NONE_LOST = new Map<string, unknown>();
const items = [
  { code: "CLAMP", name: "Clamp", unit: "piece" },
  { code: "CABLE", name: "IF cable", unit: "m" },
] as CatalogueItem[];
const use = (reportId: number, itemCode: string, usedC: number, runId: string | null = null): StoredUse => ({
  reportId,
  lineNo: 1,
  itemCode,
  runId,
  drumSerial: null,
  usedC,
  leftC: 50,
});
const KIT = [
  { itemCode: "CLAMP", name: "Clamp", runId: null, drumSerial: null, neededC: 500, boxC: 500, pickedC: 500 },
  {
    itemCode: "CABLE",
    name: "IF cable",
    runId: "R1",
    drumSerial: "D1",
    neededC: 2250,
    boxC: 2250,
    pickedC: 0,
  },
];

test("what was used on earlier days stands beside a line, and a correction knows only what its own report said", () => {
  const uses = [use(1, "CLAMP", 300), use(2, "CLAMP", 200), use(2, "CABLE", 2000, "R1")];
  const [clamp, cable] = reportLines(KIT, uses, {
    correctedId: 2,
    isIssued: true,
    lostRuns: NONE_LOST,
    leftOut: NONE,
    items,
    words,
  });
  expect(clamp).toMatchObject({
    needed: 5,
    reported: { used: 2, left: 0.5 },
    usedBefore: 3,
    isMetres: false,
  });
  expect(cable).toMatchObject({
    needed: 22.5,
    reported: { used: 20, left: 0.5 },
    usedBefore: 0,
    isMetres: true,
  });
  const open = reportLines(KIT, uses.slice(0, 1), {
    isIssued: true,
    lostRuns: NONE_LOST,
    leftOut: NONE,
    items,
    words,
  });
  expect(open.map((l) => [l.reported, l.usedBefore])).toEqual([
    [undefined, 3],
    [undefined, 0],
  ]);
});

test("what was reported stays on the list when the kit is gone, each item and run once", () => {
  const uses = [use(1, "CLAMP", 300), use(2, "CLAMP", 200), use(2, "CABLE", 2000, "R1")];
  const lines = reportLines([], uses, {
    correctedId: 2,
    isIssued: true,
    lostRuns: NONE_LOST,
    leftOut: NONE,
    items,
    words,
  });
  expect(lines.map((l) => [l.itemCode, l.runId, l.needed, l.reported?.used, l.usedBefore])).toEqual([
    ["CLAMP", null, 0, 2, 3],
    ["CABLE", "R1", 0, 20, 0],
  ]);
});

test("what is proposed as used: a run as it was cut, shares of what is opened, whole pieces", () => {
  const line = (itemCode: string, neededC: number, pickedC: number, runId: string | null = null) => ({
    ...{
      itemCode,
      name: itemCode,
      runId,
      drumSerial: null,
      neededC,
      pickedC,
      boxC: Math.ceil(neededC / 100) * 100,
    },
  });
  const kit = [
    line("CABLE", 6350, 6400, "R1"),
    line("CABLE", 6350, 0, "R2"),
    line("TAPE", 171, 200),
    line("CLAMP", 210, 300),
  ];
  const catalogue = [...items, { code: "TAPE", name: "Tape", unit: "roll" }] as CatalogueItem[];
  const lines = reportLines(kit, [], {
    isIssued: true,
    lostRuns: NONE_LOST,
    leftOut: NONE,
    items: catalogue,
    words,
  });
  expect(lines.map((l) => l.planned)).toEqual([64, 63.5, 1.71, 2]);
});

test("what rides opened on the vehicle is counted apart from the lines of the box", () => {
  const tape = { ...KIT[0]!, itemCode: "TAPE", name: "Tape", neededC: 71, boxC: 0, pickedC: 0 };
  const pickedAllTheSame = { ...tape, itemCode: "SPRAY", pickedC: 100 };
  const lines = reportLines([...KIT, tape, pickedAllTheSame], [], {
    isIssued: true,
    lostRuns: NONE_LOST,
    leftOut: NONE,
    items,
    words,
  });
  expect(lines.map((l) => l.isOpened)).toEqual([false, false, true, false]);
  expect(materialWords(lines, words.t)).toBe(
    "Material: counted as used as planned, 3 lines, 1 more opened on the vehicle. Open to change",
  );
});

test("what the vehicle should have opened and has not by the books is not proposed as used", () => {
  const tape = { ...KIT[0]!, itemCode: "TAPE", name: "Tape", neededC: 71, boxC: 0, pickedC: 0 };
  const lines = reportLines([...KIT, tape], [], {
    isIssued: true,
    lostRuns: NONE_LOST,
    leftOut: new Set(["TAPE", "CLAMP"]),
    items,
    words,
  });
  expect(lines.map((l) => [l.itemCode, l.missing, l.isOpened])).toEqual([
    ["CLAMP", undefined, false],
    ["CABLE", "left behind", false],
    ["TAPE", "not on the vehicle", false],
  ]);
  expect(materialWords(lines, words.t)).toContain("3 lines. Open to change");
});

test("the folded list says whether it counts what was planned or what was reported", () => {
  const lines = (correctedId?: number) =>
    reportLines(KIT, [use(2, "CABLE", 90_000, "R1")], {
      correctedId,
      isIssued: true,
      lostRuns: NONE_LOST,
      leftOut: NONE,
      items,
      words,
    });
  expect(materialWords(lines(2), words.t)).toBe("Material: as it was reported, 2 lines. Open to change");
  expect(materialWords(lines(), words.t)).toBe(
    "Material: counted as used as planned, 2 lines. Open to change",
  );
});

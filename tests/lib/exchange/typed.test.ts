/** Rows typed into a form: read as a file's rows are, said at their fields, and given back as they were typed. */
import { describe, expect, test } from "vitest";
import {
  type ExistingRows,
  type KindName,
  keyOf,
  previewTyped,
  type RowOf,
  rowFromSite,
  rowsFromHops,
  rowsToStore,
  typedCells,
  typedColumns,
} from "@/lib/exchange";
import { Random } from "@/lib/random";
import { DEFAULT_CATALOGUE } from "@/lib/takeoff";
import { calendarDate } from "@/lib/time";
import { makeHops, makeSites } from "@/seed/vellmark";

const sites = makeSites(new Random("sites"), 30);
const hops = makeHops(new Random("hops"), sites, DEFAULT_CATALOGUE, calendarDate("2026-03-16"), 15);
const design = { sites: sites.map(rowFromSite), ...rowsFromHops(hops) };
const byKey = (kind: KindName, rows: readonly unknown[]) =>
  new Map((rows as RowOf<KindName>[]).map((row) => [keyOf(kind, row), row]));
const existing = Object.fromEntries(
  Object.entries(design).map(([kind, rows]) => [kind, byKey(kind as KindName, rows)]),
) as ExistingRows;

describe("a stored row", () => {
  test.each(["point", "comma"] as const)(
    "is the same again when its fields are read back with a decimal %s",
    async (decimal) => {
      const rows = Object.entries(design).flatMap(([kind, list]) =>
        list.map((row, i) => ({
          kind: kind as KindName,
          at: `${kind}.${i}`,
          cells: typedCells(kind as KindName, row as never, decimal),
        })),
      );
      expect(rows.length).toBeGreaterThan(100);
      const { bundle, problems } = await previewTyped(rows, existing, decimal);
      expect(problems).toEqual([]);
      expect(bundle.totals).toMatchObject({ new: 0, changed: 0, refused: 0, same: rows.length });
      expect(rowsToStore(bundle)).toEqual([]);
    },
  );

  test("is asked for column by column, without what is only checked against another row", () => {
    expect(typedColumns("antennas").map((c) => c.key)).not.toContain("siteCode");
    expect(typedColumns("sites")).toHaveLength(16);
  });
});

const GATE = { kind: "gates" as const, cells: { hopCode: hops[0]!.code, kind: "supply", state: "open" } };

describe("what is typed", () => {
  const weight = (text: string, decimal: "point" | "comma") =>
    previewTyped(
      [
        {
          kind: "hops",
          at: "hop",
          cells: { ...typedCells("hops", design.hops[0]!, decimal), weight: text },
        },
      ],
      existing,
      decimal,
    );

  test.each([
    ["1.250", "point", 1.25],
    ["1.250", "comma", undefined],
    ["1,25", "point", 1.25],
    ["1.25", "comma", 1.25],
    [" 12 ", "point", 12],
  ] as const)("%s with a decimal %s is the number %s", async (text, decimal, expected) => {
    const { bundle, problems } = await weight(text, decimal);
    const row = bundle.files[0]!.rows[0]!.value as RowOf<"hops"> | undefined;
    expect(row?.weight).toBe(expected);
    // In a language with a decimal comma, 1.250 is one thousand two hundred and fifty: over the limit.
    expect(problems.map((p) => p.rule)).toEqual(expected === undefined ? ["outside-limits"] : []);
  });

  test("does not depend on other rows of the form: their numbers prove nothing", async () => {
    const [a, b] = design.antennas.slice(0, 2).map((row) => typedCells("antennas", row, "point"));
    const { problems } = await previewTyped(
      [
        { kind: "antennas", at: "a", cells: { ...a, mountHeightM: "12,5" } },
        { kind: "antennas", at: "b", cells: { ...b, mountHeightM: "12.5" } },
      ],
      existing,
      "point",
    );
    expect(problems).toEqual([]);
  });

  test("twice in one form is said at both, without rows and files", async () => {
    const { problems } = await previewTyped(
      [
        { ...GATE, at: "gates.0" },
        { ...GATE, at: "gates.1" },
      ],
      existing,
      "point",
    );
    expect(problems.map((p) => `${p.path}: ${p.message}`)).toEqual([
      'gates.0.kind: Gate "supply" stands twice in this form.',
      'gates.1.kind: Gate "supply" stands twice in this form.',
    ]);
  });

  test("gets remedies that speak of the form, not of files", async () => {
    const [radio] = design.radios.map((row) => typedCells("radios", row, "point"));
    const [row] = design.hops.map((h) => typedCells("hops", h, "point"));
    const near = row!.nearSiteCode!;
    const noRoute = { verticalM: "", bridgeM: "", trayM: "", indoorM: "", bends: "", route: "" };
    const { problems } = await previewTyped(
      [
        { kind: "hops", at: "hop", cells: { ...row, nearSiteCode: `${near}0`, farSiteCode: "elsewhere" } },
        { kind: "radios", at: "radio", cells: { ...radio, ...noRoute } },
      ],
      existing,
      "point",
    );
    expect(problems.map((p) => [p.path, p.remedy])).toEqual([
      ["hop.nearSiteCode", `Did you mean "${near}"? Otherwise add it first.`],
      ["hop.farSiteCode", "Correct it, or add it first."],
      ["radio.route", "Give the cable's metres, or its route as text."],
    ]);
    const cleared = await previewTyped(
      [{ kind: "hops", at: "hop", cells: { ...row, nearSiteCode: "" } }],
      existing,
      "point",
    );
    expect(cleared.problems.map((p) => [p.path, p.remedy])).toEqual([
      ["hop.nearSiteCode", "Give the new value."],
    ]);
  });

  test("sends to its list where a file would be given a word of the file", async () => {
    const { problems } = await previewTyped(
      [{ kind: "sites", at: "site", cells: { code: "N-9" } }],
      {},
      "point",
    );
    const of = (key: string) => problems.find((p) => p.path === `site.${key}`)?.remedy;
    expect(of("structure")).toBe("Choose one of the list.");
    expect(of("name")).toMatch(/^Fill it in, e\.g\. /);
  });

  test("is told once where the fault is, not again at every row that refers to it", async () => {
    const { problems } = await previewTyped(
      [
        { kind: "hops", at: "hop", cells: { code: "N-1", scheme: "1+0", bandGhz: "wide" } },
        { ...GATE, at: "gates.0", cells: { ...GATE.cells, hopCode: "N-1" } },
      ],
      existing,
      "point",
    );
    expect(problems).toMatchObject([
      {
        path: "hop.bandGhz",
        rule: "not-a-number",
        value: "wide",
        remedy: "Write the number alone, without a unit.",
        said: { message: { text: '{{label}}: "{{value}}" is not a number.' } },
      },
    ]);
  });
});

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { nextSort, PLAIN_VIEW, readView, type TableView, withFilter, writeView } from "@/app/_ui/table/view";

const IDS = ["code", "region", "height", "promise"];
const ALL = new Set(IDS);
const RANGES = new Set(["height", "promise"]);
const read = (text: string, prefix = ""): TableView =>
  readView(new URLSearchParams(text), ALL, RANGES, prefix);
const write = (view: TableView, before = "", prefix = ""): string =>
  writeView(view, new URLSearchParams(before), prefix).toString();

describe("a table's view in the address", () => {
  it("reads search, sort, filters, group and columns", () => {
    const text =
      "q=moor&sort=-height,code&f.region=North&f.region=South&f.height=10..40&group=region&cols=code,height";
    expect(read(text)).toEqual({
      query: "moor",
      sort: [
        { id: "height", desc: true },
        { id: "code", desc: false },
      ],
      filters: { region: { oneOf: ["North", "South"] }, height: { from: "10", to: "40" } },
      group: "region",
      columns: ["code", "height"],
    });
  });
  it("leaves either end of a range open", () => {
    expect(read("f.promise=2026-03-01..").filters).toEqual({
      promise: { from: "2026-03-01", to: undefined },
    });
    expect(read("f.height=..40").filters).toEqual({ height: { from: undefined, to: "40" } });
  });
  it("opens an old link whose columns are gone", () => {
    expect(read("sort=-gone&f.gone=x&group=gone&cols=gone")).toEqual(PLAIN_VIEW);
  });
  it("keeps a ticked value that looks like a range", () => {
    expect(read("f.region=A..B").filters).toEqual({ region: { oneOf: ["A..B"] } });
  });
  it("leaves other keys of the address alone, and the other table's", () => {
    const view = { ...PLAIN_VIEW, query: "x" };
    expect(write(view, "tab=hops&q=old")).toBe("tab=hops&q=x");
    expect(write(view, "q=hops", "s.")).toBe("q=hops&s.q=x");
    expect(read("q=a&s.q=b", "s.").query).toBe("b");
  });
  it("keeps that a phone shows all rows, and no other word for it", () => {
    expect(read("all=1").showsAll).toBe(true);
    expect(write(read("all=1"))).toBe("all=1");
    expect(read("all=no")).toEqual(PLAIN_VIEW);
  });
  it("writes nothing for a plain view", () => expect(write(PLAIN_VIEW)).toBe(""));

  it("comes back from the address as it went in", () => {
    const text = fc.string({ maxLength: 12 });
    const end = fc.option(fc.integer({ min: -999, max: 999 }).map(String), { nil: undefined });
    const views = fc.record({
      query: text,
      sort: fc.uniqueArray(fc.record({ id: fc.constantFrom(...IDS), desc: fc.boolean() }), {
        selector: (s) => s.id,
        maxLength: 3,
      }),
      oneOf: fc.uniqueArray(text, { minLength: 1, maxLength: 4 }),
      from: end,
      to: end,
      group: fc.option(fc.constantFrom(...IDS), { nil: undefined }),
      columns: fc.option(fc.uniqueArray(fc.constantFrom(...IDS), { minLength: 1 }), { nil: undefined }),
    });
    fc.assert(
      fc.property(views, ({ oneOf, from, to, ...rest }) => {
        const height: TableView["filters"] = from || to ? { height: { from, to } } : {};
        const view: TableView = { ...rest, filters: { region: { oneOf }, ...height } };
        const back = readView(new URLSearchParams(write(view)), ALL, RANGES);
        expect(write(back)).toBe(write(view));
        expect({ ...back, group: back.group, columns: back.columns }).toEqual(view);
      }),
    );
  });
});

describe("changing a view", () => {
  it("sorts up, down, not at all on repeated presses", () => {
    const up = nextSort(PLAIN_VIEW, "code", false);
    const down = nextSort(up, "code", false);
    expect(up.sort).toEqual([{ id: "code", desc: false }]);
    expect(down.sort).toEqual([{ id: "code", desc: true }]);
    expect(nextSort(down, "code", false).sort).toEqual([]);
  });
  it("adds a second column behind the first with Shift, and turns it in its place", () => {
    const both = nextSort(nextSort(PLAIN_VIEW, "region", false), "code", true);
    expect(both.sort.map((s) => s.id)).toEqual(["region", "code"]);
    expect(nextSort(both, "region", true).sort).toEqual([
      { id: "region", desc: true },
      { id: "code", desc: false },
    ]);
  });
  it("drops a filter that lets everything pass", () => {
    const narrowed = withFilter(PLAIN_VIEW, "region", { oneOf: ["North"] });
    expect(narrowed.filters).toEqual({ region: { oneOf: ["North"] } });
    expect(withFilter(narrowed, "region", { oneOf: [] }).filters).toEqual({});
  });
});

/** A site and a hop entered and changed by hand: the rules of a file's rows, who may, and what is written once only. */
import { beforeEach, describe, expect, test, vi } from "vitest";
import { homeToday } from "@/app/_server/clock";
import { markOf } from "@/app/_server/designByHand";
import { saveHop, saveSite } from "@/app/(work)/add/actions";
import { memoryDatabase } from "@/db/migrate";
import type { Db } from "@/db/open";
import { saveItem } from "@/db/queries/catalogue";
import { loadDataSince } from "@/db/queries/dataSince";
import { loadHop, loadSite, saveGate } from "@/db/queries/design";
import { existingRows, rowOfSite, rowsOfHop } from "@/db/queries/existingRows";
import { loadLog } from "@/db/queries/log";
import type { PlanHead } from "@/db/queries/plans";
import { loadProgrammeState } from "@/db/queries/progress";
import { loadHopRows } from "@/db/queries/siteViews";
import { hungUnit } from "@/db/schema";
import { typedCells } from "@/lib/exchange";
import type { Problem, Result } from "@/lib/result";
import { DEFAULT_CATALOGUE } from "@/lib/takeoff";
import { calendarDate } from "@/lib/time";
import { regionalHops } from "../helpers/regionalHops";
import { visitorAs } from "../helpers/visitor";

const here = vi.hoisted(() => ({ visitor: undefined as unknown, db: undefined as unknown }));
vi.mock("@/app/_server/session", () => ({ visitorOf: async () => here.visitor }));
vi.mock("@/db/open", async (original) => ({ ...(await original<object>()), database: () => here.db as Db }));
vi.mock("next/headers", () => ({
  headers: async () => new Headers(),
  cookies: async () => ({ get: () => undefined }),
}));
vi.mock("next/cache", () => ({ revalidatePath: () => undefined }));

let made: ReturnType<typeof regionalHops>;
let db: Db;
beforeEach(() => {
  db = memoryDatabase();
  made = regionalHops(db);
  here.db = db;
  here.visitor = visitorAs("manager");
});

const faults = (r: Result<unknown>) => (r.ok ? [] : r.problems.map((p) => `${p.path}: ${p.rule}`));
const fault = (r: Result<unknown>, path: string) =>
  (r.ok ? undefined : r.problems.find((p) => p.path === path)) as Problem;

const ROOF = {
  code: " NEW-1 ",
  name: "Mill roof",
  region: "",
  latDeg: "47.381",
  lonDeg: "8.5417",
  elevationM: "612",
  zone: "Europe/Zurich",
  structure: "roof",
  structureHeightM: "24",
};
const site = (cells: Record<string, string>, decimal: "point" | "comma" = "point") => ({
  opened: null,
  decimal,
  cells,
});

describe("a site", () => {
  test("is stored with the defaults of a file's blank cells, logged, and known as newer than a plan", async () => {
    expect(await saveSite(site(ROOF))).toEqual({ ok: true, value: { code: "NEW-1", fate: "new" } });
    expect(loadSite(db, "NEW-1")).toMatchObject({
      name: "Mill roof",
      region: "",
      position: { latDeg: 47.381, lonDeg: 8.5417 },
      terrain: "II",
      hasEarthingBar: undefined,
      access: { weekdays: [1, 2, 3, 4, 5], fromMin: 420, toMin: 1080, noticeDays: 0, allowsTwoCrews: false },
    });
    const [entry] = loadLog(db, 1, "site NEW-1");
    expect(entry).toMatchObject({ action: "add site", userName: "manager" });
    const plan = { id: 1, createdAt: entry!.at - 1, basis: {} } as PlanHead;
    expect(loadDataSince(db, plan)).toMatchObject([{ kind: "by hand", count: 1, by: "manager" }]);
  });

  test("reads numbers as the language writes them", async () => {
    await saveSite(site({ ...ROOF, latDeg: "47,381", elevationM: "1.612" }, "comma"));
    expect(loadSite(db, "NEW-1")).toMatchObject({ elevationM: 1612, position: { latDeg: 47.381 } });
  });

  test("is refused whole, each fault at its field with value and remedy", async () => {
    const refused = await saveSite(
      site({ ...ROOF, latDeg: "97", lonDeg: "", elevationM: "high", name: "", accessFromMin: "soon" }),
    );
    expect(faults(refused).sort()).toEqual([
      "site.accessFromMin: not-a-time",
      "site.elevationM: not-a-number",
      "site.latDeg: outside-limits",
      "site.name: required",
    ]);
    expect(fault(refused, "site.latDeg")).toMatchObject({
      value: 97,
      message: "Latitude: 97 is over 90 deg.",
      remedy: "Give a number at least -90 deg and at most 90 deg.",
    });
    expect(loadSite(db, "NEW-1")).toBeUndefined();
    const rules = await saveSite(
      site({ ...ROOF, lonDeg: "", zone: "Moon/Base", accessFromMin: "18:00", accessToMin: "07:00" }),
    );
    expect(faults(rules).sort()).toEqual([
      "site.accessToMin: access-ends-before-it-begins",
      "site.lonDeg: position-incomplete",
      "site.zone: zone-unknown",
    ]);
    expect(faults(await saveSite(site({ ...ROOF, code: "EXAMPLE-1" })))).toEqual(["site.code: example-code"]);
    expect(loadLog(db, 1, "site NEW-1")).toEqual([]);
  });

  test("whose code exists is told so, also when only its case differs", async () => {
    await saveSite(site(ROOF));
    const again = await saveSite(site({ ...ROOF, name: "Another" }));
    expect(faults(again)).toEqual(["site.code: site-exists"]);
    expect(fault(again, "site.code").value).toBe("NEW-1");
    expect(faults(await saveSite(site({ ...ROOF, code: "new-1" })))).toEqual([
      "site.code: key-differs-in-case",
    ]);
    expect(loadSite(db, "NEW-1")?.name).toBe("Mill roof");
  });

  test("takes no second spelling of a region that is in use, and offers the one that is", async () => {
    await saveSite(site({ ...ROOF, region: "Salt Coast" }));
    const refused = await saveSite(site({ ...ROOF, code: "NEW-2", region: "salt coast" }));
    expect(fault(refused, "site.region")).toMatchObject({
      rule: "spelled-otherwise",
      message: 'Region "salt coast" differs from "Salt Coast" only in upper and lower case or blanks.',
      remedy: 'Write "Salt Coast" if it is the same, or a name that cannot be mistaken for it.',
    });
    expect(await saveSite(site({ ...ROOF, code: "NEW-2", region: "Salt Coast" }))).toMatchObject({
      ok: true,
    });
  });

  test("sent twice with one key is stored once", async () => {
    const first = await saveSite(site(ROOF), "key-1");
    expect(await saveSite(site(ROOF), "key-1")).toEqual(first);
    expect(loadLog(db, 5, "site NEW-1")).toHaveLength(1);
  });

  test("is changed from its form, and refused when somebody changed it since", async () => {
    await saveSite(site(ROOF));
    const cells = typedCells("sites", rowOfSite(db, "NEW-1")!, "point");
    const opened = { code: "NEW-1", mark: markOf(db, "site", "NEW-1") };
    expect(await saveSite({ opened, decimal: "point", cells })).toEqual({
      ok: true,
      value: { code: "NEW-1", fate: "same" },
    });
    expect(loadLog(db, 5, "site NEW-1")).toHaveLength(1);
    // The code of the record is what the form was opened with, whatever is sent.
    const changed = await saveSite({
      opened,
      decimal: "point",
      cells: { ...cells, code: "OTHER", hasEarthingBar: "yes", region: "" },
    });
    expect(changed).toEqual({ ok: true, value: { code: "NEW-1", fate: "changed" } });
    expect(loadSite(db, "NEW-1")?.hasEarthingBar).toBe(true);
    expect(loadLog(db, 1, "site NEW-1")[0]).toMatchObject({
      action: "change site",
      detail: { changes: ["Earthing bar: blank to yes"] },
    });
    expect(faults(await saveSite({ opened, decimal: "point", cells }))).toEqual([": changed-meanwhile"]);
    expect(loadSite(db, "NEW-1")?.hasEarthingBar).toBe(true);
  });
});

const ends = (code: string) => {
  const hop = loadHop(db, code)!;
  return { nearSiteCode: hop.near.siteId, farSiteCode: hop.far.siteId };
};
const HOP = { code: "MW-901", scheme: "1+0", bandGhz: "18", promisedOn: "2026-12-01" };
const ANTENNA = { label: "A1", mountHeightM: "18", diameterM: "0.6", polarisations: "V", bandGhz: "18" };
const RADIO = {
  label: "R1",
  antennaLabel: "A1",
  bandGhz: "18",
  subBand: "B",
  duplexSpacingMhz: "1010",
  half: "high",
  polarisation: "V",
  verticalM: "18",
  bridgeM: "3",
  bends: "1",
};
const parts = (side: "near" | "far", over: { antenna?: object; radio?: object } = {}) => [
  { kind: "ends" as const, at: `${side}.end`, cells: { side } },
  { kind: "antennas" as const, at: `${side}.antennas.0`, cells: { ...ANTENNA, side, ...over.antenna } },
  {
    kind: "radios" as const,
    at: `${side}.radios.0`,
    cells: { ...RADIO, side, half: side === "near" ? "high" : "low", ...over.radio },
  },
];
const GATE = {
  kind: "gates" as const,
  at: "gates.0",
  cells: { side: "", kind: "supply", owner: "grid company", state: "open", dueOn: "" },
};
const hop = (cells: object = {}, rows = [...parts("near"), ...parts("far"), GATE]) => ({
  opened: null,
  decimal: "point" as const,
  cells: { ...HOP, ...ends(made.own), ...cells },
  parts: rows,
});
/** The form of a hop that stands, as the page fills it in. */
const filled = (code: string, mark = markOf(db, "hop", code)) => {
  const rows = rowsOfHop(db, code)!;
  const part = <K extends "ends" | "antennas" | "radios" | "gates">(kind: K) =>
    rows[kind].map((row, i) => ({
      kind: kind as "ends",
      at: `${kind}.${i}`,
      cells: typedCells(kind, row as never, "point"),
    }));
  return {
    opened: { code, mark },
    decimal: "point" as const,
    cells: typedCells("hops", rows.hops[0]!, "point"),
    parts: [...part("ends"), ...part("antennas"), ...part("radios"), ...part("gates")],
  };
};

describe("a hop", () => {
  test("is stored as the same rows of files would be", async () => {
    expect(await saveHop(hop())).toEqual({ ok: true, value: { code: "MW-901", fate: "new" } });
    const stored = loadHop(db, "MW-901")!;
    expect(stored).toMatchObject({ weight: 1, alignment: "both ends at once", promisedOn: "2026-12-01" });
    expect(stored.near).toMatchObject({
      worstSupplyV: 40.5,
      includesIduPower: false,
      antennas: [{ label: "A1", mount: "pole", owner: "customer", diameterM: 0.6 }],
    });
    expect(stored.near.odus[0]).toMatchObject({
      half: "high",
      earthBarDistanceM: 2,
      route: [
        { kind: "vertical", lengthM: 18, bendAtEnd: true },
        { kind: "bridge", lengthM: 3, bendAtEnd: false },
      ],
    });
    expect(stored.gates).toMatchObject([{ kind: "supply", state: "open", owner: "grid company" }]);
    expect(existingRows(db).hops?.get("MW-901")).toMatchObject(ends(made.own));
    expect(loadLog(db, 1, "hop MW-901")[0]).toMatchObject({
      action: "add hop",
      detail: { rows: { hops: 1, ends: 2, antennas: 2, radios: 2, gates: 1 } },
    });
  });

  test("is taken off while it is saved, and held for what fails before any plan has seen it", async () => {
    const noGate = hop().parts.filter((part) => part.kind !== ("gates" as string));
    // Nothing of the catalogue fits a band that nobody makes.
    expect(await saveHop(hop({ bandGhz: "3" }, noGate))).toMatchObject({ ok: true });
    const today = homeToday(db);
    const [row] = loadHopRows(db, today, ["MW-901"]);
    expect(row!.failCount).toBeGreaterThan(0);
    expect(row!.workMin).toBeGreaterThan(0);
    expect(row!.cableM).toBeGreaterThan(0);
    expect(row).toMatchObject({ state: "held", heldBy: expect.stringMatching(/^design check: /) });
    expect(loadProgrammeState(db, today).hops.find((h) => h.hopCode === "MW-901")).toMatchObject({
      state: "held",
      heldBy: row!.heldBy,
    });
  });

  test("goes between two different sites that exist", async () => {
    const same = ends(made.own).nearSiteCode;
    expect(faults(await saveHop(hop({ farSiteCode: same })))).toEqual(["hop.farSiteCode: hop-to-itself"]);
    const unknown = await saveHop(hop({ farSiteCode: "NOWHERE" }));
    expect(faults(unknown)).toEqual(["hop.farSiteCode: reference-unknown"]);
    expect(fault(unknown, "hop.farSiteCode").message).toBe('Far site "NOWHERE" is not among the sites.');
    expect(faults(await saveHop(hop({ nearSiteCode: " " })))).toContain(
      "hop.nearSiteCode: hop-needs-two-sites",
    );
    expect(rowsOfHop(db, "MW-901")).toBeUndefined();
  });

  test("is refused whole for a fault of a part, which stands at the part's field", async () => {
    const rows = [
      ...parts("near", { antenna: { mountHeightM: "" }, radio: { antennaLabel: "A9" } }),
      ...parts("far", { radio: { route: "vertical 20", targetLevelDbm: "20" } }),
      { ...GATE, cells: { ...GATE.cells, state: "dated" } },
      { ...GATE, at: "gates.1", cells: { ...GATE.cells, kind: "survey" } },
      { ...GATE, at: "gates.2", cells: { ...GATE.cells, kind: "survey" } },
    ];
    expect(faults(await saveHop(hop({}, rows))).sort()).toEqual([
      "far.radios.0.route: route-given-twice",
      "far.radios.0.targetLevelDbm: outside-limits",
      "gates.0.dueOn: dated-gate-without-date",
      "gates.1.kind: duplicate-key",
      "gates.2.kind: duplicate-key",
      "near.antennas.0.mountHeightM: required",
      "near.radios.0.antennaLabel: reference-unknown",
    ]);
    expect(rowsOfHop(db, "MW-901")).toBeUndefined();
  });

  test("is changed from its filled form and keeps all that was not touched", async () => {
    const before = loadHop(db, made.own)!;
    const form = filled(made.own);
    expect(await saveHop(form)).toMatchObject({ ok: true, value: { fate: "same" } });
    const at = form.parts.findIndex((p) => p.kind === ("antennas" as string));
    const parts = form.parts.map((p, i) =>
      i === at ? { ...p, cells: { ...p.cells, mountHeightM: "11.5" } } : p,
    );
    expect(await saveHop({ ...form, cells: { ...form.cells, weight: "3" }, parts })).toMatchObject({
      ok: true,
      value: { code: made.own, fate: "changed" },
    });
    const after = loadHop(db, made.own)!;
    expect(after.weight).toBe(3);
    expect(after.near.antennas[0]!.mountHeightM).toBe(11.5);
    expect({ ...after.far, gates: after.gates }).toEqual({ ...before.far, gates: before.gates });
    expect(loadLog(db, 1, `hop ${made.own}`)[0]).toMatchObject({
      action: "change hop",
      detail: {
        changes: [
          `Weight: ${before.weight} to 3`,
          `Antennas ${made.own}/near/A1, Mount height: ${before.near.antennas[0]!.mountHeightM} to 11.5`,
        ],
      },
    });
  });

  test("loses the values that are emptied, and no more", async () => {
    const radio = { targetLevelDbm: "-40", trayM: "2" };
    const near = parts("near", { radio }).map((p) =>
      p.kind === "ends" ? { ...p, cells: { ...p.cells, entryHeightM: "3", couplerSplit: "equal" } } : p,
    );
    expect(await saveHop(hop({}, [...near, ...parts("far"), GATE]))).toMatchObject({ ok: true });
    expect(loadHop(db, "MW-901")!.near).toMatchObject({ entryHeightM: 3, couplerSplit: "equal" });
    const form = filled("MW-901");
    const EMPTIED = { entryHeightM: "", couplerSplit: "", targetLevelDbm: "", trayM: "" };
    const emptied = form.parts.map((p) => ({
      ...p,
      cells: Object.fromEntries(Object.entries({ ...p.cells }).map(([k, v]) => [k, k in EMPTIED ? "" : v])),
    }));
    const cells = { ...form.cells, promisedOn: "" };
    expect(await saveHop({ ...form, cells, parts: emptied as typeof form.parts })).toMatchObject({
      ok: true,
      value: { fate: "changed" },
    });
    const after = loadHop(db, "MW-901")!;
    expect(after.promisedOn).toBeUndefined();
    expect(after.near.entryHeightM).toBeUndefined();
    expect(after.near.couplerSplit).toBeUndefined();
    expect(after.near.odus[0]!.targetLevelDbm ?? null).toBeNull();
    expect(after.near.odus[0]!.route.map((r) => r.kind)).toEqual(["vertical", "bridge"]);
    expect(after.gates).toHaveLength(1);
  });

  test("loses the antenna, radio and gate that are taken out, and the log names them", async () => {
    const second = parts("near", { antenna: { label: "A2" }, radio: { label: "R2", antennaLabel: "A2" } });
    const rows = [...parts("near"), ...second.slice(1).map((p) => ({ ...p, at: `${p.at}.2` }))];
    expect(await saveHop(hop({}, [...rows, ...parts("far"), GATE]))).toMatchObject({ ok: true });
    const form = filled("MW-901");
    const isSecond = (p: { cells: Record<string, string>; kind: string }) =>
      p.kind === "gates" || (p.cells.side === "near" && ["A2", "R2"].includes(p.cells.label ?? ""));
    const out = form.parts.filter(isSecond) as never[];
    const left = form.parts.filter((p) => !isSecond(p));
    expect(out).toHaveLength(3);
    expect(await saveHop({ ...form, parts: left, out })).toMatchObject({
      ok: true,
      value: { code: "MW-901", fate: "changed" },
    });
    const after = loadHop(db, "MW-901")!;
    expect(after.near.antennas.map((a) => a.label)).toEqual(["A1"]);
    expect(after.near.odus.map((o) => o.label)).toEqual(["R1"]);
    expect(after.far.odus).toHaveLength(1);
    expect(after.gates).toEqual([]);
    expect(loadLog(db, 1, "hop MW-901")[0]).toMatchObject({
      detail: {
        changes: [
          "Antennas MW-901/near/A2, taken out",
          "Radios MW-901/near/R2, taken out",
          "Gates MW-901//supply, taken out",
        ],
      },
    });
    // Nothing is taken out twice, and nothing by a form that is out of date.
    expect(faults(await saveHop({ ...form, parts: left, out }))).toEqual([": changed-meanwhile"]);
  });

  test("keeps an antenna that a radio feeds, and a radio that hangs there by the books", async () => {
    expect(await saveHop(hop())).toMatchObject({ ok: true });
    const form = filled("MW-901");
    const split = (kind: string) => {
      const isIt = (p: { kind: string; cells: Record<string, string> }) =>
        p.kind === kind && p.cells.side === "near";
      return { parts: form.parts.filter((p) => !isIt(p)), out: form.parts.filter(isIt) as never[] };
    };
    const fed = await saveHop({ ...form, ...split("antennas") });
    const radioAt = form.parts.find((p) => p.kind === ("radios" as string) && p.cells.side === "near")!.at;
    expect(faults(fed)).toEqual([`${radioAt}.antennaLabel: refers-to-taken-out`]);
    expect(fault(fed, `${radioAt}.antennaLabel`).message).toBe('Antenna "A1" is taken out in this form.');
    const [anItem] = DEFAULT_CATALOGUE;
    saveItem(db, anItem!);
    const hung = {
      hopCode: "MW-901",
      side: "near",
      oduLabel: "R1",
      hungOn: calendarDate("2026-03-01"),
    } as const;
    db.insert(hungUnit)
      .values({
        ...hung,
        key: "hung-1",
        serial: "SN-1",
        itemCode: anItem!.code,
        recordedBy: "T",
        recordedAt: 0,
      })
      .run();
    expect(faults(await saveHop({ ...form, ...split("radios") }))).toEqual([`${radioAt}.label: radio-hangs`]);
    expect(loadHop(db, "MW-901")!.near).toMatchObject({ antennas: [{}], odus: [{}] });
  });

  test("is not overwritten when a gate of it was changed since the form was opened", async () => {
    const form = filled(made.own);
    const [gate] = loadHop(db, made.own)!.gates;
    saveGate(db, { ...gate!, state: "dated", dueOn: "2027-05-05" as never });
    expect(faults(await saveHop(form))).toEqual([": changed-meanwhile"]);
    expect(loadHop(db, made.own)!.gates[0]).toMatchObject({ dueOn: "2027-05-05" });
  });

  test("sent twice with one key is stored once, and a code that exists is told", async () => {
    const first = await saveHop(hop(), "key-2");
    expect(await saveHop(hop(), "key-2")).toEqual(first);
    expect(loadLog(db, 5, "hop MW-901")).toHaveLength(1);
    expect(faults(await saveHop(hop(), "key-3"))).toEqual(["hop.code: hop-exists"]);
  });
});

test("who may not bring in files may enter nothing by hand either: a crew, an account of some regions", async () => {
  for (const visitor of [visitorAs("crew lead"), visitorAs("manager", { regions: [made.region] })]) {
    here.visitor = visitor;
    const rule = visitor.role === "crew lead" ? "role" : "region";
    expect(faults(await saveSite(site({ ...ROOF, region: made.region })))).toEqual([`: ${rule}`]);
    expect(faults(await saveHop(hop()))).toEqual([`: ${rule}`]);
    expect(faults(await saveHop(filled(made.own)))).toEqual([`: ${rule}`]);
  }
  here.visitor = visitorAs("logistics");
  expect(await saveSite(site(ROOF))).toMatchObject({ ok: true });
});

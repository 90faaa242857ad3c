import { describe, expect, it } from "vitest";
import { readList, showList } from "@/lib/exchange/lists";

const value = (form: Parameters<typeof readList>[0], text: string) => {
  const list = readList(form, text);
  return list.ok ? list.value : list;
};

describe("weekdays", () => {
  it.each([
    ["Mon-Fri", [1, 2, 3, 4, 5]],
    ["Mon; Wed; Fri", [1, 3, 5]],
    ["monday, sunday", [1, 7]],
    ["1;2;3", [1, 2, 3]],
    ["Sat-Mon", [1, 6, 7]],
  ])("reads %j", (text, days) => {
    expect(value("weekdays", text)).toEqual(days);
  });

  it("names the part that is no day", () => {
    expect(readList("weekdays", "Mon; Someday")).toMatchObject({ ok: false, part: "Someday" });
    expect(readList("weekdays", "8")).toMatchObject({ ok: false, part: "8" });
  });
});

describe("polarisations", () => {
  it.each(["V; H", "H/V", "VH", "dual", "vertical, horizontal", "V+H"])("reads %j as both", (text) => {
    expect(value("polarisations", text)).toEqual(["V", "H"]);
  });
  it("reads one, and refuses another letter", () => {
    expect(value("polarisations", "h")).toEqual(["H"]);
    expect(readList("polarisations", "V; X")).toMatchObject({ ok: false, part: "x" });
  });
});

describe("skills", () => {
  it("reads the last day of each certificate and gives them in one order", () => {
    const skills = value("skills", "ground; climber until 2027-09-30; Rescue 2027-02-28");
    expect(skills).toEqual([
      { skill: "climber", validUntil: "2027-09-30" },
      { skill: "rescue", validUntil: "2027-02-28" },
      { skill: "ground" },
    ]);
    expect(showList("skills", skills as unknown[])).toBe(
      "climber until 2027-09-30; rescue until 2027-02-28; ground",
    );
  });
  it("refuses an unknown skill and a date that does not exist", () => {
    expect(readList("skills", "climber; pilot")).toMatchObject({ ok: false, part: "pilot" });
    expect(readList("skills", "climber 2027-02-30")).toMatchObject({ ok: false, part: "climber 2027-02-30" });
  });
});

describe("leave", () => {
  it("reads days and spans with reasons", () => {
    const leave = value(
      "leave",
      "2027-02-05; 2026-12-24 to 2027-01-02 family holiday; 2027-03-01..2027-03-02",
    );
    expect(leave).toEqual([
      { fromOn: "2026-12-24", toOn: "2027-01-02", reason: "family holiday" },
      { fromOn: "2027-02-05", toOn: "2027-02-05", reason: "" },
      { fromOn: "2027-03-01", toOn: "2027-03-02", reason: "" },
    ]);
    expect(value("leave", showList("leave", leave as unknown[]))).toEqual(leave);
  });
  it("refuses a span that ends before it begins", () => {
    expect(readList("leave", "2027-01-02 to 2026-12-24")).toMatchObject({ ok: false });
  });
});

describe("route", () => {
  it("reads kinds, metres and bends", () => {
    expect(value("route", "vertical 42 bend; bridge 6; Indoor 8.5 m")).toEqual([
      { kind: "vertical", lengthM: 42, bendAtEnd: true },
      { kind: "bridge", lengthM: 6, bendAtEnd: false },
      { kind: "indoor", lengthM: 8.5, bendAtEnd: false },
    ]);
  });
  it.each(["sideways 4", "vertical", "vertical -3", "vertical 0", "vertical 4,5"])("refuses %j", (text) => {
    expect(readList("route", text)).toMatchObject({ ok: false, part: text });
  });
});

describe("minutes by task", () => {
  it("reads parts of the norms, their names on screens, and any order", () => {
    expect(value("task minutes", "weatherproof 40 min; Connect: 35; fix-cable 62.5")).toEqual([
      { part: "fix-cable", workedMin: 62.5 },
      { part: "connect", workedMin: 35 },
      { part: "weatherproof", workedMin: 40 },
    ]);
    expect(value("task minutes", "Kit up, climb, rest between climbs and climb down 35")).toEqual([
      { part: "climb", workedMin: 35 },
    ]);
  });

  it("names the part that is no task, stands twice or has no minutes", () => {
    expect(readList("task minutes", "fix-cable 10; juggle 5")).toMatchObject({ ok: false, part: "juggle 5" });
    expect(readList("task minutes", "idu 10; idu 5")).toMatchObject({ ok: false, part: "idu 5" });
    expect(readList("task minutes", "idu 0")).toMatchObject({ ok: false, part: "idu 0" });
    expect(readList("task minutes", "idu")).toMatchObject({ ok: false, part: "idu" });
  });

  it("is written so that it reads back", () => {
    const list = value("task minutes", "idu 10; climb 5") as readonly unknown[];
    expect(value("task minutes", showList("task minutes", list))).toEqual(list);
  });
});

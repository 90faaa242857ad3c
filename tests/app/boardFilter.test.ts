import { describe, expect, it } from "vitest";
import { visitsBetween } from "@/app/_ui/board/geometry";
import type { BoardVisit } from "@/app/_ui/PlanBoard";
import { countsOf, isBoardFilter, withFaint } from "@/app/(work)/plan/boardFilter";
import { viewHref, viewQuery } from "@/app/(work)/views/viewQuery";

const visit = (id: string, over: Partial<BoardVisit> = {}): BoardVisit => ({
  id,
  crewId: "C1",
  kind: "install",
  hopCode: "H1",
  siteCode: "S1",
  startDay: 0,
  startMin: 480,
  endDay: 0,
  endMin: 900,
  ...over,
});

describe("the board's filter", () => {
  const visits = [visit("a", { isLate: true }), visit("b"), visit("c", { crewId: null, isLate: true })];
  it("leaves visits on the board and marks those that do not pass", () => {
    expect(withFaint(visits, "late").map((v) => v.isFaint ?? false)).toEqual([false, true, false]);
    expect(withFaint(visits, undefined)).toBe(visits);
  });
  it("counts what has a place", () => {
    expect(countsOf(visits).find((c) => c.key === "late")?.count).toBe(1);
    expect(
      countsOf([visit("d", { isBeforeGate: true }), visit("e")]).find((c) => c.key === "gate")?.count,
    ).toBe(1);
    expect(countsOf(visits).find((c) => c.key === "install")?.count).toBe(2);
  });
  it("takes no other words from the address", () => {
    expect(isBoardFilter("late")).toBe(true);
    expect(isBoardFilter("toString")).toBe(false);
    expect(isBoardFilter(undefined)).toBe(false);
  });
});

describe("visitsBetween", () => {
  const visits = [
    visit("a"),
    visit("b", { startDay: 2 }),
    visit("c", { crewId: "C2", startDay: 1 }),
    visit("d", { crewId: "C3", startDay: 1 }),
    visit("e", { crewId: "C2", startDay: 5 }),
    visit("f", { crewId: null }),
  ];
  const crews = ["C1", "C2", "C3"];
  it("is a rectangle over crews and days, from either corner", () => {
    expect(visitsBetween(visits, crews, visits[0]!, visits[2]!)).toEqual(["a", "c"]);
    expect(visitsBetween(visits, crews, visits[2]!, visits[1]!)).toEqual(["b", "c"]);
    expect(visitsBetween(visits, crews, visits[0]!, visits[4]!)).toEqual(["a", "b", "c", "e"]);
  });
  it("takes only the two where one has no place", () => {
    expect(visitsBetween(visits, crews, visits[0]!, visits[5]!)).toEqual(["a", "f"]);
  });
});

describe("a list's view in the address", () => {
  it("is one text however the address is ordered, without what is merely open", () => {
    expect(viewQuery("?zoom=week&visit=H1&f.a=2&f.a=1&plan=3")).toBe("f.a=1&f.a=2&zoom=week");
    expect(viewQuery("f.a=1&zoom=week&f.a=2&q=")).toBe("f.a=1&f.a=2&zoom=week");
    expect(viewQuery("")).toBe("");
  });
  it("leads to its list", () => {
    expect(viewHref("hops", "tab=hops")).toBe("/sites?tab=hops");
    expect(viewHref("kits", "")).toBe("/kits");
  });
});

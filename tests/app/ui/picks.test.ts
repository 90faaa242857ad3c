import { describe, expect, it } from "vitest";
import { pickedWith } from "@/app/_ui/board/picks";
import type { BoardVisit } from "@/app/_ui/board/types";

const visit = (id: string, crewId: string, startDay: number): BoardVisit => ({
  id,
  crewId,
  kind: "install",
  hopCode: "KRA-012",
  siteCode: "S-104",
  startDay,
  startMin: 450,
  endDay: startDay,
  endMin: 960,
});
const scene = {
  visits: [visit("a", "c1", 1), visit("b", "c1", 2), visit("c", "c1", 3), visit("d", "c2", 2)],
  crewIds: ["c1", "c2"],
  picked: new Set<string>(),
};

describe("visits picked to be changed together", () => {
  it("are only those pressed, where a press alone picks: what one looks at does not move along", () => {
    expect(pickedWith({ ...scene, shownId: "a" }, "d", "press")).toEqual(new Set(["d"]));
    const one = { ...scene, shownId: "a", picked: new Set(["d"]) };
    expect(pickedWith(one, "b", "press")).toEqual(new Set(["d", "b"]));
    expect(pickedWith(one, "d", "press")).toEqual(new Set());
  });
  it("begin with the one that one looks at, where a key is held down", () => {
    expect(pickedWith({ ...scene, shownId: "a" }, "d", "toggle")).toEqual(new Set(["a", "d"]));
    expect(pickedWith({ ...scene, shownId: "a" }, "c", "range")).toEqual(new Set(["a", "b", "c"]));
    expect(pickedWith({ ...scene, shownId: "d", anchorId: "a" }, "b", "range")).toEqual(
      new Set(["d", "a", "b"]),
    );
  });
});

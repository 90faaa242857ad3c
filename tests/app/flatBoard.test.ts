/** The board crosses to the browser as text and comes out as it went in. */
import { describe, expect, it } from "vitest";
import type { BoardCrew, BoardVisit } from "@/app/_ui/PlanBoard";
import { packRows } from "@/app/_ui/packRows";
import { crewsFromJson, crewsToJson, flatVisit, visitsFromJson } from "@/app/(work)/plan/flatBoard";

const visits: BoardVisit[] = [
  {
    id: "H1/near/install",
    crewId: "C1",
    kind: "install",
    part: undefined,
    hopCode: "H1",
    siteCode: "S1",
    startDay: 3,
    startMin: 480,
    endDay: 4,
    endMin: 700,
    weather: { state: "tight", text: "3 of 5 h, gust" },
    kit: { state: "short", text: "2 lines" },
    report: { state: "hold", text: "gate locked" },
    crewShort: "the crew is 1 climber short from Tue 17 Mar",
    isPinned: true,
    isLate: false,
    isBeforeGate: true,
    togetherId: undefined,
    rule: undefined,
    detail: undefined,
  },
  {
    id: "H1/near/alignment-2",
    crewId: null,
    kind: "alignment",
    part: 2,
    hopCode: "H1",
    siteCode: "S1",
    startDay: 0,
    startMin: 0,
    endDay: 0,
    endMin: 0,
    weather: undefined,
    kit: undefined,
    report: undefined,
    isPinned: false,
    isLate: true,
    isBeforeGate: false,
    togetherId: "H1/far/alignment-2",
    rule: "gate",
    detail: "licence open",
  },
];

describe("the board as text", () => {
  it("gives visits back whole", () => {
    expect(visitsFromJson(JSON.stringify(packRows(visits.map(flatVisit))))).toEqual(visits);
    expect(visitsFromJson(JSON.stringify(packRows([])))).toEqual([]);
  });

  it("gives crews back with each day and its reason", () => {
    const off = { works: false, why: "no shift" };
    const crews: BoardCrew[] = [
      {
        id: "C1",
        code: "C1 Ridge",
        note: "3 people",
        days: [{ works: true }, off, { works: true, why: "1 of 3 away" }],
      },
      { id: "C2", code: "C2 Coast", note: "2 people", days: [off, off, { works: true }] },
    ];
    expect(crewsFromJson(crewsToJson(crews))).toEqual(crews);
  });
});

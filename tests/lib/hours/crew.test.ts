import { describe, expect, it } from "vitest";
import { type CrewComposition, composeTasks, crewNeeds, DEFAULT_NORMS } from "@/lib/hours";
import { completeCrew, matchPeople } from "../../../lib/hours/crew";
import { partiesOf } from "../../../lib/hours/parties";
import { CREW_OF_FOUR, endWork } from "./work";

const byHand = composeTasks(endWork(), DEFAULT_NORMS);
const byWinch = composeTasks(endWork({ largestDiameterM: 1.8, heaviestLiftKg: 90 }), DEFAULT_NORMS);

describe("crewNeeds", () => {
  it("asks for two climbers, a rescuer, a technician and three people to hoist by hand", () => {
    expect(crewNeeds(byHand)).toEqual({ climbers: 2, rescuers: 1, riggers: 0, technicians: 1, people: 3 });
  });

  it("asks for a rigger and a fourth person for the winch", () => {
    expect(crewNeeds(byWinch)).toEqual({ climbers: 2, rescuers: 1, riggers: 1, technicians: 1, people: 4 });
  });

  it("asks for nobody who climbs when nothing is aloft", () => {
    const indoor = byHand.filter((t) => t.where === "indoor");
    expect(crewNeeds(indoor)).toEqual({ climbers: 0, rescuers: 0, riggers: 0, technicians: 1, people: 1 });
  });
});

describe("completeCrew", () => {
  it("leaves a sufficient crew as it is", () => {
    expect(completeCrew(CREW_OF_FOUR, byWinch, DEFAULT_NORMS)).toEqual({ crew: CREW_OF_FOUR, shortfall: [] });
  });

  it("borrows what is missing, and counts a missing rescuer without adding hands", () => {
    const crew: CrewComposition = { people: [["climber"], ["ground", "technician"]] };
    const whole = completeCrew(crew, byHand, DEFAULT_NORMS);
    expect(whole.crew.people).toHaveLength(3);
    expect(whole.shortfall).toEqual([
      { skill: "climber", missing: 1 },
      { skill: "rescue", missing: 1 },
    ]);
  });

  it("wants a ground hand who stays down, not one who climbs", () => {
    const crew: CrewComposition = {
      people: [
        ["climber", "rescue", "ground"],
        ["climber", "ground", "technician"],
      ],
    };
    expect(completeCrew(crew, byHand, DEFAULT_NORMS).shortfall).toEqual([{ skill: "ground", missing: 1 }]);
  });
});

describe("matchPeople", () => {
  const people: CrewComposition["people"] = [["climber", "ground"], ["ground"], ["climber"]];
  it("finds distinct people even when the first choice has to move", () => {
    expect(matchPeople(["climber", "climber", "ground"], [0, 1, 2], people)).toEqual([0, 1, 2]);
  });
  it("finds none when one person would have to be two", () => {
    expect(matchPeople(["climber", "climber", "climber"], [0, 1, 2], people)).toBeNull();
    expect(matchPeople(["ground", "ground"], [0, 2], people)).toBeNull();
  });
});

describe("partiesOf", () => {
  it("sends up those who leave most skills on the ground, and no worse choice", () => {
    const crew: CrewComposition = {
      people: [
        ["climber", "ground", "technician"],
        ["climber"],
        ["climber"],
        ["ground"],
        ["ground", "technician"],
      ],
    };
    const parties = partiesOf(byHand, crew, 2);
    expect(parties[0]).toEqual([1, 2]);
    expect(parties.filter((p) => p.length === 2)).toHaveLength(1);
  });

  it("never leaves a lift without its hand on the ground", () => {
    const crew: CrewComposition = {
      people: [
        ["climber", "ground"],
        ["climber", "ground"],
        ["climber", "ground"],
      ],
    };
    expect(partiesOf(byHand, crew, 2).every((p) => p.length === 2)).toBe(true);
  });
});

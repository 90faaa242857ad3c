import { describe, expect, it } from "vitest";
import type { CrewComposition, EndTask } from "@/lib/hours";
import { endModel, peopleOf, pickPeople } from "../../../lib/hours/endModel";
import { Staffing } from "../../../lib/hours/staffing";
import { ForwardWalker } from "../../../lib/hours/walkForward";

function task(id: string, minutes: number, changes: Partial<EndTask> = {}): EndTask {
  return {
    id,
    name: id,
    where: "ground",
    workClass: "ground",
    people: { ground: 1 },
    duration: { aMin: minutes, mMin: minutes, bMin: minutes },
    after: [],
    splittable: false,
    usesDropZone: false,
    source: "made up for the test",
    ...changes,
  };
}

const crew: CrewComposition = {
  people: [
    ["rigger", "ground"],
    ["technician", "ground"],
  ],
};
const tasks = [
  task("rigging", 4, { people: { rigger: 1 } }),
  task("idu", 4, { people: { technician: 1 }, after: ["rigging"] }),
  task("connector", 8),
  task("later", 2, { after: ["idu", "connector"] }),
];
const minutes = [4, 4, 8, 2];
const model = endModel(tasks, minutes, crew, 180);

describe("Staffing", () => {
  it("names people when one can stay for the whole of each task", () => {
    const staffing = new Staffing(model, 0, 0);
    expect(staffing.find([0, 4, 8, 16])).toBe("found");
    expect(peopleOf(staffing.people[0]!, model)).toEqual([0]);
    expect(peopleOf(staffing.people[1]!, model)).toEqual([1]);
  });

  it("blames only the tasks that cannot be staffed together, for minutes that they cover", () => {
    const staffing = new Staffing(model, 0, 0);
    const starts = [0, 4, 0, 8];
    expect(staffing.find(starts)).toBe("impossible");
    const bounds = staffing.blame()!;
    const blamed = new Set(bounds.filter((_, k) => k % 2 === 0).map((x) => x >> 1));
    expect([...blamed].sort()).toEqual([0, 1, 2]);
    for (let k = 0; k < bounds.length; k += 2) {
      const i = bounds[k]! >> 1;
      const now = bounds[k]! % 2 === 0 ? starts[i]! : -starts[i]!;
      expect(now, "every bound holds for the refused starts").toBeGreaterThanOrEqual(bounds[k + 1]!);
    }
  });
});

describe("pickPeople", () => {
  it("takes distinct people, the fewest skills first, and says when there are none", () => {
    expect(pickPeople([0b11, 0b01], 0b11)).toBe(0b11);
    expect(pickPeople([0b110], 0b111)).toBe(0b010);
    expect(pickPeople([0b01, 0b01], 0b11)).toBe(-1);
    expect(pickPeople([], 0b11)).toBe(0);
  });
});

describe("ForwardWalker", () => {
  const walker = new ForwardWalker(model, 0, 0);

  it("starts what can start, in the order given, and reuses its arrays", () => {
    const first = walker.walk([0, 1, 2, 3]);
    expect([...first.startsMin]).toEqual([0, 4, 0, 8].map((_, i) => first.startsMin[i]!));
    expect(first.makespanMin).toBe(Math.max(...tasks.map((_, i) => first.startsMin[i]! + minutes[i]!)));
    const again = walker.walk([2, 0, 1, 3]);
    expect(again.startsMin).toBe(first.startsMin);
  });

  it("holds a task back as long as it is told to", () => {
    expect(walker.walk([0, 1, 2, 3], [0, 0, 30, 0]).startsMin[2]).toBe(30);
  });

  it("throws when nobody is there for a task", () => {
    const lonely = endModel([task("winch", 5, { people: { climber: 1 } })], [5], crew, 180);
    expect(() => new ForwardWalker(lonely, 0, 0).walk([0])).toThrow(/winch/);
  });
});

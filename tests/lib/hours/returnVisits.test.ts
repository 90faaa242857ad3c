import { expect, test } from "vitest";
import { ACCEPTANCE_PARTS, composeTasks, DEFAULT_NORMS, estimateHours, REMEDY_PARTS } from "@/lib/hours";
import { endWork } from "@/lib/programme";
import { takeOff } from "@/lib/takeoff";
import { makeHop, makeTakeoffContext } from "../../helpers/hop";

const ALL_SKILLS = ["climber", "rescue", "ground", "rigger", "technician"] as const;
const crewOf = (people: number) => ({ people: Array.from({ length: people }, () => ALL_SKILLS) });
const context = makeTakeoffContext();
const hop = makeHop({ scheme: "1+1 hot standby" });
const install = endWork(hop, hop.near, context.sites.get("SITE-A")!, takeOff(hop, context).near);
const composed = (onlyParts: readonly string[]) => composeTasks({ ...install, onlyParts }, DEFAULT_NORMS);

test("a return visit does its parts, signs in and out, and reads before it cleans up", () => {
  for (const parts of [ACCEPTANCE_PARTS, ...Object.values(REMEDY_PARTS)]) {
    const tasks = composed(parts);
    const ids = tasks.map((t) => t.id);
    expect(ids[0]).toBe("induction");
    expect(ids).toContain("acceptance");
    expect(tasks.find((t) => t.id === "clean-up")!.after).toContain("acceptance");
    for (const t of tasks) for (const before of t.after) expect(ids).toContain(before);
    // Nothing beyond the parts asked for and the way up and down.
    const extra = tasks.filter((t) => !t.moves && !parts.includes(t.id.replace(/[-~]\d.*$/, "")));
    expect(extra.map((t) => t.id)).toEqual([]);
  }
});

test("who only reads stays down, who mends connections climbs and keeps one dry spell for each", () => {
  expect(composed(ACCEPTANCE_PARTS).some((t) => t.moves === "climb")).toBe(false);
  const again = composed(REMEDY_PARTS.connections);
  expect(again.filter((t) => t.moves).map((t) => t.id)).toEqual(["climb-1", "descent-1"]);
  const spells = again.filter((t) => t.spell).map((t) => [t.id, t.spell]);
  expect(spells).toEqual([
    ["connect-1", "connection-1"],
    ["weatherproof-1", "connection-1"],
    ["connect-2", "connection-2"],
    ["weatherproof-2", "connection-2"],
  ]);
});

test("every remedy has hours for crews of any size, shorter than the install", () => {
  for (const people of [1, 2, 3, 4, 6]) {
    const whole = estimateHours(install, DEFAULT_NORMS, crewOf(people)).durationMin;
    for (const onlyParts of Object.values(REMEDY_PARTS)) {
      const e = estimateHours({ ...install, onlyParts }, DEFAULT_NORMS, crewOf(people));
      expect(e.durationMin).toBeGreaterThan(0);
      expect(e.durationMin).toBeLessThan(whole);
    }
  }
});

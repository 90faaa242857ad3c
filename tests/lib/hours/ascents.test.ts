import { describe, expect, it } from "vitest";
import { composeTasks, DEFAULT_NORMS, type EndTask } from "@/lib/hours";
import { composeParts } from "../../../lib/hours/compose";
import { pertMeanMin } from "../../../lib/hours/pert";
import { endWork, standbyWork } from "./work";

const high = standbyWork({ drivers: { maxMountHeightM: 90, outdoorM: 190, tieCount: 220 } });
const tasks = composeTasks(high, DEFAULT_NORMS, 0.8);
const byId = new Map(tasks.map((t) => [t.id, t]));

/** Does `before` come before the task, directly or not? */
function follows(task: EndTask, before: string): boolean {
  return task.after.some((id) => id === before || follows(byId.get(id)!, before));
}

describe("ascents", () => {
  it("put every task aloft between its climb and its descent", () => {
    for (const t of tasks) {
      if (t.where !== "aloft" || t.moves) continue;
      expect(follows(t, `climb-${t.ascent}`), t.id).toBe(true);
      expect(follows(byId.get(`descent-${t.ascent}`)!, t.id), t.id).toBe(true);
    }
  });

  it("have a rest and a new kit-up between them", () => {
    const climbs = tasks.filter((t) => t.moves === "climb");
    expect(climbs.length).toBeGreaterThan(2);
    for (let k = 2; k <= climbs.length; k++) {
      expect(byId.get(`climb-${k}`)!.after).toContain(`rest-${k - 1}`);
      expect(byId.get(`rest-${k - 1}`)!.after).toEqual([`descent-${k - 1}`]);
    }
  });

  it("cut a splittable task into pieces that add up to it, one after the other", () => {
    const pieces = tasks.filter((t) => t.id.includes("~"));
    expect(pieces.length).toBeGreaterThan(1);
    const whole = new Map(composeParts(high, DEFAULT_NORMS).map((t) => [t.id, t]));
    for (const id of new Set(pieces.map((p) => p.id.split("~")[0]!))) {
      const own = pieces.filter((p) => p.id.startsWith(`${id}~`));
      const sum = own.reduce((s, p) => s + pertMeanMin(p.duration), 0);
      expect(sum).toBeCloseTo(pertMeanMin(whole.get(id)!.duration), 6);
      for (let k = 1; k < own.length; k++) expect(own[k]!.after).toContain(own[k - 1]!.id);
    }
  });

  it("never cut a task that may not be split", () => {
    for (const t of tasks) if (t.id.includes("~")) expect(t.splittable).toBe(true);
  });

  it("are more when less of the spell is planned into each", () => {
    const count = (share: number): number =>
      composeTasks(high, DEFAULT_NORMS, share).filter((t) => t.moves === "climb").length;
    expect(count(0.5)).toBeGreaterThan(count(1));
  });

  it("are none where nothing is aloft", () => {
    const onGround = {
      ...DEFAULT_NORMS,
      templates: DEFAULT_NORMS.templates.filter((t) => t.where !== "aloft"),
    };
    expect(composeTasks(endWork(), onGround).some((t) => t.moves)).toBe(false);
  });
});

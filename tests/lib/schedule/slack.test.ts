/** What the slack of a day rules out, a walk would have refused too. */
import { describe, expect, test } from "vitest";
import type { ScheduleProblem } from "@/lib/schedule";
import { PlanEdit } from "@/lib/schedule/edit";
import { detour, passing } from "@/lib/schedule/insert/detour";
import { lastAwaited, mayStart, waitsFor } from "@/lib/schedule/insert/range";
import { Slack } from "@/lib/schedule/insert/slack";
import { buildModel } from "@/lib/schedule/model";
import { paceOf } from "@/lib/schedule/pace";
import { PlanState } from "@/lib/schedule/plan";
import { warmStart } from "@/lib/schedule/replan";
import { DEMO_SIZE, syntheticProgramme } from "@/seed/syntheticProgramme";
import { solved } from "./plans";
import { alignment, crew, tiny, visit } from "./tiny";

function planned(problem: ScheduleProblem, maxIterations: number): PlanEdit {
  const built = buildModel(problem);
  if (!built.ok) throw new Error(JSON.stringify(built.problems));
  const edit = new PlanEdit(built.value, new PlanState(built.value));
  edit.start();
  warmStart(edit, solved(problem, maxIterations).placed);
  return edit;
}

describe("the slack of a day", () => {
  test("is what is left until the crew must be home, or until joint work behind", () => {
    // 07:00 to 17:00 and an hour of overtime; both ends 60 min out, 20 min of set-up.
    const visits = alignment(0, 1, 2);
    const edit = planned(tiny({ road: [0, 60, 60], crews: [crew(), crew({ code: "C2" })], visits }), 20);
    const { model: m, state: s } = edit;
    const slack = new Slack(m, s);
    slack.look(s.crewOf[0]!, s.startDay[0]! * m.crewCount + s.crewOf[0]!);
    // 08:20 to 09:20, home 10:20, at the latest 18:00; both are set up in the very minute in which they start.
    expect(s.startMin[0]).toBe(500);
    expect(slack.before(-1)).toBe(1080 - 620);
    expect(slack.before(0)).toBe(0);
  });

  test("of an empty day is all of it", () => {
    const edit = planned(tiny({ visits: [visit()] }), 5);
    const { model: m, state: s } = edit;
    const slack = new Slack(m, s);
    slack.look(0, 4 * m.crewCount);
    expect(slack.before(-1)).toBe(660);
  });

  test.each([1, 0.3])("never rules out a place that holds the visit (work x %d)", (workShare) => {
    let held = 0;
    let ruledOut = 0;
    for (const seed of ["a", "b", "c"]) {
      const edit = planned(syntheticProgramme({ ...DEMO_SIZE, seed, hops: 25, weeks: 6, workShare }), 150);
      const { model: m, state: s } = edit;
      const slack = new Slack(m, s);
      for (let v = 0; v < m.visitCount; v += 3) {
        if (m.partner[v]! >= 0 || s.crewOf[v]! < 0 || m.canPause[v] === 0) continue;
        const mark = s.mark();
        edit.remove(v);
        edit.aim(v);
        for (let day = m.earliestDay[v]!; day < m.dayCount; day++)
          for (let c = 0; c < m.crewCount; c++) {
            const at = day * m.crewCount + c;
            if (!mayStart(m, v, at, day, m.crewCount * m.dayCount)) continue;
            slack.look(c, at);
            const work = m.workMin[v]! * paceOf(m, c, v) * m.stretch[v]![day]!;
            for (let after = lastAwaited(m, s, v, at); ; ) {
              const follower = after < 0 ? s.head[at]! : s.next[after]!;
              detour(m, s, v, c, at, after);
              const fits = follower < 0 || work + passing.busyMin <= slack.before(follower);
              const holds = edit.trial(v, c, day, after, -1, -1) < Number.POSITIVE_INFINITY;
              if (holds) {
                expect(fits, `visit ${v}, crew ${c}, day ${day}, before ${follower}`).toBe(true);
                held++;
              } else if (!fits) ruledOut++;
              if (follower < 0 || waitsFor(m, follower, v)) break;
              after = follower;
            }
          }
        s.undoTo(mark);
      }
    }
    expect(held).toBeGreaterThan(100);
    expect(ruledOut).toBeGreaterThan(100);
  });
});

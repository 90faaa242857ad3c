import { describe, expect, test } from "vitest";
import { solved } from "./plans";
import { alignment, crew, FULL_DAY, step, tiny, visit, window } from "./tiny";

const twoCrews = [crew({ code: "C1" }), crew({ code: "C2" })];
const needsTechnician = { climbers: 0, rescuers: 0, riggers: 0, technicians: 1, people: 1 };

describe("explainUnplaced", () => {
  test("people: who is missing, where one more would do", () => {
    const days = Array(5).fill({ ...FULL_DAY, technicians: 0 });
    const plan = solved(tiny({ crews: [crew({ days })], visits: [visit({ needs: needsTechnician })] }));
    expect(plan.unplaced).toEqual([
      {
        visit: 0,
        rule: "people",
        detail:
          "the crew is 1 technician short (5 of 5 crew-days); 1 technician more on 2026-03-02 with C1 would place it",
      },
    ]);
  });

  test("kit: the day on which it would be needed", () => {
    const plan = solved(tiny({ visits: [visit({ kitReadyDay: 8 })] }));
    expect(plan.unplaced[0]).toMatchObject({ rule: "kit" });
    expect(plan.unplaced[0]!.detail).toContain("the kit whole on 2026-03-02 with C1 would place it");
  });

  test("gate: a release after the plan's days", () => {
    const plan = solved(tiny({ visits: [visit({ releaseDay: 8 })] }));
    expect(plan.unplaced[0]).toMatchObject({ rule: "gate" });
  });

  test("weather: no open hour for the first step", () => {
    const plan = solved(tiny({ windows: [window(5, { open: () => 0 })], visits: [visit()] }));
    expect(plan.unplaced[0]!.rule).toBe("weather");
    expect(plan.unplaced[0]!.detail).toContain(
      "no hours are open long enough for aloft work (5 of 5 crew-days)",
    );
  });

  test("shift: how much overtime would be enough", () => {
    // 08:30 + 530 = 17:20, home 18:20: 80 min of overtime, 60 allowed.
    const plan = solved(tiny({ visits: [visit({ segments: [step(530, { splittable: false })] })] }));
    expect(plan.unplaced[0]!.rule).toBe("shift");
    expect(plan.unplaced[0]!.detail).toContain("1 h more overtime on 2026-03-02 with C1 would place it");
  });

  test("full days: one more crew day", () => {
    const day = { segments: [step(480, { splittable: false })] };
    const plan = solved(
      tiny({
        dayCount: 1,
        crews: [crew({ dayCount: 1 })],
        windows: [window(1)],
        visits: [visit(day), visit(day)],
      }),
    );
    expect(plan.unplaced).toHaveLength(1);
    expect(plan.unplaced[0]).toMatchObject({ rule: "shift" });
    expect(plan.unplaced[0]!.detail).toBe(
      "the crews' days are full of other work (1 of 1 crew-day); one more crew day would place it",
    );
  });

  test("alignment waits for the install that has no place", () => {
    const visits = [
      visit({ label: "near install" }),
      visit({ label: "far install", place: 2, kitReadyDay: 50 }),
      ...alignment(2, 1, 2, [0, 1]),
    ];
    const plan = solved(tiny({ road: [0, 30, 90], crews: twoCrews, visits }));
    expect(plan.unplaced.map((x) => [x.visit, x.rule])).toEqual([
      [1, "kit"],
      [2, "waits for far install"],
      [3, "waits for far install"],
    ]);
  });

  test("the other end of a blocked end carries its reason", () => {
    const [near, far] = alignment(0, 1, 2);
    const plan = solved(
      tiny({
        road: [0, 30, 90],
        crews: twoCrews,
        visits: [{ ...near!, blockedBy: "licence is open" }, far!],
      }),
    );
    expect(plan.unplaced.map((x) => x.detail)).toEqual([
      "licence is open",
      "alignment near: licence is open",
    ]);
  });
});

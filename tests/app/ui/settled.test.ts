import { expect, test } from "vitest";
import { settledOf } from "@/app/_ui/board/settled";

const at = (startDay: number, state?: "done" | "part done" | "hold", crewId: string | null = "C1") => ({
  crewId,
  startDay,
  report: state && { state, text: "" },
});
const DAYS = { frozenUntilDay: 5, todayDay: 3 };

test("done, begun and frozen visits are settled, each told by its own reason", () => {
  expect(settledOf(at(9, "done"), DAYS)).toBe("done");
  expect(settledOf(at(2, "done"), DAYS)).toBe("done");
  expect(settledOf(at(2, "part done"), DAYS)).toBe("begun");
  expect(settledOf(at(3), DAYS)).toBe("frozen");
  expect(settledOf(at(4), { frozenUntilDay: 5 })).toBe("frozen");
});

test("a visit to come, on hold or not, and one without a place may be moved", () => {
  expect(settledOf(at(5), DAYS)).toBeUndefined();
  expect(settledOf(at(5, "hold"), DAYS)).toBeUndefined();
  expect(settledOf(at(0, undefined, null), DAYS)).toBeUndefined();
});

import { expect, test } from "vitest";
import { wholeCatalogueOf } from "@/app/_ui/language/catalogue";
import { makeWords } from "@/app/_ui/language/words";
import { type HeldHop, heldWords } from "@/app/(work)/hops/heldWords";

const hop: HeldHop = {
  byPlan: "held",
  heldBy: "open gate: survey (Somebody), no date",
  openGates: 2,
  failCount: 4,
};

test("what holds a hop is said with how much more must be lifted", () => {
  const en = makeWords("en", wholeCatalogueOf("en"));
  expect(heldWords(hop, en)).toBe(
    "open gate: survey (Somebody), no date; also 1 open gate, 4 failed design checks",
  );
  expect(heldWords({ ...hop, openGates: 1, failCount: 1 }, en)).toBe(
    "open gate: survey (Somebody), no date; also 1 failed design check",
  );
  expect(heldWords({ ...hop, openGates: 1, failCount: 0 }, en)).toBe(hop.heldBy);
  expect(heldWords({ ...hop, heldBy: "design check: no bar.", openGates: 1, failCount: 1 }, en)).toBe(
    "design check: no bar; also 1 open gate",
  );
  // Not planned yet, and a new plan would not place it either.
  expect(heldWords({ byPlan: "not planned", heldBy: null, openGates: 0, failCount: 2 }, en)).toBe(
    "2 failed design checks",
  );
  expect(heldWords({ byPlan: "on promise", heldBy: null, openGates: 0, failCount: 2 }, en)).toBeNull();
  const de = makeWords("de", wholeCatalogueOf("de"));
  expect(heldWords({ ...hop, openGates: 1 }, de)).toContain("außerdem 4 verletzte Prüfungen");
});

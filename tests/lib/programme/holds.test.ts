import { expect, test } from "vitest";
import { furtherHolds, HELD_BY, hopProgress, isInstallDone, reasonNow, stillPlanned } from "@/lib/programme";
import type { Gate } from "@/lib/site";
import { calendarDate } from "@/lib/time";

const gate = (over: Partial<Gate> = {}): Gate => ({
  hopId: "H",
  kind: "survey",
  owner: "Somebody",
  state: "open",
  ...over,
});
const stopped = (visitId: string, unplacedDetail = "open gate: survey (Somebody), no date") => ({
  visitId,
  unplacedRule: "gate",
  unplacedDetail,
});

test("a visit is held by its gates as they are now, not as they were when the plan was made", () => {
  const visit = stopped("H/near/install");
  expect(reasonNow(visit, [gate()])).toBe("open gate: survey (Somebody), no date");
  expect(reasonNow(visit, [])).toBe(HELD_BY.gateDatedSince);
  expect(reasonNow(visit, [gate({ state: "dated", dueOn: calendarDate("2026-03-20") })])).toBe(
    HELD_BY.gateDatedSince,
  );
  // Another gate was opened since.
  expect(reasonNow(visit, [gate({ kind: "supply", owner: "grid company" })])).toBe(
    "open gate: supply (grid company), no date",
  );
});

test("an open gate of the other end holds what needs both ends, and not an install", () => {
  const far = [gate({ side: "far" })];
  expect(reasonNow(stopped("H/near/install"), far)).toBe(HELD_BY.gateDatedSince);
  expect(reasonNow(stopped("H/far/install"), far)).toContain("open gate: survey");
  expect(reasonNow(stopped("H/near/alignment"), far)).toContain("open gate: survey");
});

const byDesign = (visitId: string, unplacedRule: "design check" | "coordinate") => ({
  visitId,
  unplacedRule,
  unplacedDetail:
    unplacedRule === "coordinate"
      ? "site A has no coordinate: add latitude and longitude"
      : "design check: no earthing bar",
});

test("a visit is held by its design as it is now: mended, or failing another check", () => {
  const visit = byDesign("H/near/install", "design check");
  const sound = { withoutCoordinate: [] };
  expect(reasonNow(visit, [])).toBe(visit.unplacedDetail);
  expect(reasonNow(visit, [], { ...sound, stop: "design check: no earthing bar" })).toBe(
    visit.unplacedDetail,
  );
  expect(reasonNow(visit, [], { ...sound, stop: "design check: both halves low" })).toBe(
    "design check: both halves low",
  );
  expect(reasonNow(visit, [], sound)).toBe(HELD_BY.designMendedSince);
  // What stands behind the check is named once the check holds no more, as a new plan would.
  expect(reasonNow(visit, [gate()], sound)).toContain("open gate: survey");
});

test("a site that got its coordinate holds no more; one of the other end holds what needs both", () => {
  const far = { withoutCoordinate: [{ side: "far" as const, siteCode: "B" }] };
  expect(reasonNow(byDesign("H/near/install", "coordinate"), [], far)).toBe(HELD_BY.coordinateSince);
  expect(reasonNow(byDesign("H/near/alignment", "coordinate"), [], far)).toBe(
    "site B has no coordinate: add latitude and longitude",
  );
});

test("a hop whose design was mended is not planned rather than held, one that still fails is held", () => {
  const visits = [
    {
      ...byDesign("H/near/install", "design check"),
      hopCode: "H",
      startOn: null,
      endOn: null,
      riskMin: 0,
    },
  ];
  const [mended, failing] = [undefined, "design check: no earthing bar"].map(
    (stop) =>
      hopProgress(
        [{ code: "H", gates: [], acceptance: "with the alignment", design: { stop, withoutCoordinate: [] } }],
        visits,
        new Map(),
        calendarDate("2026-03-16"),
      )[0],
  );
  expect(mended).toMatchObject({ state: "not planned", heldBy: HELD_BY.designMendedSince });
  expect(failing).toMatchObject({ state: "held", heldBy: "design check: no earthing bar" });
});

test("what stops a visit besides an open gate stays as the plan says it", () => {
  const noPosition = {
    visitId: "H/near/install",
    unplacedRule: "coordinate",
    unplacedDetail: "site A has no coordinate: add latitude and longitude",
  };
  expect(reasonNow(noPosition, [gate()])).toBe(noPosition.unplacedDetail);
  // Its gate has a date, only one that lies behind the plan's last day.
  expect(reasonNow(stopped("H/near/install", "its gates open after the last day"), [])).toBe(
    "its gates open after the last day",
  );
});

test("a hop with an open gate and failed checks says how many more hold it, each counted once", () => {
  const hop = { byPlan: "held" as const, openGates: 1, failCount: 4 };
  expect(furtherHolds({ ...hop, heldBy: "open gate: survey (Somebody), no date" })).toEqual({
    gates: 0,
    checks: 4,
  });
  expect(furtherHolds({ ...hop, heldBy: "design check: no earthing bar" })).toEqual({ gates: 1, checks: 3 });
  expect(furtherHolds({ ...hop, heldBy: "put on hold by Rita: rain", failCount: null })).toEqual({
    gates: 1,
    checks: 0,
  });
  expect(furtherHolds({ ...hop, byPlan: "not planned", heldBy: undefined })).toEqual({ gates: 1, checks: 4 });
  expect(furtherHolds({ ...hop, byPlan: "on promise", heldBy: undefined })).toEqual({ gates: 0, checks: 0 });
});

test("visits with a place that nobody has done stay planned while the hop is held", () => {
  const day = calendarDate("2026-04-29");
  const visits = [
    { id: "done", startOn: day, doneOn: day },
    { id: "placed", startOn: day, doneOn: null },
    { id: "stopped", startOn: null, doneOn: null },
  ];
  expect(stillPlanned(visits).map((v) => v.id)).toEqual(["placed"]);
});

test("an end whose install is reported done needs no help for it, the other end still does", () => {
  const done = new Map([
    ["H/near/install", calendarDate("2026-03-01")],
    ["H/far/alignment", calendarDate("2026-03-02")],
  ]);
  expect(isInstallDone(done, "H", "near")).toBe(true);
  expect(isInstallDone(done, "H", "far")).toBe(false);
});

/** Edits by hand, their undo and redo: person by person, with what others did since left as it is. */

import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import {
  brokenRules,
  costsSideBySide,
  effectOfGroup,
  type Hand,
  openPlan,
  planBeside,
  publish,
} from "@/app/_server/planEdits";
import { acceptMoves, carryReturn, type Direction, openReturn, pinVisits } from "@/app/_server/planMoves";
import { migrateDatabase } from "@/db/migrate";
import { type Db, openDatabase, writing } from "@/db/open";
import { loadLog } from "@/db/queries/log";
import { editEnds, editsSince, standingEdits, wasMovedByHand } from "@/db/queries/planEdits";
import {
  copyAsDraft,
  deleteDraft,
  loadKits,
  loadPlan,
  loadPlanVisits,
  type PlannedVisit,
  planInForce,
} from "@/db/queries/plans";
import { english, type Phrase } from "@/lib/phrase";
import { effectOfMove, type NamedMove, otherPlaces, visitPhrase } from "@/lib/programme";
import type { Result } from "@/lib/result";
import { addDays, type CalendarDate } from "@/lib/time";
import { loadDemo } from "@/seed/load";

const TODAY = "2026-03-16" as CalendarDate;
const RITA: Hand = { userId: "rita", by: "Rita", at: 1_773_646_200_000 };
const OLE: Hand = { userId: "ole", by: "Ole", at: 1_773_646_300_000 };

let db: Db;
let inForceId: number;
/** A fresh copy of the plan in force for each test. */
let id: number;
let rows: PlannedVisit[];
/** Moves that break no rule, of different hops. */
let legal: NamedMove[];

const expectOk = <T>(result: Result<T>): T => {
  if (!result.ok) throw new Error(JSON.stringify(result.problems));
  return result.value;
};
const ruleOf = (result: Result<unknown>) => (result.ok ? "" : result.problems[0]!.rule);

function move(m: NamedMove, hand: Hand) {
  const plan = openPlan(db, id, TODAY)!;
  const effect = expectOk(effectOfMove(plan.problem, plan.plan, m));
  return expectOk(writing(db, () => acceptMoves(db, plan, [m.visitId], effect, hand)));
}

function goBack(direction: Direction, hand: Hand, editNo?: number): Result<{ editNo: number }> {
  const no = editNo ?? editEnds(db, id, hand.userId)[direction]?.editNo ?? 0;
  const back = openReturn(db, { planId: id, editNo: no }, direction, hand.userId, TODAY);
  return back.ok ? writing(db, () => carryReturn(db, back.value, direction, hand)) : back;
}

const visits = () => loadPlanVisits(db, id);

beforeAll(() => {
  db = openDatabase(":memory:");
  migrateDatabase(db);
  loadDemo(db, TODAY);
  inForceId = planInForce(db)!.id;
  rows = loadPlanVisits(db, inForceId);
  const plan = openPlan(db, inForceId, TODAY)!;
  const hops = new Set<string>();
  legal = [];
  for (const v of rows.filter((r) => r.kind === "install" && r.crewCode !== null).reverse()) {
    if (legal.length === 4) break;
    if (hops.has(v.hopCode)) continue;
    const why = otherPlaces(plan.problem, plan.plan, v.visitId);
    const place = why.ok ? why.value.places[0]?.visit : undefined;
    if (!place) continue;
    hops.add(v.hopCode);
    legal.push({ visitId: v.visitId, crewCode: place.crewCode, on: place.startOn });
  }
}, 300_000);

beforeEach(() => {
  const { basis } = loadPlan(db, inForceId)!;
  id = writing(db, () => copyAsDraft(db, inForceId, { createdBy: "P", createdAt: 0, basis }))!;
});

describe("undo and redo", () => {
  it("go back edit by edit to where everything was, kits too, and forward again", () => {
    const before = visits();
    const kits = loadKits(db, id);
    move(legal[0]!, RITA);
    const between = visits();
    move(legal[1]!, RITA);
    const after = visits();
    expectOk(goBack("undo", RITA));
    expect(visits()).toEqual(between);
    expectOk(goBack("undo", RITA));
    expect(visits()).toEqual(before);
    expect(loadKits(db, id)).toEqual(kits);
    expect(ruleOf(goBack("undo", RITA))).toBe("not-the-last");
    expectOk(goBack("redo", RITA));
    expectOk(goBack("redo", RITA));
    expect(visits()).toEqual(after);
    expect(ruleOf(goBack("redo", RITA))).toBe("not-the-last");
    expect(loadPlan(db, id)!.revision).toBe(7);
    expect(brokenRules(openPlan(db, id, TODAY)!).broken).toEqual([]);
  });

  it("end where something new is done after an undo", () => {
    move(legal[0]!, RITA);
    expectOk(goBack("undo", RITA));
    move(legal[1]!, RITA);
    expect(editEnds(db, id, RITA.userId).redo).toBeUndefined();
    expect(standingEdits(db, id).map((e) => e.words)).toEqual([legal[1]!.visitId]);
  });

  it("are each planner's own, and leave what the other did", () => {
    move(legal[0]!, RITA);
    move(legal[1]!, OLE);
    const ole = visits().find((v) => v.visitId === legal[1]!.visitId);
    expectOk(goBack("undo", RITA));
    const now = visits();
    expect(now.find((v) => v.visitId === legal[1]!.visitId)).toMatchObject({
      crewCode: ole!.crewCode,
      startOn: ole!.startOn,
    });
    expect(now.find((v) => v.visitId === legal[0]!.visitId)).toMatchObject({
      crewCode: rows.find((r) => r.visitId === legal[0]!.visitId)!.crewCode,
      startOn: rows.find((r) => r.visitId === legal[0]!.visitId)!.startOn,
    });
    expect(editEnds(db, id, OLE.userId).undo?.words).toBe(legal[1]!.visitId);
  });

  it("are refused with a sentence when somebody else changed the same visit since", () => {
    const done = move(legal[0]!, RITA);
    expectOk(
      writing(db, () =>
        pinVisits(db, { planId: id, revision: done.revision }, [legal[0]!.visitId], false, OLE),
      ),
    );
    const before = visits();
    const refused = goBack("undo", RITA);
    expect(ruleOf(refused)).toBe("changed-since");
    expect(refused.ok ? "" : refused.problems[0]!.message).toContain(
      `Ole unpinned ${english(visitPhrase(legal[0]!.visitId) as Phrase)}`,
    );
    expect(visits()).toEqual(before);
    // As soon as the other has taken that back, it may.
    expectOk(goBack("undo", OLE));
    expectOk(goBack("undo", RITA));
  });

  it("take an edit for what the button named only: a second press elsewhere does nothing more", () => {
    const first = move(legal[0]!, RITA);
    move(legal[1]!, RITA);
    expect(ruleOf(goBack("undo", RITA, first.editNo))).toBe("not-the-last");
    expect(ruleOf(goBack("undo", OLE, first.editNo))).toBe("not-the-last");
  });

  it("carry pins, are written to the log, and show in what changed since", () => {
    const ids = [legal[0]!.visitId, legal[1]!.visitId];
    expectOk(writing(db, () => pinVisits(db, { planId: id, revision: 1 }, ids, true, RITA)));
    expect(
      visits()
        .filter((v) => v.isPinned)
        .map((v) => v.visitId)
        .sort(),
    ).toEqual([...ids].sort());
    expectOk(goBack("undo", RITA));
    expect(visits().filter((v) => v.isPinned)).toEqual([]);
    expect(editsSince(db, id, 1).map((e) => [e.kind, e.words, e.revision])).toEqual([
      ["pin", "2 visits", 2],
      ["undo", "the pin of 2 visits", 3],
    ]);
    expect(loadLog(db, 2, `plan ${id}`).map((e) => e.action)).toEqual(["undo plan edit", "pin visit"]);
    expect(ruleOf(writing(db, () => pinVisits(db, { planId: id, revision: 3 }, ids, false, RITA)))).toBe(
      "as-it-was",
    );
  });

  it("say which rule would break when another took the place meanwhile", () => {
    // Ole fills the slot that Rita emptied: putting hers back would have two visits at once.
    const row = rows.find((r) => r.visitId === legal[0]!.visitId)!;
    move(legal[0]!, RITA);
    const other = legal[1]!;
    move({ visitId: other.visitId, crewCode: row.crewCode!, on: row.startOn!, startMin: row.startMin! }, OLE);
    const back = openReturn(
      db,
      { planId: id, editNo: editEnds(db, id, RITA.userId).undo!.editNo },
      "undo",
      RITA.userId,
      TODAY,
    );
    const moved = visits().find((v) => v.visitId === other.visitId)!;
    expect(moved.startOn).toBe(row.startOn);
    expect(expectOk(back).effect!.broken.length).toBeGreaterThan(0);
  });

  it("do not reach into a plan in force", () => {
    move(legal[0]!, RITA);
    expectOk(writing(db, () => publish(db, openPlan(db, id, TODAY)!, inForceId, RITA)));
    const before = visits();
    expect(ruleOf(goBack("undo", RITA))).toBe("not-a-draft");
    expect(visits()).toEqual(before);
    const back = writing(db, () => copyAsDraft(db, inForceId, { createdBy: "P", createdAt: 0, basis: {} }))!;
    expectOk(writing(db, () => publish(db, openPlan(db, back, TODAY)!, id, RITA)));
    inForceId = back;
  });

  it("go with their draft", () => {
    move(legal[0]!, RITA);
    expect(deleteDraft(db, id, 1)).toBe(false);
    expect(deleteDraft(db, id, 2)).toBe(true);
    expect(editsSince(db, id, 0)).toEqual([]);
  });
});

describe("a plan changed by hand", () => {
  it("takes in the visits that came after it was made, without a place, and lists all that its cost counts", () => {
    const later = rows.filter((r) => r.hopCode === rows.find((x) => x.crewCode === null)!.hopCode);
    for (const { visitId } of later)
      db.$client.prepare("DELETE FROM plan_visit WHERE plan_id = ? AND visit_id = ?").run(id, visitId);
    move(legal[0]!, RITA);
    const taken = visits().filter((v) => later.some((r) => r.visitId === v.visitId));
    expect(taken).toHaveLength(later.length);
    expect(taken).toContainEqual(
      expect.objectContaining({
        visitId: later[0]!.visitId,
        kind: later[0]!.kind,
        siteCode: later[0]!.siteCode,
        durationMin: later[0]!.durationMin,
        crewCode: null,
        unplacedDetail: "the visit came after the plan was made",
      }),
    );
    const unplaced = () => visits().filter((v) => v.crewCode === null).length;
    expect(loadPlan(db, id)!.cost.unplacedVisits).toBe(unplaced());
    // What came stays when the move is taken back.
    expectOk(goBack("undo", RITA));
    expect(loadPlan(db, id)!.cost.unplacedVisits).toBe(unplaced());
  });

  it("is told from one that only the search made: pins leave its bound as it is", () => {
    expect(wasMovedByHand(db, inForceId)).toBe(false);
    const { revision } = loadPlan(db, id)!;
    expectOk(writing(db, () => pinVisits(db, { planId: id, revision }, [legal[0]!.visitId], true, RITA)));
    expect(wasMovedByHand(db, id)).toBe(false);
    move(legal[0]!, RITA);
    expect(wasMovedByHand(db, id)).toBe(true);
    expectOk(goBack("undo", RITA));
    expect(wasMovedByHand(db, id)).toBe(true);
  });

  it("costs the same in the dialog of a move and beside the plan in force, weather risk of what is pinned too", () => {
    // The last that stands beyond the forecast, where the weather is a risk.
    const far = visits()
      .filter((v) => v.kind === "install" && v.riskMin > 0)
      .at(-1)!;
    const open = openPlan(db, id, TODAY)!;
    const effect = expectOk(
      effectOfMove(open.problem, open.plan, {
        visitId: far.visitId,
        crewCode: far.crewCode!,
        on: addDays(far.startOn!, 7),
      }),
    );
    expectOk(writing(db, () => acceptMoves(db, open, [far.visitId], effect, RITA)));
    const sides = costsSideBySide(openPlan(db, id, TODAY)!);
    expect(Math.abs(effect.after.riskMin - effect.before.riskMin)).toBeGreaterThan(1);
    expect(sides.other!.riskMin).toBeCloseTo(effect.before.riskMin, 6);
    expect(sides.plan.riskMin).toBeCloseTo(effect.after.riskMin, 6);
  });
});

describe("the price of a plan", () => {
  it("is one figure beside any draft, whatever is pinned there", () => {
    const free = costsSideBySide(openPlan(db, id, TODAY)!);
    const placed = visits().filter((v) => v.crewCode !== null);
    // Work over more than one day: its stated minutes and its hours of work differ most.
    expect(placed.some((v) => v.startOn !== v.endOn)).toBe(true);
    const ids = placed.map((v) => v.visitId);
    const { revision } = loadPlan(db, id)!;
    expectOk(writing(db, () => pinVisits(db, { planId: id, revision }, ids, true, RITA)));
    const held = costsSideBySide(openPlan(db, id, TODAY)!);
    expect(held.other).toEqual(free.other);
    expect(held.plan).toEqual(free.plan);
  });

  it("is the same on either side, with two drafts beside each other", () => {
    const second = writing(db, () => copyAsDraft(db, id, { createdBy: "Rita", createdAt: 0, basis: {} }))!;
    move(legal[0]!, RITA);
    const open = openPlan(db, id, TODAY)!;
    const beside = costsSideBySide(open, planBeside(db, open, loadPlan(db, second)!));
    const other = costsSideBySide(openPlan(db, second, TODAY)!);
    expect(beside.plan.total).not.toBeCloseTo(beside.other!.total, 3);
    expect(beside.other).toEqual(other.plan);
  });
});

describe("several visits moved as one", () => {
  it("go by days, keep their crews, and come back together", () => {
    const before = visits();
    const open = openPlan(db, id, TODAY)!;
    const ids = legal.slice(0, 3).map((m) => m.visitId);
    const effect = expectOk(effectOfGroup(open, { visitIds: ids, byDays: 7 }));
    expectOk(writing(db, () => acceptMoves(db, open, ids, effect, RITA)));
    for (const visitId of ids) {
      const was = before.find((v) => v.visitId === visitId)!;
      expect(visits().find((v) => v.visitId === visitId)).toMatchObject({
        crewCode: was.crewCode,
        startOn: addDays(was.startOn!, 7),
        isPinned: true,
      });
    }
    expect(editEnds(db, id, RITA.userId).undo?.words).toBe("3 visits");
    expectOk(goBack("undo", RITA));
    expect(visits()).toEqual(before);
  });

  it("are refused by name where one has no place, and when nothing would move", () => {
    const unplaced = rows.find((r) => r.crewCode === null)!;
    const open = openPlan(db, id, TODAY)!;
    const refused = effectOfGroup(open, { visitIds: [legal[0]!.visitId, unplaced.visitId], byDays: 1 });
    expect(refused.ok ? [] : refused.problems.map((p) => [p.rule, p.value])).toEqual([
      ["not-placed", unplaced.visitId],
    ]);
    expect(ruleOf(effectOfGroup(open, { visitIds: [legal[0]!.visitId], byDays: 0 }))).toBe("no-move");
  });
});

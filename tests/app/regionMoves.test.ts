/** Moves by an account that is limited to regions: what would also shift a visit elsewhere is refused. */
import { beforeAll, describe, expect, test } from "vitest";
import { ofSeenEdits, shiftRefusal } from "@/app/_server/regions";
import { memoryDatabase } from "@/db/migrate";
import type { Db } from "@/db/open";
import { regionalHops } from "../helpers/regionalHops";
import { visitorAs } from "../helpers/visitor";

let db: Db;
let made: ReturnType<typeof regionalHops>;
const install = (hop: string) => ({ visitId: `${hop}/near/install` });

beforeAll(() => {
  db = memoryDatabase();
  made = regionalHops(db);
});

describe("a manager of one region", () => {
  const limited = () => visitorAs("manager", { regions: [made.region] });

  test("moves visits that lie there", () => {
    expect(shiftRefusal(db, limited(), [install(made.own)])).toBeUndefined();
  });

  test("does not move what would shift a visit elsewhere, and reads which", () => {
    const refusal = shiftRefusal(db, limited(), [install(made.own), install(made.other)]);
    expect(refusal?.rule).toBe("region");
    expect(refusal?.message).toContain(install(made.other).visitId);
    expect(refusal?.message).toContain(made.region);
    expect(refusal?.remedy).not.toBe("");
  });

  test("is told of edits that touch the region, and of no others", () => {
    const edits = [made.own, made.other].map((hop) => ({ hop, changes: [{ after: install(hop) }] }));
    expect(ofSeenEdits(db, limited(), edits).map((e) => e.hop)).toEqual([made.own]);
  });
});

test("a manager of all regions moves everything and is told of everything", () => {
  const whole = visitorAs("manager");
  const shifts = [install(made.own), install(made.other)];
  expect(shiftRefusal(db, whole, shifts)).toBeUndefined();
  expect(ofSeenEdits(db, whole, [{ changes: shifts.map((after) => ({ after })) }])).toHaveLength(1);
});

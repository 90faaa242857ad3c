/** Reports as phones send them, from pages of today and from those that a phone has kept. */
import { beforeEach, expect, test, vi } from "vitest";
import { sureOfDoubts } from "@/app/_client/outbox/doubts";
import { carryOut } from "@/app/_server/carryOut";
import { wholeCatalogueOf } from "@/app/_ui/language/catalogue";
import { makeWords } from "@/app/_ui/language/words";
import { reportFieldName } from "@/app/(work)/week/reportFields";
import { reportVisit } from "@/app/api/reports/reportAction";
import type { Problem } from "@/lib/result";
import type { InstantMillis } from "@/lib/time";
import { PIECE, type TestStock, TODAY, testStock } from "../db/make";
import { visitorAs } from "../helpers/visitor";

/** The crew's clock then stands at 16:00; its shift starts at 07:00. */
const NOW = Date.parse("2026-03-16T17:00:00Z") as InstantMillis;

let stock: TestStock;
beforeEach(() => {
  stock = testStock();
  vi.stubEnv("BOTHENDS_NOW", new Date(NOW).toISOString());
});

let sent = 0;
async function send(more: Record<string, unknown>): Promise<readonly Problem[]> {
  const body = {
    visitId: stock.visitId,
    workedOn: TODAY,
    outcome: "part done",
    workedMin: 480,
    holdReason: "",
    note: "",
    uses: [],
    ...more,
  };
  const { result } = await carryOut(reportVisit, body, {
    db: stock.db,
    visitor: visitorAs("administrator"),
    key: `report ${sent++}`,
    now: NOW,
    machineNow: NOW,
  });
  return result.ok ? [] : result.problems;
}
const rules = async (more: Record<string, unknown>) => (await send(more)).map((p) => p.rule);

test("hours are held against the time when the report was written, not when it arrived", async () => {
  expect(await rules({ writtenAtMillis: NOW - 8.5 * 3_600_000 })).toEqual(["hours-doubtful"]);
  expect(await rules({ writtenAtMillis: NOW })).toEqual([]);
  expect(await rules({})).toEqual([]);
  // A phone whose clock runs ahead has not worked longer.
  expect(await rules({ workedMin: 600, writtenAtMillis: NOW + 4 * 3_600_000 })).toEqual(["hours-doubtful"]);
});

test("a serial at two radios of the end is refused at the second, by its name on the form", async () => {
  const hung = [
    { oduLabel: "R1", serial: "XX-1" },
    { oduLabel: "R2", serial: " xx-1" },
  ];
  const [problem] = await send({ hung });
  expect(problem).toMatchObject({
    path: "hung.1.serial",
    rule: "serial-twice",
    value: "xx-1",
    message: "xx-1 stands at R1 and R2.",
    remedy: "Read each label once.",
  });
  const { t } = makeWords("en", wholeCatalogueOf("en"));
  expect(reportFieldName(problem!.path, { hung }, t)).toBe("Serial of R2");
});

test("a page of before says that the hours are right, and is still asked about the rest", async () => {
  const uses = [{ itemCode: PIECE.code, runId: null, drumSerial: null, used: 60, left: 0 }];
  const body = { workedMin: 1800, isHoursSure: true };
  expect(await rules(body)).toEqual([]);
  const asked = await send({ ...body, uses });
  expect(asked.map((p) => p.rule)).toEqual(["report-doubtful"]);
  expect(await rules(sureOfDoubts({ ...body, uses }, asked))).toEqual([]);
});

test("sent anyway, a report answers the questions it was refused for, besides those answered before", () => {
  const doubt = (path: string, rule = "report-doubtful"): Problem => ({
    path,
    rule,
    message: "",
    remedy: "",
  });
  expect(
    sureOfDoubts({ sureOf: ["workedMin"] }, [
      doubt("outcome"),
      doubt("outcome"),
      doubt("visitId", "reported-meanwhile"),
    ]),
  ).toEqual({ sureOf: ["workedMin", "outcome"] });
});

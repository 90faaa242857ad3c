/** A made-up warehouse with a plan of one or two kits, for tests of orders, kits and cuts. */
import { memoryDatabase } from "@/db/migrate";
import { type Db, writing } from "@/db/open";
import { saveItem } from "@/db/queries/catalogue";
import { saveCrew } from "@/db/queries/crews";
import { saveHop, saveSite } from "@/db/queries/design";
import { saveDrum } from "@/db/queries/drums";
import { postMovement } from "@/db/queries/ledger";
import { savePlace } from "@/db/queries/places";
import { loadPlan, type PlanHead, type PlannedVisit, type StoredKitLine, savePlan } from "@/db/queries/plans";
import { saveLot } from "@/db/queries/shelves";
import { reportVisit, type VisitReportInput } from "@/db/queries/visitReport";
import { Random } from "@/lib/random";
import { DEFAULT_CATALOGUE } from "@/lib/takeoff";
import { addDays, type CalendarDate } from "@/lib/time";
import { demoCrews } from "@/seed/crews";
import { makeHops, makeSites } from "@/seed/vellmark";

export const TODAY = "2026-03-16" as CalendarDate;
export const BY = { name: "Test", at: Date.parse("2026-03-16T08:00:00Z") };
export const CABLE = DEFAULT_CATALOGUE.find((i) => i.category === "IF cable")!;
export const PIECE = DEFAULT_CATALOGUE.find(
  (i) => i.unit === "piece" && !i.shelfLifeDays && i.owner === "contractor",
)!;
export const TAPE = DEFAULT_CATALOGUE.find((i) => i.shelfLifeDays !== undefined && i.unit !== "m")!;
export const DRUM_C = 10_000;

/** A shelf as a plan's netting stores it, without days: what of it matters to a test is said by the test. */
export const EMPTY_NETTING = {
  firstOn: TODAY,
  gross: [],
  scheduled: [],
  projectedWithoutOrders: [],
  projected: [],
  orders: [],
  stops: [],
  stopsLeft: [],
};

export interface TestStock {
  db: Db;
  plan: PlanHead;
  /** Visit of the first kit; its lines: a run, six pieces, 2.4 rolls of what ages. */
  visitId: string;
  /** A kit picked a day later with eight pieces. */
  laterId: string;
  runId: string;
}

/** Two kits: the shelf holds ten pieces, two lots of what ages (one expires first, one has expired), one drum. */
export function testStock(): TestStock {
  const db = memoryDatabase();
  const sites = makeSites(new Random("sites"), 20);
  const hops = makeHops(new Random("hops"), sites, DEFAULT_CATALOGUE, TODAY, 2);
  for (const i of DEFAULT_CATALOGUE) saveItem(db, i);
  for (const code of ["WH-EAST", "WH-WEST"])
    savePlace(db, { code, name: code, kind: "warehouse", latDeg: null, lonDeg: null });
  for (const n of [1, 2, 3, 4, 5])
    savePlace(db, { code: `VAN-${n}`, name: `Van ${n}`, kind: "vehicle", latDeg: null, lonDeg: null });
  for (const s of sites) saveSite(db, s);
  for (const h of hops) saveHop(db, h);
  for (const c of demoCrews(TODAY)) saveCrew(db, c);
  const hop = hops[0]!;
  const visitId = `${hop.code}/near/install`;
  const laterId = `${hop.code}/far/install`;
  const runId = `${hop.code}/near/R1`;
  const visit = (side: "near" | "far", day: number): PlannedVisit => ({
    visitId: side === "near" ? visitId : laterId,
    kind: "install",
    hopCode: hop.code,
    side,
    siteCode: hop[side].siteId,
    durationMin: 400,
    isJoint: false,
    kitReadyOn: TODAY,
    crewCode: "C1",
    startOn: addDays(TODAY, day),
    startMin: 480,
    endOn: addDays(TODAY, day),
    endMin: 900,
    riskMin: 0,
    isPinned: false,
    unplacedRule: null,
    unplacedDetail: null,
  });
  const line = (itemCode: string, neededC: number, part: Partial<StoredKitLine> = {}): StoredKitLine => ({
    itemCode,
    name: itemCode,
    neededC,
    boxC: neededC,
    pickedC: 0,
    shortC: 0,
    drumSerial: null,
    runId: null,
    lotCode: null,
    reason: "test",
    ...part,
  });
  const kitHead = { placeCode: "WH-EAST", state: "planned" as const, massKg: 40, volumeL: 80 };
  const planId = writing(db, () =>
    savePlan(db, {
      head: {
        state: "in force",
        firstDay: TODAY,
        dayCount: 28,
        seed: "test",
        iterations: 1,
        cost: { total: 0 } as never,
        lowerBound: 0,
        basis: {},
        createdBy: "Test",
        createdAt: BY.at,
      },
      visits: [visit("near", 1), visit("far", 2)],
      kits: [
        {
          ...kitHead,
          visitId,
          pickOn: TODAY,
          lines: [
            line(CABLE.code, 2_350, { runId, drumSerial: "D1" }),
            line(PIECE.code, 600),
            line(TAPE.code, 240, { boxC: 300 }),
          ],
        },
        { ...kitHead, visitId: laterId, pickOn: addDays(TODAY, 1), lines: [line(PIECE.code, 800)] },
      ],
      cutting: [],
      netting: [],
      transfers: [],
    }),
  );
  saveLot(db, { code: "OLD", itemCode: TAPE.code, expiresOn: addDays(TODAY, -1) });
  saveLot(db, { code: "SOON", itemCode: TAPE.code, expiresOn: addDays(TODAY, 20) });
  saveLot(db, { code: "LONG", itemCode: TAPE.code, expiresOn: addDays(TODAY, 400) });
  saveDrum(db, { serial: "D1", itemCode: CABLE.code, receivedC: DRUM_C });
  const receive = (
    itemCode: string,
    quantityC: number,
    part: { lotCode?: string; drumSerial?: string } = {},
  ) =>
    postMovement(db, {
      key: `in ${itemCode} ${part.lotCode ?? ""} ${part.drumSerial ?? ""}`,
      kind: "receipt",
      itemCode,
      owner: DEFAULT_CATALOGUE.find((i) => i.code === itemCode)!.owner,
      toPlace: "WH-EAST",
      quantityC,
      effectiveOn: addDays(TODAY, -10),
      postedAt: BY.at,
      reason: "test",
      postedBy: "Test",
      ...part,
    });
  receive(PIECE.code, 1_000);
  receive(TAPE.code, 500, { lotCode: "OLD" });
  receive(TAPE.code, 100, { lotCode: "LONG" });
  receive(TAPE.code, 200, { lotCode: "SOON" });
  receive(CABLE.code, DRUM_C, { drumSerial: "D1" });
  return { db, plan: loadPlan(db, planId)!, visitId, laterId, runId };
}

/**
 * Sends a report of the stock's first visit, done in four hours with nothing used unless `part` says otherwise, written
 * the day after.
 */
export function sendReport(
  { db, visitId }: TestStock,
  part: Partial<VisitReportInput>,
  writtenAt = Date.parse("2026-03-17T08:00:00Z"),
) {
  return reportVisit(
    db,
    {
      visitId,
      outcome: "done",
      workedOn: TODAY,
      workedMin: 240,
      holdReason: "",
      note: "",
      readings: [],
      parts: [],
      uses: [],
      ...part,
    },
    {
      visitor: { userId: "lead", name: "Lead", role: "administrator", crewId: null },
      now: BY.at,
      today: TODAY,
      writtenAt,
    },
  );
}

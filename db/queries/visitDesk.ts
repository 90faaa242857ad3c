/** One planned visit with its site, end, take-off, estimate, kit, cuts and reports: the crew's page. */

import type { Acceptance } from "@/lib/acceptance";
import type { DrumCut } from "@/lib/drums";
import type { EndEstimate, HourNorms } from "@/lib/hours";
import {
  HopWorker,
  jointPartnerOf,
  type NamedWork,
  parseVisitId,
  referenceCrew,
  setupDueMin,
} from "@/lib/programme";
import type { Hop, LinkEnd, Site } from "@/lib/site";
import { type EndTakeoff, type HopTakeoff, takeOff } from "@/lib/takeoff";
import type { CalendarDate } from "@/lib/time";
import type { Db } from "../open";
import { acceptanceOf, revisitsOfHop, type StoredRevisit } from "./acceptance";
import { loadCrews } from "./crews";
import { loadHop } from "./design";
import { atMark, marksByRun } from "./drumMarks";
import { loadVisitEstimate } from "./estimates";
import type { GivenVisit } from "./givenVisits";
import { type Hold, holdsOf } from "./holds";
import {
  loadCrewVisits,
  loadCutting,
  loadKit,
  loadPlanVisits,
  type PlannedVisit,
  planInForce,
  type StoredKit,
} from "./plans";
import { loadTakeoffContext, rulesInForce } from "./programme";
import { latestOf, reportsOfVisit, type StoredReport } from "./reports";
import { type CrewFacts, loadCrewFacts } from "./week";

export interface VisitDesk {
  /** The plan in force; of work by an earlier plan that one, where the plan in force has the visit no more. */
  planId: number;
  visit: PlannedVisit;
  /** The plan in force gives it to another crew, or to none; `crew` is the one that had it before. */
  isHandedOver: boolean;
  site: Site;
  hop: Hop;
  end: LinkEnd;
  takeoff: EndTakeoff;
  estimate: EndEstimate;
  norms: HourNorms;
  crew: CrewFacts;
  kit?: StoredKit;
  /** Cuts of this visit's runs with the drum they come from. */
  cuts: (DrumCut & { serial: string })[];
  reports: StoredReport[];
  /** That it is on hold: a hold that the plan in force knew of lasts no more. */
  hold?: Hold;
  /** Work that takes several visits: which of how many this is. */
  part: { no: number; of: number };
  p80Min: number;
  /** From arrival until work begins, where the crew is not set up there already, minutes. */
  setupMin: number;
  /** Of a revisit: what it is for. */
  revisit?: StoredRevisit;
  /** Of the hop, by all that was read so far. */
  acceptance: Acceptance;
  /** Of joint work: the visit at the other end. */
  otherEnd?: PlannedVisit;
  /** That it was reported done, and for which day. */
  otherEndDoneOn?: CalendarDate;
}

/**
 * Undefined when the visit is not placed in the plan in force. Take-off and hours are worked out anew.
 * @param given as an earlier plan gave it to a crew that still reports its work
 */
export function loadVisitDesk(db: Db, visitId: string, given?: GivenVisit): VisitDesk | undefined {
  const plan = planInForce(db);
  const parsed = parseVisitId(visitId);
  const hop = parsed && loadHop(db, parsed.hopCode);
  if (!plan || !parsed || !hop) return undefined;
  const planId = given?.planId ?? plan.id;
  const visits = loadPlanVisits(db, planId).filter((v) => v.hopCode === parsed.hopCode);
  const visit = given?.visit ?? visits.find((v) => v.visitId === visitId);
  const crew = visit?.crewCode ? loadCrewFacts(db, visit.crewCode) : undefined;
  if (!visit || !crew) return undefined;

  const rules = rulesInForce(db);
  const context = loadTakeoffContext(db, rules);
  const taken = takeOff(hop, context);
  const end = hop[parsed.side];
  const site = context.sites.get(end.siteId)!;
  const takeoff = taken[parsed.side];
  const people = referenceCrew(loadCrews(db), plan.firstDay);
  const again = revisitsOfHop(db, hop.code).find((r) => r.visitId === visitId);
  const estimate = estimateOf(
    parsed,
    hop,
    taken,
    again,
    new HopWorker(context, rules.norms, people, rules.calibration),
  );
  if (!estimate) return undefined;
  const partner = jointPartnerOf(visit);
  const partnerReport = partner === undefined ? undefined : latestOf(reportsOfVisit(db, partner));
  const runIds = new Set(takeoff.runs.map((r) => r.id));
  const marks = marksByRun(db, planId);
  return {
    planId,
    visit,
    isHandedOver: given !== undefined,
    part: { no: parsed.part, of: estimate.parts?.length ?? 1 },
    setupMin: setupDueMin(
      visit,
      loadCrewVisits(db, given?.givenBy ?? plan.id, crew.code).filter((v) => !v.isWithdrawn),
      (v) => (v.visitId === visitId ? estimate.setupMin : (loadVisitEstimate(db, v)?.setupMin ?? null)),
    )!,
    p80Min: (visit.durationMin * estimate.p80Min) / estimate.durationMin,
    site,
    hop,
    end,
    takeoff,
    estimate,
    norms: rules.norms,
    crew,
    kit: loadKit(db, planId, visitId),
    cuts: loadCutting(db, planId).flatMap((c) =>
      c.drums.flatMap((d) =>
        d.cuts
          .filter((cut) => runIds.has(cut.runId))
          .map((cut) => ({ ...atMark(cut, marks), serial: d.drum.serial })),
      ),
    ),
    reports: reportsOfVisit(db, visitId),
    hold: holdsOf(db, plan).get(visitId),
    revisit: again,
    acceptance: acceptanceOf(db, hop),
    otherEnd: visits.find((v) => v.visitId === partner && v.crewCode !== null),
    otherEndDoneOn: partnerReport?.outcome === "done" ? partnerReport.workedOn : undefined,
  };
}

/** Undefined for a revisit that is not on record. */
function estimateOf(
  { kind, side }: NamedWork,
  hop: Hop,
  taken: HopTakeoff,
  again: StoredRevisit | undefined,
  worker: HopWorker,
): EndEstimate | undefined {
  switch (kind) {
    case "install":
      return worker.install(hop, side, taken);
    case "alignment":
      return worker.alignment(hop, side, taken);
    case "acceptance":
      return worker.acceptance(hop, side, taken);
    case "revisit":
      return again && worker.revisit(hop, side, taken, again.remedy);
  }
}

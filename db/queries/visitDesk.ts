/** One planned visit with its site, end, take-off, estimate, kit, cuts and reports: the crew's page. */
import type { DrumCut } from "@/lib/drums";
import { type EndEstimate, estimateAlignment, estimateHours } from "@/lib/hours";
import { endWork, hopWork, otherEndOf, parseVisitId, referenceCrew } from "@/lib/programme";
import type { Hop, LinkEnd, Site } from "@/lib/site";
import { type EndTakeoff, takeOff } from "@/lib/takeoff";
import type { Db } from "../open";
import { loadCrews } from "./crews";
import { loadHop } from "./design";
import {
  loadCutting,
  loadKit,
  loadPlanVisits,
  type PlannedVisit,
  planInForce,
  type StoredKit,
} from "./plans";
import { loadTakeoffContext, rulesInForce } from "./programme";
import { reportsOfVisit, type StoredReport } from "./reports";
import { type CrewFacts, loadCrewFacts } from "./week";

export interface VisitDesk {
  visit: PlannedVisit;
  site: Site;
  hop: Hop;
  end: LinkEnd;
  takeoff: EndTakeoff;
  estimate: EndEstimate;
  crew: CrewFacts;
  kit?: StoredKit;
  /** Cuts of this visit's runs with the drum they come from. */
  cuts: (DrumCut & { serial: string })[];
  reports: StoredReport[];
  /** Work that takes several visits: which of how many this is. */
  part: { no: number; of: number };
  p80Min: number;
  /** Of an alignment: the visit at the other end. */
  otherEnd?: PlannedVisit;
}

/** Undefined when the visit is not placed in the plan in force. Take-off and hours are worked out anew. */
export function loadVisitDesk(db: Db, visitId: string): VisitDesk | undefined {
  const plan = planInForce(db);
  const parsed = parseVisitId(visitId);
  const hop = parsed && loadHop(db, parsed.hopCode);
  if (!plan || !parsed || !hop) return undefined;
  const visits = loadPlanVisits(db, plan.id).filter((v) => v.hopCode === parsed.hopCode);
  const visit = visits.find((v) => v.visitId === visitId);
  const crew = visit?.crewCode ? loadCrewFacts(db, visit.crewCode) : undefined;
  if (!visit || !crew) return undefined;

  const rules = rulesInForce(db);
  const context = loadTakeoffContext(db, rules);
  const taken = takeOff(hop, context);
  const end = hop[parsed.side];
  const site = context.sites.get(end.siteId)!;
  const takeoff = taken[parsed.side];
  const people = referenceCrew(loadCrews(db), plan.firstDay);
  const estimate =
    parsed.kind === "alignment"
      ? estimateAlignment(hopWork(hop, context.sites, taken.near, taken.far), rules.norms, people)
      : estimateHours(endWork(hop, end, site, takeoff), rules.norms, people);
  const runIds = new Set(takeoff.runs.map((r) => r.id));
  return {
    visit,
    part: { no: parsed.part, of: estimate.parts?.length ?? 1 },
    p80Min: (visit.durationMin * estimate.p80Min) / estimate.durationMin,
    site,
    hop,
    end,
    takeoff,
    estimate,
    crew,
    kit: loadKit(db, plan.id, visitId),
    cuts: loadCutting(db, plan.id).flatMap((c) =>
      c.drums.flatMap((d) =>
        d.cuts.filter((cut) => runIds.has(cut.runId)).map((cut) => ({ ...cut, serial: d.drum.serial })),
      ),
    ),
    reports: reportsOfVisit(db, visitId),
    otherEnd:
      parsed.kind === "alignment"
        ? visits.find((v) => v.visitId === otherEndOf(parsed) && v.crewCode !== null)
        : undefined,
  };
}

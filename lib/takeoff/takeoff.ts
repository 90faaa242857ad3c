/** The material take-off of a hop: lines with their reasons, checks with figure and limit, and work drivers. */
import type { CatalogueItem, LinkEnd } from "@/lib/site";
import { type CatalogueIndex, type Fit, findItem, indexCatalogue } from "./catalogue";
import { checkHop } from "./checkHop";
import { checkEnd } from "./checks";
import { CONNECTORS_PER_RUN } from "./counts";
import { checkLeads } from "./earthing";
import { type Equipment, findEquipment } from "./equipment";
import { checkHoist, loadOf } from "./masses";
import { fullPolicy } from "./policy";
import { metres, tidy } from "./rounding";
import { applyRules, holds, itemOfDriver, type RuleSubject, sum } from "./rules";
import { type EndRuns, type PlannedRun, planRuns } from "./runs";
import type {
  EndTakeoff,
  FullPolicy,
  HopTakeoff,
  TakeoffContext,
  TakeoffInput,
  TakeoffRule,
  WorkDrivers,
} from "./types";
import { type TapePlan, tapeForWraps, wrapCount } from "./wraps";

/**
 * Takes off both ends of a hop and checks its design data. Pure; the catalogue array of `context` is indexed
 * once and must not be changed afterwards. What cannot be counted becomes a failed check and, where an item is
 * missing, a line with the code `MISSING:<category>`: an end never silently takes nothing.
 *
 * Method: docs/methods/takeoff.md.
 */
export function takeOff(hop: TakeoffInput, context: TakeoffContext): HopTakeoff {
  return {
    hopId: hop.id,
    near: takeOffEnd(hop, hop.near, context),
    far: takeOffEnd(hop, hop.far, context),
    checks: checkHop(hop, context.sites, fullPolicy(context.policy)),
  };
}

/** Takes off one end of a hop. */
export function takeOffEnd(
  hop: Pick<TakeoffInput, "scheme" | "bandGhz">,
  given: LinkEnd,
  context: TakeoffContext,
): EndTakeoff {
  const policy = fullPolicy(context.policy);
  const index = indexCatalogue(context.catalogue);
  const end = inLabelOrder(given);
  const site = context.sites.get(end.siteId);
  const at = { scheme: hop.scheme, end, site };

  const equipment = findEquipment(hop.scheme, end, index, policy);
  const arrestorDb = arrestorsPerRun(context.rules, at) * policy.lossOfSurgeArrestorDb;
  const cabling = planRuns(end, equipment.radios, index, arrestorDb, policy);
  const fit = fitOf(hop.bandGhz, end, cabling, index, policy);
  const tape = planTape(context.rules, { ...at, fit, index }, cabling, policy);
  const subject: RuleSubject = { ...at, ...driversOf(end, equipment, cabling, tape), fit, index, policy };
  const ruled = applyRules(context.rules, subject);

  const lines = [...equipment.lines, ...cabling.lines, ...ruled.lines];
  return {
    endId: end.id,
    siteId: end.siteId,
    side: end.side,
    runs: cabling.runs.map((run) => run.plan),
    lines,
    checks: [
      ...checkEnd(hop, end, site, policy),
      ...equipment.checks,
      ...cabling.checks,
      ...tape.checks,
      ...ruled.checks,
      ...checkLeads(lines, index, end.side, policy),
      ...checkHoist(equipment.lifts, end.side, policy),
    ],
    drivers: workDrivers(end, equipment, cabling.runs),
    ...loadOf(lines, index),
    extraTasks: equipment.extraTasks,
  };
}

/** ODUs and antennas by label, so that the order in which they were brought in changes no line and no word. */
function inLabelOrder(end: LinkEnd): LinkEnd {
  const byLabel = <T extends { label: string }>(list: readonly T[]) =>
    [...list].sort((a, b) => (a.label < b.label ? -1 : a.label > b.label ? 1 : 0));
  return { ...end, antennas: byLabel(end.antennas), odus: byLabel(end.odus) };
}

/** Surge arrestors that the rules put on each run: their loss counts against the cable's. */
function arrestorsPerRun(
  rules: readonly TakeoffRule[],
  at: Pick<RuleSubject, "scheme" | "end" | "site">,
): number {
  const onRuns = rules.filter((r) => r.enabled && r.category === "surge arrestor" && r.driver === "runs");
  return sum(onRuns.filter((r) => holds(r, at)).map((r) => r.factor));
}

/** What the rules' items have to fit at this end. */
function fitOf(
  bandGhz: number,
  end: LinkEnd,
  cabling: EndRuns,
  index: CatalogueIndex,
  policy: FullPolicy,
): Fit {
  const lead = findItem(index, "earthing lead", { crossSectionMm2: policy.minEarthingSectionMm2 }).item;
  return {
    bandGhz,
    split: end.couplerSplit ?? policy.couplerSplit,
    cableDiameterMm: cabling.cable?.attributes.cableDiameterMm,
    // Lugs fit the lead that is used, which may be thicker than the least section.
    crossSectionMm2: lead?.attributes.crossSectionMm2 ?? policy.minEarthingSectionMm2,
  };
}

function planTape(
  rules: readonly TakeoffRule[],
  at: Pick<RuleSubject, "scheme" | "end" | "site" | "fit" | "index">,
  cabling: EndRuns,
  policy: FullPolicy,
): TapePlan {
  const item = (driver: TakeoffRule["driver"]): CatalogueItem | undefined => itemOfDriver(rules, driver, at);
  return tapeForWraps(
    cabling.runs.map((run) => run.wraps),
    {
      cableDiameterMm: at.fit.cableDiameterMm,
      connector: findItem(at.index, "connector", at.fit).item,
      earthingKit: findItem(at.index, "earthing kit", at.fit).item,
      pvc: item("metres of PVC tape"),
      selfAmalgamating: item("metres of self-amalgamating tape"),
    },
    at.end.side,
    policy,
  );
}

/** Every driver's count at this end, run by run where it belongs to the runs. */
function driversOf(
  end: LinkEnd,
  equipment: Equipment,
  { runs }: EndRuns,
  tape: TapePlan,
): Pick<RuleSubject, "perEnd" | "perRun" | "notes"> {
  const { counts } = equipment;
  const each = (count: (run: PlannedRun) => number) => runs.map(count);
  const one = each(() => 1);
  return {
    perEnd: {
      hops: end.side === "near" ? 1 : 0,
      ends: 1,
      couplers: counts.couplers,
      "orthomode couplings": counts.orthomodeCouplings,
      "waveguide flanges": counts.waveguideFlanges,
      "polarisation parts to buy": equipment.partsToBuy,
      IDUs: 1,
      "IDU power feeds": end.includesIduPower ? 1 : 0,
    },
    perRun: {
      ODUs: one,
      "remote ODUs": each((run) => (run.odu.mounting === "remote" ? 1 : 0)),
      runs: one,
      "metres of cut cable": each((run) => run.cut.cutM),
      "metres of outdoor route": each((run) => run.measure.outdoorM),
      "metres of indoor route": each((run) => run.measure.indoorM),
      connectors: each(() => CONNECTORS_PER_RUN),
      "earthing points": each((run) => run.plan.earthingPoints.length),
      "ODU earthing leads": one,
      "metres of ODU earthing lead": each((run) => run.odu.earthBarDistanceM),
      wraps: each((run) => wrapCount(run.wraps)),
      entries: one,
      "drip loops": one,
      "ties outdoors": each((run) => run.fixing.tiesOutdoors),
      "ties indoors": each((run) => run.fixing.tiesIndoors),
      "cable hangers": each((run) => run.fixing.hangers),
      "metres of self-amalgamating tape": tape.selfAmalgamatingM,
      "metres of PVC tape": tape.pvcM,
    },
    notes: {
      "tie outdoor": inWords(runs, (run) => run.fixing.outdoorReason),
      "self-amalgamating tape": tape.selfAmalgamatingRange,
      "earthing kit": inWords(runs, (run) =>
        run.plan.earthingPoints.map((p) => `${p.kind} ${metres(p.distanceM)} m`).join(", "),
      ),
    },
  };
}

/** What is said of each run, once for all where it is the same. */
function inWords(runs: readonly PlannedRun[], words: (run: PlannedRun) => string): string {
  const said = runs.map(words);
  if (said.every((text) => text === said[0])) return `${runs.length > 1 ? "each run: " : ""}${said[0] ?? ""}`;
  return said.map((text, i) => `${runs[i]!.odu.label}: ${text}`).join("; ");
}

/** The counts that the hours estimate multiplies its norms with. */
function workDrivers(end: LinkEnd, equipment: Equipment, runs: readonly PlannedRun[]): WorkDrivers {
  const over = (count: (run: PlannedRun) => number) => tidy(sum(runs.map(count)));
  const { counts } = equipment;
  return {
    maxMountHeightM: Math.max(0, ...end.antennas.map((a) => a.mountHeightM)),
    antennaCount: counts.antennas,
    largestDiameterM: Math.max(0, ...end.antennas.map((a) => a.diameterM)),
    antennaAreaM2: tidy(sum(end.antennas.map((a) => (Math.PI / 4) * a.diameterM ** 2))),
    antennaMassKg: tidy(equipment.antennaMassKg),
    heaviestLiftKg: tidy(Math.max(0, ...equipment.lifts.map((lift) => lift.massKg))),
    oduCount: counts.odus,
    couplerCount: counts.couplers,
    orthomodeCount: counts.orthomodeCouplings,
    polarisationChanges: equipment.polarisationChanges,
    runCount: counts.runs,
    cableM: over((run) => run.cut.cutM),
    outdoorM: over((run) => run.measure.outdoorM),
    indoorM: over((run) => run.measure.indoorM),
    connectorCount: counts.runs * CONNECTORS_PER_RUN,
    earthingPointCount: over((run) => run.plan.earthingPoints.length),
    oduLeadCount: counts.odus,
    wrapCount: over((run) => wrapCount(run.wraps)),
    tieCount: over((run) => run.fixing.tiesOutdoors + run.fixing.tiesIndoors),
    entryCount: counts.runs,
    bridgeM: over((run) => run.measure.bridgeM),
  };
}

/** The runs of an end: each one piece of cable with its cut, its earthing points, its feed and what it takes. */
import type { CatalogueItem, LinkEnd, Odu } from "@/lib/site";
import { type CutLength, checkHandling, checkSurplus, chooseCable, cutLength } from "./cable";
import { type CatalogueIndex, missingCode } from "./catalogue";
import { mountHeightOf } from "./checks";
import { earthRun } from "./earthing";
import { type Fixing, fixRun } from "./fixing";
import { metres, tidy } from "./rounding";
import { measureRoute, type RouteMeasure } from "./route";
import { feedRun } from "./runFeed";
import type { DesignCheck, EarthingPoint, FullPolicy, RunPlan, TakeoffLine } from "./types";
import { fail, pass, warn } from "./verdict";
import { type RunWraps, wrapCount, wrapsOf } from "./wraps";

export interface PlannedRun {
  odu: Odu;
  plan: RunPlan;
  cut: CutLength;
  measure: RouteMeasure;
  wraps: RunWraps;
  fixing: Fixing;
}

export interface EndRuns {
  cable?: CatalogueItem;
  runs: readonly PlannedRun[];
  lines: readonly TakeoffLine[];
  checks: readonly DesignCheck[];
}

/** Plans every run of an end and the cable they all use. */
export function planRuns(
  end: LinkEnd,
  radios: ReadonlyMap<string, CatalogueItem>,
  index: CatalogueIndex,
  arrestorDb: number,
  policy: FullPolicy,
): EndRuns {
  const checks: DesignCheck[] = [];
  const measured = end.odus.map((odu) => {
    const measure = measureRoute(odu.route);
    return { odu, measure, cut: cutLength(measure.routeM, policy) };
  });
  const toFeed = measured.map(({ odu, cut }) => ({ odu, radio: radios.get(odu.label), cutM: cut.cutM }));
  const choice = chooseCable(end, toFeed, index, arrestorDb, policy);
  const { cable } = choice;
  checks.push(...choice.checks);
  if (cable && cable.attributes.cableDiameterMm === undefined) checks.push(lacksDiameter(end.side, cable));

  const runs = measured.map(({ odu, measure, cut }, i): PlannedRun => {
    const earthing = earthRun(odu.route, mountHeightOf(end, odu.antennaLabel), policy);
    const feed = cable ? feedRun(toFeed[i]!, cable, end.worstSupplyV, arrestorDb, policy) : undefined;
    const wraps = wrapsOf(earthing.points.length, policy);
    checks.push(
      checkSurplus(odu.label, cut, policy),
      ...(feed?.checks ?? []),
      ...(cable
        ? checkHandling(odu.label, cable, measure.bendsAtM.length, measure.longestVerticalM, policy)
        : []),
      ...checkEarthing(odu.label, earthing.points, earthing.largestGapM, earthing.nearBend, policy),
    );
    const fixing = fixRun(
      {
        outdoorM: measure.outdoorM,
        indoorM: measure.indoorM,
        earthingPoints: earthing.points.length,
        wraps: wrapCount(wraps),
      },
      policy,
    );
    return {
      odu,
      cut,
      measure,
      wraps,
      fixing,
      plan: {
        id: `${end.id}/${odu.label}`,
        oduLabel: odu.label,
        role: odu.role,
        cableCode: cable?.code ?? missingCode("IF cable"),
        cableDiameterMm: cable?.attributes.cableDiameterMm ?? 0,
        routeM: tidy(measure.routeM),
        surplusM: policy.surplusM,
        cutM: cut.cutM,
        outdoorM: tidy(measure.outdoorM),
        indoorM: tidy(measure.indoorM),
        bends: measure.bendsAtM.length,
        earthingPoints: earthing.points,
        ties: fixing.ties,
        lossDbAtLow: feed?.lossDbAtLow,
        lossDbAtHigh: feed?.lossDbAtHigh,
        voltageAtOduV: feed?.voltageAtOduV,
      },
    };
  });
  return { cable, runs, lines: cableLines(runs, cable, policy), checks };
}

/** One line for all runs of the end; the runs stay apart in its reason, since each is cut as one piece. */
function cableLines(
  runs: readonly PlannedRun[],
  cable: CatalogueItem | undefined,
  policy: FullPolicy,
): TakeoffLine[] {
  if (runs.length === 0) return [];
  const totalM = tidy(runs.reduce((sum, run) => sum + run.cut.cutM, 0));
  const each = runs.map((run) => `${run.odu.label} ${run.cut.reason}`);
  return [
    {
      ruleId: "count:IF cable",
      itemCode: cable?.code ?? missingCode("IF cable"),
      name: cable?.name ?? "IF cable",
      unit: "m",
      owner: cable?.owner ?? "contractor",
      exact: totalM,
      quantity: totalM,
      level: "run",
      step: policy.cutStepM,
      reason: runs.length === 1 ? runs[0]!.cut.reason : `${metres(totalM)} m: ${each.join("; ")}`,
    },
  ];
}

function checkEarthing(
  where: string,
  points: readonly EarthingPoint[],
  largestGapM: number,
  nearBend: readonly EarthingPoint[],
  policy: FullPolicy,
): DesignCheck[] {
  if (points.length === 0) return []; // no outdoor part: checkEnd fails the run
  const within = largestGapM <= policy.maxEarthingSpacingM + 1e-6;
  const gap = (within ? pass : fail)("earthing-gap", where, {
    message: `${points.length} earthing points; the largest gap outdoors is ${metres(largestGapM)} m.`,
    remedy: within
      ? "Leads run downward, at most 1 m, without a loop; local rules and the site owner's come first."
      : "No place clear of the bends keeps the spacing: straighten the route or raise the bend clearance rule with the site owner.",
    figure: largestGapM,
    limit: policy.maxEarthingSpacingM,
    unit: "m",
  });
  return [
    gap,
    ...points
      .filter((p) => p.movedM > 0)
      .map((p) =>
        pass("earthing-moved", where, {
          message: `Earthing point (${p.kind}) moved ${metres(p.movedM)} m along the run to ${metres(p.distanceM)} m from the ODU, clear of a bend.`,
          remedy: "None needed.",
          figure: p.movedM,
          unit: "m",
        }),
      ),
    ...nearBend.map((p) =>
      warn("earthing-near-bend", where, {
        message: `Earthing point (${p.kind}) at ${metres(p.distanceM)} m stands nearer than ${metres(policy.bendClearanceM)} m to a bend: no clear place is left.`,
        remedy: "Let the crew lead choose the place on site and record it.",
        limit: policy.bendClearanceM,
        unit: "m",
      }),
    ),
  ];
}

const lacksDiameter = (where: string, cable: CatalogueItem): DesignCheck =>
  fail("item-lacks-attribute", where, {
    message: `${cable.code} has no cable diameter: connectors, kits, grips and tape cannot be matched to it.`,
    remedy: `Enter the cable diameter of ${cable.code} in the catalogue.`,
  });

/** The IF cable: how long each run is cut, what its surplus has to cover, and which type may be used. */
import type { CatalogueItem, LinkEnd } from "@/lib/site";
import { type CatalogueIndex, noCatalogueItem } from "./catalogue";
import { figure, metres, roundUp, tidy } from "./rounding";
import { cableLossDb, carries, hasLimits, type RunToFeed } from "./runFeed";
import type { DesignCheck, FullPolicy } from "./types";
import { fail, pass, warn } from "./verdict";

export interface CutLength {
  routeM: number;
  surplusM: number;
  cutM: number;
  /** Cable that drip loop and terminations take, m. */
  takenM: number;
  /** Surplus less what is taken, m; negative = it does not cover them. The rounding of the cut is no reserve. */
  remainderM: number;
  /** "47.0 m = 42.0 route + 5.0 surplus". */
  reason: string;
}

/** One turn of the drip loop, m. */
export const dripLoopM = (policy: Pick<FullPolicy, "dripLoopDiameterM">): number =>
  Math.PI * policy.dripLoopDiameterM;

/** Length of one run in one piece: route + surplus, rounded up to the cut step. */
export function cutLength(routeM: number, policy: FullPolicy): CutLength {
  const plainM = tidy(routeM + policy.surplusM);
  const cutM = roundUp(plainM, policy.cutStepM);
  const takenM = dripLoopM(policy) + policy.terminationM;
  const rounding = cutM > plainM ? `, rounded up to ${figure(policy.cutStepM)} m` : "";
  return {
    routeM,
    surplusM: policy.surplusM,
    cutM,
    takenM,
    remainderM: policy.surplusM - takenM,
    reason: `${metres(cutM)} m = ${metres(routeM)} route + ${metres(policy.surplusM)} surplus${rounding}`,
  };
}

/** Fails when the surplus does not cover drip loop and both terminations; else says what remains. */
export function checkSurplus(where: string, cut: CutLength, policy: FullPolicy): DesignCheck {
  const parts = `${metres(dripLoopM(policy))} m drip loop + ${metres(policy.terminationM)} m terminations`;
  const figures = { figure: tidy(cut.surplusM), limit: tidy(cut.takenM), unit: "m" };
  if (cut.remainderM < 0) {
    return fail("surplus-covers", where, {
      message: `Surplus of ${metres(cut.surplusM)} m does not cover ${parts}.`,
      remedy: `Raise the surplus to at least ${metres(roundUp(cut.takenM, policy.cutStepM))} m.`,
      ...figures,
    });
  }
  return pass("surplus-covers", where, {
    message: `Surplus of ${metres(cut.surplusM)} m covers ${parts}; ${metres(cut.remainderM)} m remain.`,
    remedy: "None needed.",
    ...figures,
  });
}

export interface CableChoice {
  cable?: CatalogueItem;
  checks: readonly DesignCheck[];
}

/**
 * The IF cable of an end, one type for all its runs: the one the design names, or else the lightest type on
 * which every run passes loss and DC feed. When none passes, the type of lowest loss is planned so that the
 * end stays visible, and the end fails.
 */
export function chooseCable(
  end: LinkEnd,
  runs: readonly RunToFeed[],
  index: CatalogueIndex,
  arrestorDb: number,
  policy: FullPolicy,
): CableChoice {
  if (end.cableCode !== undefined) return namedCable(end.cableCode, end.side, index);
  const types = lightestFirst(index);
  if (types.length === 0) {
    return { checks: [noCatalogueItem(end.side, "IF cable", "IF cable")] };
  }
  const withoutData = runs.filter((run) => !hasLimits(run.radio));
  if (withoutData.length > 0) {
    return {
      checks: [
        fail("cable-not-chosen", end.side, {
          message: `No IF cable can be chosen: loss limit, intermediate frequencies or power are unknown for ${withoutData.map((r) => r.odu.label).join(", ")}.`,
          remedy: "Complete the ODU's catalogue item, or name the cable type in the design data.",
        }),
      ],
    };
  }
  const chosen = types.find((cable) =>
    runs.every((run) => carries(cable, run, end.worstSupplyV, arrestorDb, policy)),
  );
  if (chosen) {
    return {
      cable: chosen,
      checks: [
        pass("cable-choice", end.side, {
          message: `${chosen.code} chosen: the lightest type on which every run passes loss and DC feed.`,
          remedy: "None needed. Name a type in the design data to overrule.",
        }),
      ],
    };
  }
  const lowestLoss = types.reduce((a, b) => (lossPer100M(b) < lossPer100M(a) ? b : a));
  return {
    cable: lowestLoss,
    checks: [
      fail("cable-choice", end.side, {
        message: `No IF cable in the catalogue passes loss and DC feed on every run; ${lowestLoss.code}, the type of lowest loss, is planned.`,
        remedy: "Shorten the route, raise the supply voltage or add a cable type of lower loss.",
      }),
    ],
  };
}

/** Warns when the drip loop, the bends or the hanging length ask more of the cable than its type allows. */
export function checkHandling(
  where: string,
  cable: CatalogueItem,
  bends: number,
  longestVerticalM: number,
  policy: FullPolicy,
): DesignCheck[] {
  const { minBendRadiusMm, maxBends, maxPullN, massKgPerM } = cable.attributes;
  const checks: DesignCheck[] = [];
  const loopRadiusMm = policy.dripLoopDiameterM * 500;
  if (minBendRadiusMm !== undefined && loopRadiusMm < minBendRadiusMm) {
    checks.push(
      warn("bend-radius", where, {
        message: `Drip loop of ${figure(policy.dripLoopDiameterM)} m is tighter than the least bend radius of ${cable.code}.`,
        remedy: "Plan a wider drip loop.",
        figure: loopRadiusMm,
        limit: minBendRadiusMm,
        unit: "mm",
      }),
    );
  }
  if (maxBends !== undefined && bends > maxBends) {
    checks.push(
      warn("bend-count", where, {
        message: `The route bends ${bends} times; ${cable.code} is given for ${maxBends}.`,
        remedy: "Straighten the route or check pull and bend radius on site.",
        figure: bends,
        limit: maxBends,
        unit: "",
      }),
    );
  }
  if (maxPullN !== undefined && massKgPerM !== undefined) {
    const hungN = longestVerticalM * massKgPerM * 9.80665; // standard gravity, m/s2
    if (hungN > maxPullN) {
      checks.push(
        warn("hung-mass", where, {
          message: `${metres(longestVerticalM)} m of ${cable.code} hang in one stretch.`,
          remedy: "Add a hoisting grip on the way and relieve the pull there.",
          figure: Math.round(hungN),
          limit: maxPullN,
          unit: "N",
        }),
      );
    }
  }
  return checks;
}

function namedCable(code: string, where: string, index: CatalogueIndex): CableChoice {
  const cable = index.byCode.get(code);
  if (cable?.category === "IF cable") return { cable, checks: [] };
  return { checks: [noCatalogueItem(where, `IF cable ${code}`, "IF cable")] };
}

function lightestFirst(index: CatalogueIndex): CatalogueItem[] {
  return [...(index.byCategory.get("IF cable") ?? [])].sort(
    (a, b) => massPerM(a) - massPerM(b) || a.priceMinor - b.priceMinor || (a.code < b.code ? -1 : 1),
  );
}

const massPerM = (cable: CatalogueItem): number => cable.attributes.massKgPerM ?? cable.massKg;

/** Loss at 350 MHz, a usual upper intermediate frequency (from memory), only to rank types; unknown ranks last. */
const lossPer100M = (cable: CatalogueItem): number =>
  cable.attributes.k1 === undefined || cable.attributes.k2 === undefined
    ? Number.POSITIVE_INFINITY
    : cableLossDb(cable.attributes.k1, cable.attributes.k2, 350, 100);

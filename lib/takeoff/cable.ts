/** The IF cable: how long each run is cut, what its surplus has to cover, and which type may be used. */
import type { CatalogueItem, LinkEnd, Odu } from "@/lib/site";
import { type CatalogueIndex, noCatalogueItem } from "./catalogue";
import { voltageAtOdu, warmLoopOhm } from "./dcFeed";
import { figure, metres, roundUp, tidy } from "./rounding";
import type { DesignCheck, FullPolicy } from "./types";
import { fail, pass, warn } from "./verdict";

const MHZ_LOSS_LENGTH_M = 100; // k1 and k2 are given per 100 m

export interface CutLength {
  routeM: number;
  surplusM: number;
  cutM: number;
  /** Cable that drip loop and terminations take, m. */
  takenM: number;
  /** Cut length less route less what is taken, m; negative = the surplus does not cover them. */
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
    remainderM: cutM - routeM - takenM,
    reason: `${metres(cutM)} m = ${metres(routeM)} route + ${metres(policy.surplusM)} surplus${rounding}`,
  };
}

/** Fails when the surplus does not cover drip loop and both terminations; else says what remains. */
export function checkSurplus(where: string, cut: CutLength, policy: FullPolicy): DesignCheck {
  const parts = `${metres(dripLoopM(policy))} m drip loop + ${metres(policy.terminationM)} m terminations`;
  // The rounding of the cut is no reserve to count on: the surplus itself has to cover what is taken.
  const remainsM = cut.surplusM - cut.takenM;
  const figures = { figure: tidy(cut.surplusM), limit: tidy(cut.takenM), unit: "m" };
  if (remainsM < 0) {
    return fail("surplus-covers", where, {
      message: `Surplus of ${metres(cut.surplusM)} m does not cover ${parts}.`,
      remedy: `Raise the surplus to at least ${metres(roundUp(cut.takenM, policy.cutStepM))} m.`,
      ...figures,
    });
  }
  return pass("surplus-covers", where, {
    message: `Surplus of ${metres(cut.surplusM)} m covers ${parts}; ${metres(remainsM)} m remain.`,
    remedy: "None needed.",
    ...figures,
  });
}

/** Loss of an IF cable, dB: `(k1 sqrt(f) + k2 f) L / 100`, f in MHz, k per 100 m, L in m. */
export function cableLossDb(k1: number, k2: number, frequencyMhz: number, lengthM: number): number {
  return ((k1 * Math.sqrt(frequencyMhz) + k2 * frequencyMhz) * lengthM) / MHZ_LOSS_LENGTH_M;
}

/** One run as the electrical rules see it. `radio` is undefined when the catalogue has no such ODU. */
export interface RunToFeed {
  odu: Odu;
  radio?: CatalogueItem;
  cutM: number;
}

export interface RunElectrics {
  lossDbAtLow?: number;
  lossDbAtHigh?: number;
  voltageAtOduV?: number;
  checks: readonly DesignCheck[];
}

/** Loss at both intermediate frequencies and the voltage at the ODU, each against the radio's limit. */
export function feedRun(
  run: RunToFeed,
  cable: CatalogueItem,
  supplyV: number,
  arrestorDb: number,
  policy: FullPolicy,
): RunElectrics {
  const where = run.odu.label;
  const a = cable.attributes;
  const r = run.radio?.attributes;
  const checks: DesignCheck[] = [];
  const result: { lossDbAtLow?: number; lossDbAtHigh?: number; voltageAtOduV?: number } = {};

  const lossLacks = lacking([
    [cable.code, "k1", a.k1],
    [cable.code, "k2", a.k2],
    [run.radio?.code ?? "ODU", "ifLowMhz", r?.ifLowMhz],
    [run.radio?.code ?? "ODU", "ifHighMhz", r?.ifHighMhz],
    [run.radio?.code ?? "ODU", "maxIfLossDb", r?.maxIfLossDb],
  ]);
  if (lossLacks) checks.push(lacksData("cable-loss-data", where, "Loss of the IF cable", lossLacks));
  else {
    result.lossDbAtLow = tidy(cableLossDb(a.k1!, a.k2!, r!.ifLowMhz!, run.cutM) + arrestorDb);
    result.lossDbAtHigh = tidy(cableLossDb(a.k1!, a.k2!, r!.ifHighMhz!, run.cutM) + arrestorDb);
    const worstDb = Math.max(result.lossDbAtLow, result.lossDbAtHigh);
    const arrestor = arrestorDb > 0 ? `, ${figure(arrestorDb)} dB surge arrestor included` : "";
    const state = worstDb <= r!.maxIfLossDb! ? pass : fail;
    checks.push(
      state("cable-loss", where, {
        message: `${cable.code} loses ${figure(worstDb, 2)} dB on ${metres(run.cutM)} m${arrestor}; the ODU allows ${figure(r!.maxIfLossDb!)} dB.`,
        remedy: state === pass ? "None needed." : "Use a cable type of lower loss or shorten the route.",
        figure: figureOf(worstDb),
        limit: r!.maxIfLossDb!,
        unit: "dB",
      }),
    );
  }

  const feedLacks = lacking([
    [cable.code, "loopOhmPer100M", a.loopOhmPer100M],
    [run.radio?.code ?? "ODU", "powerW", r?.powerW],
    [run.radio?.code ?? "ODU", "minVoltageV", r?.minVoltageV],
  ]);
  if (feedLacks) checks.push(lacksData("dc-feed-data", where, "DC feed", feedLacks));
  else {
    const loopOhm = warmLoopOhm(a.loopOhmPer100M!, run.cutM, policy.conductorMaxTempC);
    const voltageV = voltageAtOdu(supplyV, loopOhm, r!.powerW!);
    result.voltageAtOduV = voltageV;
    const feed = `${cable.code}, ${metres(run.cutM)} m, ${figure(loopOhm)} ohm at ${figure(policy.conductorMaxTempC)} degC, ${figure(r!.powerW!)} W from ${figure(supplyV)} V`;
    if (voltageV === undefined) {
      checks.push(
        fail("dc-feed", where, {
          message: `No solution: 4 R P = ${figure(4 * loopOhm * r!.powerW!, 1)} exceeds Vs^2 = ${figure(supplyV ** 2, 1)} (${feed}).`,
          remedy: "Use a cable type of lower resistance, shorten the route or raise the supply voltage.",
          figure: figureOf(4 * loopOhm * r!.powerW!),
          limit: figureOf(supplyV ** 2),
          unit: "V2",
        }),
      );
    } else {
      const state = voltageV >= r!.minVoltageV! ? pass : fail;
      checks.push(
        state("dc-feed", where, {
          message: `${figure(voltageV, 2)} V at the ODU (${feed}); it works from ${figure(r!.minVoltageV!)} V.`,
          remedy:
            state === pass
              ? "None needed."
              : "Use a cable type of lower resistance, shorten the route or raise the supply voltage.",
          figure: figureOf(voltageV),
          limit: r!.minVoltageV!,
          unit: "V",
        }),
      );
    }
  }
  return { ...result, checks };
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
          figure: figureOf(hungN),
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

/** feedRun's verdict alone, without its words: the choice tries every type on every run. */
function carries(
  cable: CatalogueItem,
  run: RunToFeed,
  supplyV: number,
  arrestorDb: number,
  policy: FullPolicy,
): boolean {
  const { k1, k2, loopOhmPer100M } = cable.attributes;
  const r = run.radio?.attributes;
  if (k1 === undefined || k2 === undefined || loopOhmPer100M === undefined || r === undefined) return false;
  const lossDb = (mhz: number) => cableLossDb(k1, k2, mhz, run.cutM) + arrestorDb;
  if (Math.max(lossDb(r.ifLowMhz!), lossDb(r.ifHighMhz!)) > r.maxIfLossDb!) return false;
  const loopOhm = warmLoopOhm(loopOhmPer100M, run.cutM, policy.conductorMaxTempC);
  const voltageV = voltageAtOdu(supplyV, loopOhm, r.powerW!);
  return voltageV !== undefined && voltageV >= r.minVoltageV!;
}

const massPerM = (cable: CatalogueItem): number => cable.attributes.massKgPerM ?? cable.massKg;

/** Loss at 350 MHz, a usual upper intermediate frequency (from memory), only to rank types; unknown ranks last. */
const lossPer100M = (cable: CatalogueItem): number =>
  cable.attributes.k1 === undefined || cable.attributes.k2 === undefined
    ? Number.POSITIVE_INFINITY
    : cableLossDb(cable.attributes.k1, cable.attributes.k2, 350, 100);

function hasLimits(radio: CatalogueItem | undefined): boolean {
  const r = radio?.attributes;
  return [r?.ifLowMhz, r?.ifHighMhz, r?.maxIfLossDb, r?.powerW, r?.minVoltageV].every((v) => v !== undefined);
}

type Needed = readonly [owner: string, attribute: string, value: number | undefined];

function lacking(needed: readonly Needed[]): string | undefined {
  const missing = needed
    .filter(([, , value]) => value === undefined)
    .map(([owner, name]) => `${owner}: ${name}`);
  return missing.length > 0 ? missing.join(", ") : undefined;
}

const lacksData = (rule: string, where: string, what: string, missing: string): DesignCheck =>
  fail(rule, where, {
    message: `${what} cannot be checked, the catalogue lacks ${missing}.`,
    remedy: "Complete these attributes in the catalogue, from the maker's data sheet.",
  });

const figureOf = (value: number): number => Math.round(value * 1000) / 1000;

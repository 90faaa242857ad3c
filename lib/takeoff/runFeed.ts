/** Does the IF cable carry a run? Loss at both intermediate frequencies, and DC to the ODU. */
import type { CatalogueItem, Odu } from "@/lib/site";
import { NEEDED_NAMES, type NeededAttribute } from "./attributeNames";
import { voltageAtOdu, warmLoopOhm } from "./dcFeed";
import { figure, metres, tidy } from "./rounding";
import type { DesignCheck, FullPolicy } from "./types";
import { fail, pass } from "./verdict";

const LOSS_LENGTH_M = 100; // k1 and k2 are given per 100 m

/** Loss of an IF cable, dB: `(k1 sqrt(f) + k2 f) L / 100`, f in MHz, k per 100 m, L in m. */
export function cableLossDb(k1: number, k2: number, frequencyMhz: number, lengthM: number): number {
  return ((k1 * Math.sqrt(frequencyMhz) + k2 * frequencyMhz) * lengthM) / LOSS_LENGTH_M;
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

/** feedRun's verdict alone, without its words: the choice tries every type on every run. */
export function carries(
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

/** Does the catalogue give all that the choice of cable needs to know of this radio? */
export function hasLimits(radio: CatalogueItem | undefined): boolean {
  const r = radio?.attributes;
  return [r?.ifLowMhz, r?.ifHighMhz, r?.maxIfLossDb, r?.powerW, r?.minVoltageV].every((v) => v !== undefined);
}

type Needed = readonly [owner: string, attribute: NeededAttribute, value: number | undefined];

function lacking(needed: readonly Needed[]): string | undefined {
  const missing = needed
    .filter(([, , value]) => value === undefined)
    .map(([owner, name]) => `${owner}: ${NEEDED_NAMES[name]}`);
  return missing.length > 0 ? missing.join(", ") : undefined;
}

const lacksData = (rule: string, where: string, what: string, missing: string): DesignCheck =>
  fail(rule, where, {
    message: `${what} cannot be checked, the catalogue lacks ${missing}.`,
    remedy: "Complete these attributes in the catalogue, from the maker's data sheet.",
  });

const figureOf = (value: number): number => Math.round(value * 1000) / 1000;

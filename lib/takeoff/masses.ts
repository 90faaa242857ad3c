/** Masses: what an end weighs and takes up in the vehicle, and the heaviest thing that has to go up. */
import type { AntennaPosition, CatalogueItem, LinkEnd } from "@/lib/site";
import type { CatalogueIndex } from "./catalogue";
import { figure, tidy } from "./rounding";
import type { DesignCheck, FullPolicy, TakeoffLine } from "./types";
import { pass, warn } from "./verdict";

/** Antenna masses by diameter where the catalogue has no item (from memory: 0.6 m 12 kg ... 2.4 m 160 kg). */
const ANTENNA_KG: readonly (readonly [diameterM: number, massKg: number])[] = [
  [0.3, 6],
  [0.6, 12],
  [1.2, 40],
  [1.8, 90],
  [2.4, 160],
];

/** Up to here antenna and ODU are assembled on the ground and hoisted as one, m (common practice). */
const HOISTED_AS_ONE_M = 0.6;

/** Mass of an antenna from memory, kg: straight between the known diameters, by area beyond them. */
export function antennaKgFromMemory(diameterM: number): number {
  const first = ANTENNA_KG[0]!;
  const last = ANTENNA_KG[ANTENNA_KG.length - 1]!;
  if (diameterM <= first[0]) return first[1] * (diameterM / first[0]) ** 2;
  if (diameterM >= last[0]) return last[1] * (diameterM / last[0]) ** 2;
  const upper = ANTENNA_KG.findIndex(([d]) => d >= diameterM);
  const [d1, m1] = ANTENNA_KG[upper]!;
  const [d0, m0] = ANTENNA_KG[upper - 1]!;
  return m0 + ((m1 - m0) * (diameterM - d0)) / (d1 - d0);
}

/** Mass and volume of an end's lines. Lines that the catalogue lacks weigh nothing here: they fail elsewhere. */
export function loadOf(
  lines: readonly TakeoffLine[],
  index: CatalogueIndex,
): { massKg: number; volumeL: number } {
  let massKg = 0;
  let volumeL = 0;
  for (const line of lines) {
    const item = index.byCode.get(line.itemCode);
    if (!item) continue;
    massKg += line.quantity * massPerUnitKg(item);
    volumeL += line.quantity * item.volumeL;
  }
  return { massKg: tidy(massKg), volumeL: tidy(volumeL) };
}

const massPerUnitKg = (item: CatalogueItem): number =>
  item.unit === "m" ? (item.attributes.massKgPerM ?? item.massKg) : item.massKg;

export interface Lift {
  what: string;
  massKg: number;
}

/**
 * Everything that goes up as one piece. A small antenna takes its ODU along when that is mounted on it directly
 * and nothing lies between them.
 *
 * @param massOf mass of a design item from the catalogue, kg; undefined where the catalogue lacks it
 */
export function liftsOf(
  end: LinkEnd,
  couplingKg: readonly number[],
  antennaKg: (antenna: AntennaPosition) => number,
  oduKg: ReadonlyMap<string, number>,
): Lift[] {
  const hasCoupling = couplingKg.length > 0;
  const lifts: Lift[] = couplingKg.map((massKg) => ({ what: "coupling", massKg }));
  const taken = new Set<string>();
  for (const antenna of end.antennas) {
    let massKg = antennaKg(antenna);
    let what = antenna.label;
    const riders = end.odus.filter((o) => o.antennaLabel === antenna.label && o.mounting === "direct");
    if (antenna.diameterM <= HOISTED_AS_ONE_M + 1e-9 && !hasCoupling && riders.length === 1) {
      massKg += oduKg.get(riders[0]!.label) ?? 0;
      what = `${antenna.label} with ${riders[0]!.label}`;
      taken.add(riders[0]!.label);
    }
    lifts.push({ what, massKg });
  }
  for (const odu of end.odus) {
    if (!taken.has(odu.label)) lifts.push({ what: odu.label, massKg: oduKg.get(odu.label) ?? 0 });
  }
  return lifts;
}

/** Warns when the heaviest lift is beyond hand hoisting: a winch and a rigger are needed. */
export function checkHoist(
  lifts: readonly Lift[],
  where: string,
  policy: Pick<FullPolicy, "handHoistMaxKg">,
): DesignCheck[] {
  if (lifts.length === 0) return [];
  const heaviest = lifts.reduce((a, b) => (b.massKg > a.massKg ? b : a));
  const byHand = heaviest.massKg <= policy.handHoistMaxKg;
  return [
    (byHand ? pass : warn)("hand-hoist", where, {
      message: `Heaviest lift: ${heaviest.what}, ${figure(heaviest.massKg, 1)} kg; hand hoist is planned up to ${figure(policy.handHoistMaxKg)} kg.`,
      remedy: byHand
        ? "None needed."
        : "Plan a winch and a rigger; the crew and the maker's instructions decide.",
      figure: tidy(heaviest.massKg),
      limit: policy.handHoistMaxKg,
      unit: "kg",
    }),
  ];
}

/**
 * Ends that crews are compared on. They are fixed: were they taken from the programme's hops, a hop more would change
 * every crew's hours, and a plan that people work by would break its own rules.
 */
import type { EndWork } from "@/lib/hours";
import type { Scheme, StructureKind } from "@/lib/site";

interface TypicalEnd {
  scheme: Scheme;
  structure: StructureKind;
  mountHeightM: number;
  diameterM: number;
  antennaMassKg: number;
  antennas: number;
  odus: number;
  couplers: number;
  orthomodes: number;
}

/** One end of each kind that crews mostly build, low and high, small dish and large (common practice; our own choice). */
const TYPICAL_ENDS: readonly TypicalEnd[] = [
  row("1+0", "monopole", 20, 0.3, 6, 1, 1, 0, 0),
  row("1+0", "lattice", 45, 0.6, 12, 1, 1, 0, 0),
  row("1+1 hot standby", "lattice", 30, 0.6, 12, 1, 2, 1, 0),
  row("1+1 space diversity", "lattice", 55, 1.2, 38, 2, 2, 0, 0),
  row("2+0 two channels", "monopole", 30, 0.6, 12, 1, 2, 1, 0),
  row("2+0 dual-polar", "lattice", 40, 0.6, 12, 1, 2, 0, 1),
];

function row(
  scheme: Scheme,
  structure: StructureKind,
  mountHeightM: number,
  diameterM: number,
  antennaMassKg: number,
  antennas: number,
  odus: number,
  couplers: number,
  orthomodes: number,
): TypicalEnd {
  return { scheme, structure, mountHeightM, diameterM, antennaMassKg, antennas, odus, couplers, orthomodes };
}

/** Of each cable: over the bridge, indoors, and what each end keeps as a loop. Metres. */
const BRIDGE_M = 8;
const INDOOR_M = 10;
/** A tie each 0.8 m outdoors and each metre indoors comes near what take-offs count. */
const TIE_OUTDOOR_M = 0.8;

/** Work of the yardstick's ends, as a take-off would count it. */
export const YARDSTICK: readonly EndWork[] = TYPICAL_ENDS.map((e, i) => {
  const outdoorM = e.odus * (e.mountHeightM + BRIDGE_M);
  const indoorM = e.odus * INDOOR_M;
  return {
    endId: `yardstick ${i + 1}`,
    scheme: e.scheme,
    structure: e.structure,
    drivers: {
      maxMountHeightM: e.mountHeightM,
      antennaCount: e.antennas,
      largestDiameterM: e.diameterM,
      antennaAreaM2: (e.antennas * Math.PI * e.diameterM ** 2) / 4,
      antennaMassKg: e.antennas * e.antennaMassKg,
      heaviestLiftKg: e.antennaMassKg,
      oduCount: e.odus,
      couplerCount: e.couplers,
      orthomodeCount: e.orthomodes,
      polarisationChanges: 0,
      runCount: e.odus,
      cableM: outdoorM + indoorM,
      outdoorM,
      indoorM,
      connectorCount: 2 * e.odus,
      earthingPointCount: 3 * e.odus,
      oduLeadCount: e.odus,
      wrapCount: 4 * e.odus,
      tieCount: Math.round(outdoorM / TIE_OUTDOOR_M + indoorM),
      entryCount: e.odus,
      bridgeM: e.odus * BRIDGE_M,
    },
    mounting: "direct",
    extraTasks: [],
    largestDiameterM: e.diameterM,
    heaviestLiftKg: e.antennaMassKg,
  };
});

/**
 * Ends that crews are compared on. They are fixed: were they taken from the programme's hops, a hop more would change
 * every crew's hours, and a plan that people work by would break its own rules.
 */
import type { EndWork } from "@/lib/hours";
import type { Scheme, StructureKind } from "@/lib/site";

/** One end of each kind that crews mostly build, low and high, small dish and large (common practice; our own choice). */
const TYPICAL_ENDS: readonly TypicalEnd[] = [
  { scheme: "1+0", structure: "monopole", mountHeightM: 20, diameterM: 0.3, antennaMassKg: 6 },
  { scheme: "1+0", structure: "lattice", mountHeightM: 45, diameterM: 0.6, antennaMassKg: 12 },
  { scheme: "1+1 hot standby", structure: "lattice", mountHeightM: 30, diameterM: 0.6, antennaMassKg: 12 },
  {
    scheme: "1+1 space diversity",
    structure: "lattice",
    mountHeightM: 55,
    diameterM: 1.2,
    antennaMassKg: 38,
  },
  { scheme: "2+0 two channels", structure: "monopole", mountHeightM: 30, diameterM: 0.6, antennaMassKg: 12 },
  { scheme: "2+0 dual-polar", structure: "lattice", mountHeightM: 40, diameterM: 0.6, antennaMassKg: 12 },
];

interface TypicalEnd {
  scheme: Scheme;
  structure: StructureKind;
  mountHeightM: number;
  diameterM: number;
  antennaMassKg: number;
}

/** What a scheme hangs at one end (common practice). */
const EQUIPMENT: Readonly<
  Record<Scheme, { antennas: number; odus: number; couplers: number; orthomodes: number }>
> = {
  "1+0": { antennas: 1, odus: 1, couplers: 0, orthomodes: 0 },
  "1+1 hot standby": { antennas: 1, odus: 2, couplers: 1, orthomodes: 0 },
  "1+1 space diversity": { antennas: 2, odus: 2, couplers: 0, orthomodes: 0 },
  "2+0 two channels": { antennas: 1, odus: 2, couplers: 1, orthomodes: 0 },
  "2+0 dual-polar": { antennas: 1, odus: 2, couplers: 0, orthomodes: 1 },
};

/** Of each cable: over the bridge and indoors, metres. */
const BRIDGE_M = 8;
const INDOOR_M = 10;
/** A tie each 0.8 m outdoors and each metre indoors comes near what take-offs count. */
const TIE_OUTDOOR_M = 0.8;

/** Work of the yardstick's ends, as a take-off would count it. */
export const YARDSTICK: readonly EndWork[] = TYPICAL_ENDS.map((e, i) => {
  const { antennas, odus, couplers, orthomodes } = EQUIPMENT[e.scheme];
  const outdoorM = odus * (e.mountHeightM + BRIDGE_M);
  const indoorM = odus * INDOOR_M;
  return {
    endId: `yardstick ${i + 1}`,
    scheme: e.scheme,
    structure: e.structure,
    drivers: {
      maxMountHeightM: e.mountHeightM,
      antennaCount: antennas,
      largestDiameterM: e.diameterM,
      antennaAreaM2: (antennas * Math.PI * e.diameterM ** 2) / 4,
      antennaMassKg: antennas * e.antennaMassKg,
      heaviestLiftKg: e.antennaMassKg,
      oduCount: odus,
      couplerCount: couplers,
      orthomodeCount: orthomodes,
      polarisationChanges: 0,
      runCount: odus,
      cableM: outdoorM + indoorM,
      outdoorM,
      indoorM,
      connectorCount: 2 * odus,
      earthingPointCount: 3 * odus,
      oduLeadCount: odus,
      wrapCount: 4 * odus,
      tieCount: Math.round(outdoorM / TIE_OUTDOOR_M + indoorM),
      entryCount: odus,
      bridgeM: odus * BRIDGE_M,
    },
    mounting: "direct",
    extraTasks: [],
    largestDiameterM: e.diameterM,
    heaviestLiftKg: e.antennaMassKg,
  };
});

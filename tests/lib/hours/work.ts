/** One maker of ends for the tests of lib/hours, with sane defaults. */
import type { CrewComposition, EndWork } from "@/lib/hours";

export type WorkChanges = Partial<Omit<EndWork, "drivers">> & { drivers?: Partial<EndWork["drivers"]> };

/** A 1+0 end at 40 m on a lattice tower, 0.6 m antenna, one run of 60 m. */
export function endWork(changes: WorkChanges = {}): EndWork {
  const { drivers, ...rest } = changes;
  const work = {
    endId: "E1",
    scheme: "1+0" as const,
    structure: "lattice" as const,
    mounting: "direct" as const,
    extraTasks: [],
    largestDiameterM: 0.6,
    heaviestLiftKg: 20,
    ...rest,
  };
  return {
    ...work,
    drivers: {
      maxMountHeightM: 40,
      antennaCount: 1,
      largestDiameterM: work.largestDiameterM,
      antennaAreaM2: 0.28,
      antennaMassKg: 12,
      heaviestLiftKg: work.heaviestLiftKg,
      oduCount: 1,
      couplerCount: 0,
      orthomodeCount: 0,
      polarisationChanges: 0,
      runCount: 1,
      cableM: 60,
      outdoorM: 48,
      indoorM: 7,
      connectorCount: 2,
      earthingPointCount: 3,
      oduLeadCount: 1,
      wrapCount: 4,
      tieCount: 60,
      entryCount: 1,
      bridgeM: 6,
      ...drivers,
    },
  };
}

/** Hot standby: two ODUs on a coupler, two runs. */
export function standbyWork(changes: WorkChanges = {}): EndWork {
  return endWork({
    scheme: "1+1 hot standby",
    ...changes,
    drivers: {
      oduCount: 2,
      couplerCount: 1,
      runCount: 2,
      cableM: 120,
      outdoorM: 96,
      indoorM: 14,
      bridgeM: 12,
      connectorCount: 4,
      earthingPointCount: 6,
      oduLeadCount: 2,
      wrapCount: 8,
      tieCount: 120,
      ...changes.drivers,
    },
  });
}

/** Two climbers with rescue training who also lend a hand on the ground, a technician, a rigger. */
export const CREW_OF_FOUR: CrewComposition = {
  people: [
    ["climber", "rescue", "ground"],
    ["climber", "rescue", "ground"],
    ["ground", "technician"],
    ["ground", "rigger"],
  ],
};

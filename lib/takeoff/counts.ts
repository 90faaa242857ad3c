/** What an end holds by its protection scheme and design data: the counts that everything else multiplies. */
import type { LinkEnd, Scheme } from "@/lib/site";

export interface SchemeCounts {
  antennas: number;
  odus: number;
  coupling: "none" | "hybrid coupler" | "orthomode coupling";
}

/** One end of a hop by scheme (docs/methods/takeoff.md, "Counts"). */
export const SCHEME_COUNTS: Record<Scheme, SchemeCounts> = {
  "1+0": { antennas: 1, odus: 1, coupling: "none" },
  "1+1 hot standby": { antennas: 1, odus: 2, coupling: "hybrid coupler" },
  "1+1 space diversity": { antennas: 2, odus: 2, coupling: "none" },
  "2+0 dual-polar": { antennas: 1, odus: 2, coupling: "orthomode coupling" },
  "2+0 two channels": { antennas: 1, odus: 2, coupling: "hybrid coupler" },
};

/** Common practice: two connectors a run, two lugs an earthing lead. */
export const CONNECTORS_PER_RUN = 2;

export interface EndCounts {
  antennas: number;
  odus: number;
  /** One cable per ODU. */
  runs: number;
  couplers: number;
  orthomodeCouplings: number;
  remoteOdus: number;
  /**
   * Waveguide joints made: one where an ODU meets its antenna or coupling, two when a flexible waveguide
   * lies between, and one where a coupling meets its antenna.
   */
  waveguideFlanges: number;
}

/**
 * Counts antennas and ODUs from the design data and the coupling from the scheme.
 * Where the two disagree (checks.ts fails the end), the design data is what gets counted, never zero.
 */
export function countEnd(scheme: Scheme, end: LinkEnd): EndCounts {
  const { coupling } = SCHEME_COUNTS[scheme];
  const couplings = coupling === "none" ? 0 : Math.max(1, new Set(end.odus.map((o) => o.antennaLabel)).size);
  const remoteOdus = end.odus.filter((o) => o.mounting === "remote").length;
  return {
    antennas: end.antennas.length,
    odus: end.odus.length,
    runs: end.odus.length,
    couplers: coupling === "hybrid coupler" ? couplings : 0,
    orthomodeCouplings: coupling === "orthomode coupling" ? couplings : 0,
    remoteOdus,
    waveguideFlanges: end.odus.length + remoteOdus + couplings,
  };
}

/** Antennas whose diameter is at least `fromM`, with a hair of slack for decimal diameters. */
export const antennasFrom = (diametersM: readonly number[], fromM: number): number =>
  diametersM.filter((d) => d >= fromM - 1e-9).length;

/** What a rule may count: a closed list. */
import type { Driver } from "./types";

export interface DriverMeaning {
  meaning: string;
  /** What one of it is called in a line's reason, and several. */
  one: string;
  many: string;
  /** Known run by run, so that a rule may round at level "run". */
  perRun: boolean;
  /** Counted antenna by antenna, so that a rule's mounts and polarisations narrow the count: from this diameter, m. */
  antennasFromM?: number;
}

const perEnd = (one: string, meaning: string, many = `${one}s`): DriverMeaning => ({
  one,
  many,
  meaning,
  perRun: false,
});
const perRun = (one: string, meaning: string, many = `${one}s`): DriverMeaning => ({
  one,
  many,
  meaning,
  perRun: true,
});
/** Metres have no plural. */
const metresOf = (what: string, meaning: string): DriverMeaning => perRun(`m ${what}`, meaning, `m ${what}`);
const antennasFrom = (fromM: number, suffix: string, meaning: string): DriverMeaning => ({
  ...perEnd(`antenna${suffix}`, meaning, `antennas${suffix}`),
  antennasFromM: fromM,
});

/** The closed list of drivers with what each counts (docs/methods/takeoff.md prints the same list). */
export const DRIVERS: Readonly<Record<Driver, DriverMeaning>> = {
  hops: perEnd("hop", "1 on the near end, 0 on the far end"),
  ends: perEnd("end", "1"),
  antennas: antennasFrom(0, "", "antenna positions of the end"),
  "antennas from 1.2 m": antennasFrom(1.2, " from 1.2 m", "antennas of 1.2 m and larger"),
  "antennas from 2.4 m": antennasFrom(2.4, " from 2.4 m", "antennas of 2.4 m and larger"),
  ODUs: perRun("ODU", "radio units of the end"),
  "remote ODUs": perRun("remote ODU", "radio units on a pole beside the antenna"),
  couplers: perEnd("coupler", "hybrid couplers, by scheme"),
  "orthomode couplings": perEnd("orthomode coupling", "orthomode couplings, by scheme"),
  "waveguide flanges": perEnd("flange", "waveguide joints made at the end"),
  "polarisation parts to buy": perEnd("part", "polarisation changes whose part is not in the coupler's box"),
  runs: perRun("run", "IF cable runs, one per ODU"),
  "metres of cut cable": metresOf("cut", "sum of the cut lengths"),
  "metres of outdoor route": metresOf("outdoors", "vertical, bridge and tray segments of the runs"),
  "metres of indoor route": metresOf("indoors", "indoor segments of the runs"),
  connectors: perRun("connector", "2 per run"),
  "earthing points": perRun("earthing point", "earthing points along the runs"),
  "ODU earthing leads": perRun("ODU lead", "1 per ODU"),
  "metres of ODU earthing lead": metresOf("lead", "sum of the distances from ODU to earthing bar"),
  wraps: perRun("wrap", "1 per ODU connector, 1 per earthing point, 1 per entry by policy"),
  entries: perRun("entry", "1 per run", "entries"),
  "drip loops": perRun("drip loop", "1 per run"),
  "ties outdoors": perRun("tie", "by the metre of outdoor route, at drip loops, earthing points and wraps"),
  "ties indoors": perRun("tie", "by the metre of indoor route"),
  "cable hangers": perRun("hanger", "by the hanger spacing, where the policy holds the route by hangers"),
  "metres of self-amalgamating tape": metresOf("tape", "from the roll, over all wraps, end loss included"),
  "metres of PVC tape": metresOf("tape", "from the roll, over all wraps, end loss included"),
  IDUs: perEnd("IDU", "1"),
  "IDU power feeds": perEnd("power feed", "1 where the end's order includes the IDU's DC feed"),
};

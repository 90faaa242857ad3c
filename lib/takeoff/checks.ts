/** Checks on the design data of one end. Each says what is wrong, where, and what to do. */
import type { AntennaPosition, LinkEnd, Scheme, Site } from "@/lib/site";
import { SCHEME_COUNTS } from "./counts";
import { figure, metres } from "./rounding";
import { measureRoute } from "./route";
import type { DesignCheck, FullPolicy, TakeoffInput } from "./types";
import { fail, pass, warn } from "./verdict";

/** Heights in design data are read off drawings: a few centimetres are not a contradiction (from memory). */
const HEIGHT_SLACK_M = 0.1;

/** Checks on one end's design data, against its scheme and its site (undefined = the site is not known). */
export function checkEnd(
  hop: Pick<TakeoffInput, "scheme" | "bandGhz">,
  end: LinkEnd,
  site: Site | undefined,
  policy: FullPolicy,
): DesignCheck[] {
  return [
    ...checkSite(end, site),
    ...checkLabels(end),
    ...checkScheme(hop.scheme, end, policy),
    ...checkRadios(hop.bandGhz, end),
    ...checkHeights(end, site, policy),
  ];
}

function checkSite(end: LinkEnd, site: Site | undefined): DesignCheck[] {
  if (!site) {
    return [
      fail("unknown-site", end.side, {
        message: `Site ${end.siteId} is not known: structure, height and earthing bar cannot be checked.`,
        remedy: "Bring in the site or correct the end's site.",
      }),
    ];
  }
  if (site.hasEarthingBar === true) return [];
  const missing = site.hasEarthingBar === false;
  return [
    (missing ? fail : warn)("earthing-bar", end.side, {
      message: missing
        ? `${site.code} has no earthing bar for the runs.`
        : `Whether ${site.code} has an earthing bar is not surveyed.`,
      remedy: missing
        ? "Have the site owner provide an earthing bar before the crew comes; kits and leads are planned all the same."
        : "Survey it; kits and leads are planned as if there were one.",
    }),
  ];
}

function checkLabels(end: LinkEnd): DesignCheck[] {
  const checks: DesignCheck[] = [];
  for (const [what, labels] of [
    ["antenna", end.antennas.map((a): string => a.label)],
    ["ODU", end.odus.map((o) => o.label)],
    ["ODU role", end.odus.map((o): string => o.role)],
  ] as const) {
    for (const label of distinct(labels.filter((l, i) => labels.indexOf(l) !== i))) {
      checks.push(
        fail("duplicate", label, {
          message: `Two entries of this end carry the ${what} ${label}; both are counted.`,
          remedy: "Give each its own, or remove the one entered twice.",
        }),
      );
    }
  }
  return checks;
}

function checkScheme(scheme: Scheme, end: LinkEnd, policy: FullPolicy): DesignCheck[] {
  const expected = SCHEME_COUNTS[scheme];
  const checks: DesignCheck[] = [];
  for (const [rule, what, found, wanted] of [
    ["scheme-antennas", "antenna", end.antennas.length, expected.antennas],
    ["scheme-odus", "ODU", end.odus.length, expected.odus],
  ] as const) {
    if (found === wanted) continue;
    checks.push(
      fail(rule, end.side, {
        message: `${scheme} has ${wanted} ${what}${wanted === 1 ? "" : "s"} per end, the design data ${found}; ${found} counted.`,
        remedy: `Correct the scheme or the ${what} list.`,
        figure: found,
        limit: wanted,
        unit: "",
      }),
    );
  }
  if (expected.odus !== 2 || end.odus.length !== 2) return checks;
  const polarisations = distinct(end.odus.map((o) => o.polarisation));
  const wantsBoth = scheme === "2+0 dual-polar";
  if (wantsBoth !== (polarisations.length === 2)) {
    checks.push(
      fail("scheme-polarisations", end.side, {
        message: wantsBoth
          ? `2+0 dual-polar has one ODU on V and one on H; both are on ${polarisations[0]}.`
          : `${scheme} has both ODUs on one polarisation; the design data has V and H.`,
        remedy: "Correct the ODUs' polarisations or the scheme.",
      }),
    );
  }
  if (scheme === "1+1 space diversity" && end.antennas.length === 2) {
    checks.push(checkDiversity(end.antennas, end.side, policy));
  }
  const antennasUsed = distinct(end.odus.map((o) => o.antennaLabel)).length;
  if (antennasUsed !== expected.antennas) {
    checks.push(
      fail("scheme-feeds", end.side, {
        message: `${scheme} feeds ${expected.antennas} antenna${expected.antennas === 1 ? "" : "s"} per end; the ODUs feed ${antennasUsed}.`,
        remedy: "Correct which antenna each ODU feeds.",
      }),
    );
  }
  return checks;
}

function checkDiversity(
  antennas: readonly AntennaPosition[],
  where: string,
  policy: FullPolicy,
): DesignCheck {
  const differenceM = Math.abs(antennas[0]!.mountHeightM - antennas[1]!.mountHeightM);
  const { diversityMinM, diversityMaxM } = policy;
  const isUsual =
    differenceM >= diversityMinM - HEIGHT_SLACK_M && differenceM <= diversityMaxM + HEIGHT_SLACK_M;
  return (isUsual ? pass : warn)("diversity-spacing", where, {
    message: `The diversity antennas stand ${metres(differenceM)} m apart; usual is ${figure(diversityMinM)} to ${figure(diversityMaxM)} m.`,
    remedy: isUsual ? "None needed." : "Check both mount heights against the path calculation.",
    figure: differenceM,
    limit: differenceM < diversityMinM ? diversityMinM : diversityMaxM,
    unit: "m",
  });
}

function checkRadios(bandGhz: number, end: LinkEnd): DesignCheck[] {
  const checks: DesignCheck[] = [];
  const antennas = new Map(end.antennas.map((a) => [a.label, a]));
  for (const antenna of end.antennas) {
    if (antenna.bandGhz !== bandGhz)
      checks.push(wrongBand(antenna.label, "antenna", antenna.bandGhz, bandGhz));
  }
  for (const odu of end.odus) {
    if (odu.bandGhz !== bandGhz) checks.push(wrongBand(odu.label, "ODU", odu.bandGhz, bandGhz));
    const antenna = antennas.get(odu.antennaLabel);
    if (!antenna) {
      checks.push(
        fail("unknown-antenna", odu.label, {
          message: `ODU ${odu.label} feeds antenna ${odu.antennaLabel}, which this end does not have; its run is planned from the highest antenna.`,
          remedy: "Correct the antenna label.",
        }),
      );
    } else if (!antenna.polarisations.includes(odu.polarisation)) {
      checks.push(
        fail("odu-polarisation", odu.label, {
          message: `ODU ${odu.label} works on ${odu.polarisation}, antenna ${antenna.label} on ${antenna.polarisations.join(" and ")}.`,
          remedy: "Correct the polarisation of one of them.",
        }),
      );
    }
  }
  const halves = distinct(end.odus.map((o) => o.half));
  if (halves.length > 1) {
    checks.push(
      fail("end-halves", end.side, {
        message: "The ODUs of this end transmit in different halves.",
        remedy: "All ODUs of one end transmit in the same half: correct the one that differs.",
      }),
    );
  }
  return checks;
}

function checkHeights(end: LinkEnd, site: Site | undefined, policy: FullPolicy): DesignCheck[] {
  const checks: DesignCheck[] = [];
  if (site) {
    for (const antenna of end.antennas) {
      if (antenna.mountHeightM <= site.structureHeightM + HEIGHT_SLACK_M) continue;
      checks.push(
        fail("mount-above-structure", antenna.label, {
          message: `Antenna ${antenna.label} is mounted at ${metres(antenna.mountHeightM)} m on a structure of ${metres(site.structureHeightM)} m.`,
          remedy: "Correct the mount height or the structure height.",
          figure: antenna.mountHeightM,
          limit: site.structureHeightM,
          unit: "m",
        }),
      );
    }
  }
  for (const odu of end.odus) {
    const route = measureRoute(odu.route);
    if (route.outdoorM <= 0) {
      checks.push(
        fail("no-route", odu.label, {
          message: `The run of ${odu.label} has no outdoor part: no earthing point can be placed and the cut length is only ${metres(route.routeM)} m and surplus.`,
          remedy: "Enter the route from the ODU down to the IDU.",
          figure: route.outdoorM,
          limit: 0,
          unit: "m",
        }),
      );
      continue;
    }
    const mountHeightM = mountHeightOf(end, odu.antennaLabel);
    // On a roof the drop to the entry depends on the building, so only a given entry height is held against it.
    if (end.entryHeightM === undefined && site?.structure === "roof") continue;
    const entryHeightM = end.entryHeightM ?? policy.entryHeightM;
    const neededM = mountHeightM - entryHeightM;
    if (route.verticalM >= neededM - HEIGHT_SLACK_M) continue;
    checks.push(
      fail("vertical-short", odu.label, {
        message: `The run of ${odu.label} goes down ${metres(route.verticalM)} m, from ${metres(mountHeightM)} m to an entry at ${metres(entryHeightM)} m${end.entryHeightM === undefined ? " (assumed)" : ""} it needs ${metres(neededM)} m.`,
        remedy: "Correct the vertical segments or the mount height, or give the entry height of this end.",
        figure: route.verticalM,
        limit: neededM,
        unit: "m",
      }),
    );
  }
  return checks;
}

/** Mount height of the antenna that a run starts from, m; the highest one when the label is unknown. */
export function mountHeightOf(end: LinkEnd, antennaLabel: string): number {
  const antenna = end.antennas.find((a) => a.label === antennaLabel);
  return antenna?.mountHeightM ?? end.antennas.reduce((top, a) => Math.max(top, a.mountHeightM), 0);
}

const wrongBand = (where: string, what: string, found: number, hopGhz: number): DesignCheck =>
  fail("hop-band", where, {
    message: `The ${what} ${where} is for ${figure(found)} GHz, the hop for ${figure(hopGhz)} GHz.`,
    remedy: "Correct the band of one of them.",
  });

const distinct = <T>(values: readonly T[]): T[] => [...new Set(values)];

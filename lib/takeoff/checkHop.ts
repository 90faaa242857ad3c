/** Checks that need both ends of a hop. Each says what is wrong, where, and what to do. */
import { distanceKm } from "@/lib/geo";
import type { LinkEnd, Scheme, Site } from "@/lib/site";
import { SCHEME_COUNTS } from "./counts";
import { figure } from "./rounding";
import type { DesignCheck, FullPolicy, TakeoffInput } from "./types";
import { fail, pass, warn } from "./verdict";

/** Checks that need both ends: transmit halves, band, polarisation, hop length, one scheme on both ends. */
export function checkHop(
  hop: TakeoffInput,
  sites: ReadonlyMap<string, Site>,
  policy: FullPolicy,
): DesignCheck[] {
  const { near, far } = hop;
  const checks: DesignCheck[] = [];
  if (near.siteId === far.siteId) {
    checks.push(
      fail("same-site", "both ends", {
        message: `Both ends are on site ${near.siteId}.`,
        remedy: "A hop joins two sites: correct one end.",
      }),
    );
  }
  const nearHalves = distinct(near.odus.map((o) => o.half));
  const shared = distinct(far.odus.map((o) => o.half)).filter((half) => nearHalves.includes(half));
  if (shared.length > 0) {
    checks.push(
      fail("half-clash", "both ends", {
        message: `Both ends transmit in the ${shared.join(" and ")} half.`,
        remedy: "One end of a hop transmits in the high half, the other in the low half: correct one end.",
      }),
    );
  } else if (near.odus.length > 0 && far.odus.length > 0) {
    checks.push(
      pass("half-clash", "both ends", {
        message: `Near end transmits ${nearHalves.join("/")}, far end the other half.`,
        remedy: "None needed.",
      }),
    );
  }
  checks.push(
    ...differing("band-mismatch", "band (GHz)", near, far, (e) => e.odus.map((o) => o.bandGhz)),
    ...differing("sub-band-mismatch", "sub-band", near, far, (e) => e.odus.map((o) => o.subBand)),
    ...differing("duplex-mismatch", "duplex spacing (MHz)", near, far, (e) =>
      e.odus.map((o) => o.duplexSpacingMhz),
    ),
    ...differing("polarisation-mismatch", "polarisation", near, far, (e) =>
      e.odus.map((o) => o.polarisation),
    ),
  );
  const nearFits = schemesThatFit(near);
  const farFits = schemesThatFit(far);
  if (nearFits.length > 0 && farFits.length > 0 && !nearFits.some((s) => farFits.includes(s))) {
    checks.push(
      fail("two-schemes", "both ends", {
        message: `The near end looks like ${nearFits.join(" or ")}, the far end like ${farFits.join(" or ")}; the hop says ${hop.scheme}.`,
        remedy: "Both ends of a hop have one protection scheme: correct the end that differs.",
      }),
    );
  }
  checks.push(...checkLength(hop, sites, policy));
  return checks;
}

function checkLength(hop: TakeoffInput, sites: ReadonlyMap<string, Site>, policy: FullPolicy): DesignCheck[] {
  const from = sites.get(hop.near.siteId);
  const to = sites.get(hop.far.siteId);
  if (!from || !to) return []; // each end says that its site is unknown
  if (!from.position || !to.position) {
    return [
      warn("hop-length", "both ends", {
        message: `No coordinates for ${[from, to]
          .filter((s) => !s.position)
          .map((s) => s.code)
          .join(" and ")}: the hop's length is not checked.`,
        remedy: "Survey the coordinates.",
      }),
    ];
  }
  const lengthKm = distanceKm(from.position, to.position);
  const figures = { figure: Math.round(lengthKm * 1000) / 1000, unit: "km" };
  if (lengthKm * 1000 < policy.hopMinM) {
    return [
      fail("hop-length", "both ends", {
        message: `The two sites lie ${figure(lengthKm * 1000, 0)} m apart.`,
        remedy: "Check that the ends are on two different sites and that both coordinates are right.",
        ...figures,
        limit: policy.hopMinM / 1000,
      }),
    ];
  }
  if (lengthKm > policy.hopMaxKm) {
    return [
      fail("hop-length", "both ends", {
        message: `The two sites lie ${figure(lengthKm, 0)} km apart.`,
        remedy: "Check the coordinates' signs and whether latitude and longitude changed places.",
        ...figures,
        limit: policy.hopMaxKm,
      }),
    ];
  }
  return [
    pass("hop-length", "both ends", {
      message: `The two sites lie ${figure(lengthKm, 2)} km apart.`,
      remedy: "None needed.",
      ...figures,
      limit: policy.hopMaxKm,
    }),
  ];
}

function differing(
  rule: string,
  what: string,
  near: LinkEnd,
  far: LinkEnd,
  of: (end: LinkEnd) => readonly (string | number)[],
): DesignCheck[] {
  const n = distinct(of(near)).sort().join("/");
  const f = distinct(of(far)).sort().join("/");
  if (n === f || n === "" || f === "") return [];
  return [
    fail(rule, "both ends", {
      message: `The ends differ in ${what}: near ${n}, far ${f}.`,
      remedy: "Both ends of a hop work on the same: correct the end that differs.",
    }),
  ];
}

/** Schemes whose counts of antennas and ODUs this end has; empty when it fits none. */
function schemesThatFit(end: LinkEnd): Scheme[] {
  const bothPolarisations = distinct(end.odus.map((o) => o.polarisation)).length === 2;
  return (Object.keys(SCHEME_COUNTS) as Scheme[]).filter(
    (s) =>
      SCHEME_COUNTS[s].antennas === end.antennas.length &&
      SCHEME_COUNTS[s].odus === end.odus.length &&
      (end.odus.length < 2 || bothPolarisations === (s === "2+0 dual-polar")),
  );
}

const distinct = <T>(values: readonly T[]): T[] => [...new Set(values)];

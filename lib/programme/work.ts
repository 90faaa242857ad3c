/** From a link end and its take-off to what the hours estimate asks for. */
import type { EndWork, HopWork } from "@/lib/hours";
import type { EndSide, Hop, LinkEnd, Site } from "@/lib/site";
import type { EndTakeoff, HopTakeoff } from "@/lib/takeoff";

export function endWork(hop: Hop, end: LinkEnd, site: Site, takeoff: EndTakeoff): EndWork {
  const { drivers } = takeoff;
  return {
    endId: end.id,
    scheme: hop.scheme,
    structure: site.structure,
    drivers,
    mounting: end.odus.every((o) => o.mounting === "direct") ? "direct" : "remote",
    extraTasks: takeoff.extraTasks,
    largestDiameterM: drivers.largestDiameterM,
    heaviestLiftKg: drivers.heaviestLiftKg,
  };
}

/** The alignment seen from one side: of both ends at once it is the same work from either. */
export function hopWork(
  hop: Hop,
  side: EndSide,
  sites: ReadonlyMap<string, Site>,
  takeoff: Pick<HopTakeoff, EndSide>,
): HopWork {
  const view = (of: EndSide) => ({
    structure: sites.get(hop[of].siteId)?.structure ?? ("lattice" as const),
    maxMountHeightM: takeoff[of].drivers.maxMountHeightM,
    largestDiameterM: takeoff[of].drivers.largestDiameterM,
  });
  const isJoint = hop.alignment === "both ends at once";
  return {
    hopId: hop.id,
    scheme: hop.scheme,
    near: view(isJoint ? "near" : side),
    far: view(isJoint ? "far" : side),
    ...(isJoint ? {} : { isOneEnd: true }),
    ...(hop.acceptance === "own visit" ? { isAcceptedLater: true } : {}),
  };
}

/** Aligning again what a reading found off: one path of the scheme, the readings taken with it. */
export function realignWork({ isAcceptedLater: _, ...work }: HopWork): HopWork {
  return { ...work, scheme: work.scheme === "1+1 space diversity" ? "1+0" : work.scheme };
}

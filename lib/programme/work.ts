/** From a link end and its take-off to what the hours estimate asks for. */
import type { EndWork, HopWork } from "@/lib/hours";
import type { Hop, LinkEnd, Site } from "@/lib/site";
import type { EndTakeoff } from "@/lib/takeoff";

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

export function hopWork(
  hop: Hop,
  sites: ReadonlyMap<string, Site>,
  near: EndTakeoff,
  far: EndTakeoff,
): HopWork {
  const view = (end: LinkEnd, t: EndTakeoff) => ({
    structure: sites.get(end.siteId)?.structure ?? ("lattice" as const),
    maxMountHeightM: t.drivers.maxMountHeightM,
    largestDiameterM: t.drivers.largestDiameterM,
  });
  return { hopId: hop.id, scheme: hop.scheme, near: view(hop.near, near), far: view(hop.far, far) };
}

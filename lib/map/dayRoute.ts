/** A crew's day on the map: where it wakes, its visits in order, where it sleeps. */
import { distanceKm, type LatLon } from "@/lib/geo";
import { addDays, type CalendarDate } from "@/lib/time";

export interface RouteVisit {
  visitId: string;
  hopCode: string;
  siteCode: string;
  siteName: string;
  /** Undefined: the design data have no coordinate. */
  position?: LatLon;
  startOn: CalendarDate;
  startMin: number;
  endOn: CalendarDate;
  endMin: number;
}

export interface RouteStop extends RouteVisit {
  /** From 1 in the order of the day. */
  no: number;
  /** Begun on an earlier day; goes on after this one. */
  isBegun: boolean;
  goesOn: boolean;
}

/** A night before or after the day, away from the depot; `siteCode` is where the crew's work stopped. */
export interface NightAt {
  siteCode: string;
  siteName: string;
  position?: LatLon;
}

export interface DayRoute {
  stops: readonly RouteStop[];
  /** Undefined: the crew comes from (goes home to) its depot. */
  nightBefore?: NightAt;
  nightAfter?: NightAt;
  /** Where the line goes, as far as positions are known. */
  path: readonly LatLon[];
  /** Along the path in straight lines; undefined when a position on the way is missing. */
  straightKm?: number;
}

/**
 * @param visits of one crew, in any order
 * @param nights dates after whose work this crew sleeps away
 */
export function dayRoute(
  on: CalendarDate,
  depot: LatLon | undefined,
  visits: readonly RouteVisit[],
  nights: readonly CalendarDate[],
): DayRoute {
  const inOrder = [...visits].sort((a, b) =>
    a.startOn === b.startOn ? a.startMin - b.startMin : a.startOn < b.startOn ? -1 : 1,
  );
  const stops = inOrder
    .filter((v) => v.startOn <= on && v.endOn >= on)
    .map((v, i): RouteStop => ({ ...v, no: i + 1, isBegun: v.startOn < on, goesOn: v.endOn > on }));
  const nightBefore = nightAfterWork(addDays(on, -1), inOrder, nights);
  const nightAfter = nightAfterWork(on, inOrder, nights);
  if (stops.length === 0) return { stops, nightBefore, nightAfter, path: [] };
  const way = [
    nightBefore ? nightBefore.position : depot,
    ...stops.map((s) => s.position),
    nightAfter ? nightAfter.position : depot,
  ];
  const path = way.filter((p): p is LatLon => p !== undefined);
  const straightKm = path.slice(1).reduce((sum, p, i) => sum + distanceKm(path[i]!, p), 0);
  return {
    stops,
    nightBefore,
    nightAfter,
    path,
    straightKm: path.length === way.length ? straightKm : undefined,
  };
}

/** A crew sleeps where it stopped: at the site of the last visit that it began by then. */
function nightAfterWork(
  on: CalendarDate,
  inOrder: readonly RouteVisit[],
  nights: readonly CalendarDate[],
): NightAt | undefined {
  const last = nights.includes(on) ? inOrder.filter((v) => v.startOn <= on).at(-1) : undefined;
  return last && { siteCode: last.siteCode, siteName: last.siteName, position: last.position };
}

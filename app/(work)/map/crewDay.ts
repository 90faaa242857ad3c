import type { LatLon } from "@/lib/geo";
import type { DayRoute } from "@/lib/map";

/** What day/route.ts answers. */
export interface CrewDay extends DayRoute {
  depot: { name: string; position?: LatLon };
  /** Visits of the day outside the regions that this account sees. */
  hiddenStops: number;
}

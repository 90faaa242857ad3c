/** When a crew is on site: its set-up comes before the work begins, as far as it is not set up there already. */
import type { CalendarDate } from "@/lib/time";

/**
 * Minute of the day from which a crew is on site. Before midnight it is negative. null = the visit has no place or no
 * estimate.
 */
export const onSiteFromMin = (startMin: number | null, setupMin: number | null): number | null =>
  startMin === null || setupMin === null ? null : startMin - Math.ceil(setupMin);

interface CrewVisit {
  visitId: string;
  siteCode: string;
  startOn: CalendarDate | null;
  startMin: number | null;
  endOn: CalendarDate | null;
}

/**
 * Set-up still due before a visit, minutes: a crew that goes on at the same site on the same day has set up as far as the
 * visits just before it asked for, as the plan reckons it (lib/schedule). null = not estimated.
 * @param ofCrew   visits of its crew in the same plan
 * @param setupOf  whole set-up of a visit, minutes
 */
export function setupDueMin<V extends CrewVisit>(
  visit: V,
  ofCrew: readonly V[],
  setupOf: (visit: V) => number | null,
): number | null {
  const own = setupOf(visit);
  const { startOn: on, startMin } = visit;
  if (own === null || on === null || startMin === null) return own;
  const before = ofCrew
    .filter((o) => o.visitId !== visit.visitId && o.startOn !== null && o.endOn! >= on)
    .filter((o) => o.startOn! < on || (o.startOn === on && o.startMin! < startMin))
    .sort((a, b) => (a.startOn === b.startOn ? b.startMin! - a.startMin! : a.startOn! < b.startOn! ? 1 : -1));
  const elsewhere = before.findIndex((o) => o.siteCode !== visit.siteCode);
  const here = elsewhere < 0 ? before : before.slice(0, elsewhere);
  return Math.max(0, own - Math.max(0, ...here.map((o) => setupOf(o) ?? 0)));
}

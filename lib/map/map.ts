/** Which marks a map draws: every site by itself while there is room, else groups that say how many they hold. */
import type { WorldPosition } from "@/lib/geo";
import { worldPx } from "./view";

export interface MapMark extends WorldPosition {
  /** Indices into the points; one = the point itself. */
  members: readonly number[];
}

/** Fewer points than this are never grouped: a programme of this size is looked at site by site. */
export const GROUPED_FROM = 400;
/** Marks are some 20 px wide; closer than this they hide each other. */
const CELL_PX = 46;
/** From here on the closest sites of a programme stand apart anyway. */
const SINGLE_FROM_ZOOM = 13;

/**
 * Points by the cells of a grid that is fixed to the world, so that moving the map never regroups; a group stands at
 * the mean of its members. In the order of the cells' first points.
 */
export function mapMarks(points: readonly WorldPosition[], zoom: number): MapMark[] {
  const level = Math.floor(zoom);
  if (points.length < GROUPED_FROM || level >= SINGLE_FROM_ZOOM)
    return points.map((point, i) => ({ x: point.x, y: point.y, members: [i] }));
  const perCell = worldPx(level) / CELL_PX;
  const cells = new Map<string, number[]>();
  points.forEach(({ x, y }, i) => {
    const key = `${Math.floor(x * perCell)} ${Math.floor(y * perCell)}`;
    const cell = cells.get(key);
    if (cell) cell.push(i);
    else cells.set(key, [i]);
  });
  return [...cells.values()].map((members) => ({
    x: members.reduce((sum, i) => sum + points[i]!.x, 0) / members.length,
    y: members.reduce((sum, i) => sum + points[i]!.y, 0) / members.length,
    members,
  }));
}

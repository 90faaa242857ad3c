/** What lies under a finger or pointer. */
import type { MapMark, MapSize, MapView } from "@/lib/map";
import { groupPx, MARK_PX, type Picked, toPx } from "./draw";
import type { Scene } from "./scene";

export type Hit = { kind: "group"; mark: MapMark } | Picked;

/** @param reachPx how far beside a mark or line counts: more for a finger than for a mouse */
export function hitAt(
  scene: Scene,
  frame: { view: MapView; size: MapSize },
  at: { x: number; y: number },
  reachPx: number,
): Hit | undefined {
  let best: { hit: Hit; far: number } | undefined;
  for (const mark of scene.marksAt(frame.view.zoom)) {
    const p = toPx(frame, mark);
    const count = mark.members.length;
    const far = Math.hypot(p.x - at.x, p.y - at.y) - (count === 1 ? MARK_PX : groupPx(count));
    if (far <= reachPx && (!best || far < best.far)) {
      const site = scene.sites[mark.members[0]!]!;
      best = { far, hit: count === 1 ? { kind: "site", code: site.row.code } : { kind: "group", mark } };
    }
  }
  if (best) return best.hit;
  for (const hop of scene.hops) {
    const far = farFromLine(at, toPx(frame, hop.near), toPx(frame, hop.far));
    if (far <= reachPx && (!best || far < best.far)) best = { far, hit: { kind: "hop", code: hop.row.code } };
  }
  return best?.hit;
}

interface Point {
  x: number;
  y: number;
}

/** Distance of a point from a line between two ends. */
export function farFromLine(p: Point, a: Point, b: Point): number {
  const length2 = (b.x - a.x) ** 2 + (b.y - a.y) ** 2;
  const along = length2 === 0 ? 0 : ((p.x - a.x) * (b.x - a.x) + (p.y - a.y) * (b.y - a.y)) / length2;
  const t = Math.min(1, Math.max(0, along));
  return Math.hypot(p.x - a.x - t * (b.x - a.x), p.y - a.y - t * (b.y - a.y));
}

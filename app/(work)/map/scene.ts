/** What is on the map, in shares of the world: laid out once when rows or filters change, not on every frame. */
import type { StateName } from "@/app/_ui/states";
import type { SiteState } from "@/db/queries/siteViews";
import { type LatLon, toWorld, type WorldPosition } from "@/lib/geo";
import { type MapMark, mapMarks, type Outline } from "@/lib/map";
import { HOP_STATE } from "../hops/hopStates";

/** A site as the page sends it. */
export interface MapSiteRow {
  code: string;
  name: string;
  region: string;
  state: SiteState;
  latDeg: number | null;
  lonDeg: number | null;
  nextVisitOn: string | null;
  /** Outside the regions of this account: drawn as the end of a hop, not listed. */
  isOutside: boolean;
}

export interface MapHopRow {
  code: string;
  region: string;
  state: SiteState;
  nearSite: string | null;
  farSite: string | null;
  lengthKm: number | null;
  promisedOn: string | null;
  plannedOn: string | null;
  /** Codes of its crews by the plan in force, between spaces. */
  crews: string;
}

export interface Filters {
  text: string;
  state: string;
  region: string;
  crew: string;
}

export interface SceneSite extends WorldPosition {
  row: MapSiteRow;
  state: StateName;
}

export interface SceneHop {
  row: MapHopRow;
  state: StateName;
  near: WorldPosition;
  far: WorldPosition;
}

export interface SceneOutline {
  outline: Outline;
  /** x and y in turn, by line. */
  lines: readonly Float64Array[];
  west: number;
  east: number;
  north: number;
  south: number;
}

export interface Scene {
  sites: readonly SceneSite[];
  hops: readonly SceneHop[];
  marksAt: (zoom: number) => readonly MapMark[];
}

const holds = (text: string, ...parts: (string | null)[]) =>
  parts.some((part) => part?.toLowerCase().includes(text));

export function hopsThatPass(hops: readonly MapHopRow[], filters: Filters): MapHopRow[] {
  const text = filters.text.trim().toLowerCase();
  return hops.filter(
    (h) =>
      (!filters.state || h.state === filters.state) &&
      (!filters.region || h.region === filters.region) &&
      (!filters.crew || h.crews.includes(` ${filters.crew} `)) &&
      (!text || holds(text, h.code, h.nearSite, h.farSite)),
  );
}

/** A site passes by itself, or, where only hops know the answer (crew), with a hop that does. */
export function sitesThatPass(
  sites: readonly MapSiteRow[],
  hops: readonly MapHopRow[],
  filters: Filters,
): MapSiteRow[] {
  const text = filters.text.trim().toLowerCase();
  const ends = new Set(hops.flatMap((h) => [h.nearSite, h.farSite]));
  return sites.filter(
    (s) =>
      !s.isOutside &&
      (!filters.state || s.state === filters.state) &&
      (!filters.region || s.region === filters.region) &&
      (!filters.crew || ends.has(s.code)) &&
      (!text || holds(text, s.code, s.name)),
  );
}

/** Sites that are drawn: those that pass, and the ends of the hops that do. */
export function buildScene(
  sites: readonly MapSiteRow[],
  shownSites: readonly MapSiteRow[],
  shownHops: readonly MapHopRow[],
): Scene {
  const wanted = new Set<string | null>(shownSites.map((s) => s.code));
  for (const hop of shownHops) wanted.add(hop.nearSite).add(hop.farSite);
  const drawn = sites.flatMap((row): SceneSite[] =>
    wanted.has(row.code) && row.latDeg !== null && row.lonDeg !== null
      ? [
          {
            row,
            state: row.isOutside ? "none" : HOP_STATE[row.state].state,
            ...toWorld({ latDeg: row.latDeg, lonDeg: row.lonDeg }),
          },
        ]
      : [],
  );
  const at = new Map(drawn.map((site) => [site.row.code, site]));
  const hops = shownHops.flatMap((row): SceneHop[] => {
    const near = at.get(row.nearSite ?? "");
    const far = at.get(row.farSite ?? "");
    return near && far ? [{ row, state: HOP_STATE[row.state].state, near, far }] : [];
  });
  const kept = new Map<number, readonly MapMark[]>();
  return {
    sites: drawn,
    hops,
    marksAt: (zoom) => {
      const level = Math.floor(zoom);
      const known = kept.get(level);
      if (known) return known;
      const made = mapMarks(drawn, level);
      kept.set(level, made);
      return made;
    },
  };
}

export function sceneOutlines(outlines: readonly Outline[]): SceneOutline[] {
  return outlines.map((outline) => {
    const box = { west: 1, east: 0, north: 1, south: 0 };
    const lines = outline.lines.map((flat) => {
      const out = new Float64Array(flat.length);
      for (let i = 0; i < flat.length; i += 2) {
        const { x, y } = toWorld({ lonDeg: flat[i]!, latDeg: flat[i + 1]! } satisfies LatLon);
        out[i] = x;
        out[i + 1] = y;
        box.west = Math.min(box.west, x);
        box.east = Math.max(box.east, x);
        box.north = Math.min(box.north, y);
        box.south = Math.max(box.south, y);
      }
      return out;
    });
    return { outline, lines, ...box };
  });
}

/** The worst of a group's states is what its mark shows. */
const WORST_FIRST: readonly StateName[] = [
  "late",
  "warn",
  "hold",
  "unplaced",
  "under way",
  "planned",
  "done",
  "none",
];

export function worstState(scene: Scene, mark: MapMark): StateName {
  let worst = WORST_FIRST.length - 1;
  for (const i of mark.members) worst = Math.min(worst, WORST_FIRST.indexOf(scene.sites[i]!.state));
  return WORST_FIRST[Math.max(0, worst)]!;
}

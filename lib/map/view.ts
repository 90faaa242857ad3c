/** What part of the world a map shows, as an address can carry it. Sizes in px of the page. */
import { fromWorld, type LatLon, MERCATOR_RADIUS_M, toWorld, type WorldPosition } from "@/lib/geo";

/** The middle of the map, and the zoom: at zoom z the world is 256 * 2^z px wide, as with tiles. */
export interface MapView extends WorldPosition {
  zoom: number;
}

export interface MapSize {
  widthPx: number;
  heightPx: number;
}

export const TILE_PX = 256;
export const ZOOM_LEAST = 2;
/** About 0.3 m of ground to the pixel: beyond that a site is a point like any other. */
export const ZOOM_MOST = 19;
/** A place alone is shown with its surroundings: some 20 km across a screen. */
const ZOOM_OF_ONE = 12;
/** Room for the marks at the edge, px. */
const MARGIN_PX = 48;

export const worldPx = (zoom: number): number => TILE_PX * 2 ** zoom;

const between = (least: number, value: number, most: number) => Math.min(most, Math.max(least, value));

const clampZoom = (zoom: number) => between(ZOOM_LEAST, zoom, ZOOM_MOST);

/** The view that shows all points; of none, the whole world. */
export function fitView(points: readonly WorldPosition[], size: MapSize): MapView {
  if (points.length === 0) return { x: 0.5, y: 0.5, zoom: ZOOM_LEAST };
  let [west, east, north, south] = [Infinity, -Infinity, Infinity, -Infinity];
  for (const { x, y } of points) {
    west = Math.min(west, x);
    east = Math.max(east, x);
    north = Math.min(north, y);
    south = Math.max(south, y);
  }
  const freeW = Math.max(1, size.widthPx - 2 * MARGIN_PX);
  const freeH = Math.max(1, size.heightPx - 2 * MARGIN_PX);
  const width = Math.max(east - west, Number.EPSILON);
  const height = Math.max(south - north, Number.EPSILON);
  const zoom = Math.log2(Math.min(freeW / width, freeH / height) / TILE_PX);
  return {
    x: (west + east) / 2,
    y: (north + south) / 2,
    zoom: clampZoom(points.length === 1 ? Math.min(ZOOM_OF_ONE, zoom) : zoom),
  };
}

/** Moved so that what lay under a finger lies `dxPx`, `dyPx` further on. Stays on the world. */
export function panBy(view: MapView, dxPx: number, dyPx: number): MapView {
  const px = worldPx(view.zoom);
  return { ...view, x: between(0, view.x - dxPx / px, 1), y: between(0, view.y - dyPx / px, 1) };
}

/** Zoomed by `steps` (1 = twice as close) so that the point `fromMid` px from the middle stays where it is. */
export function zoomAbout(view: MapView, steps: number, fromMid: { xPx: number; yPx: number }): MapView {
  const zoom = clampZoom(view.zoom + steps);
  const before = worldPx(view.zoom);
  const after = worldPx(zoom);
  return {
    x: between(0, view.x + fromMid.xPx / before - fromMid.xPx / after, 1),
    y: between(0, view.y + fromMid.yPx / before - fromMid.yPx / after, 1),
    zoom,
  };
}

/** Pixels to a kilometre of ground at the middle of the map. */
export function pxPerKm(view: MapView): number {
  const { latDeg } = fromWorld(view);
  const groundM = 2 * Math.PI * MERCATOR_RADIUS_M * Math.cos((latDeg * Math.PI) / 180);
  return (worldPx(view.zoom) / groundM) * 1000;
}

/** `latitude,longitude,zoom`: short enough for an address, fine enough for a mast. */
export function viewText(view: MapView): string {
  const { latDeg, lonDeg } = fromWorld(view);
  return `${latDeg.toFixed(5)},${lonDeg.toFixed(5)},${view.zoom.toFixed(2)}`;
}

/** Undefined for whatever is no view: an address may have been typed. */
export function parseView(text: string | null | undefined): MapView | undefined {
  const parts = text?.split(",") ?? [];
  if (parts.length !== 3 || parts.some((part) => part.trim() === "")) return undefined;
  const [latDeg, lonDeg, zoom] = parts.map(Number) as [number, number, number];
  const isOnEarth = Math.abs(latDeg) <= 90 && Math.abs(lonDeg) <= 180;
  return isOnEarth && Number.isFinite(zoom)
    ? { ...toWorld({ latDeg, lonDeg } satisfies LatLon), zoom: clampZoom(zoom) }
    : undefined;
}

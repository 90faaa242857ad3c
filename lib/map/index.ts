export { type DayRoute, dayRoute, type NightAt, type RouteStop, type RouteVisit } from "./dayRoute";
export { GROUPED_FROM, type MapMark, mapMarks } from "./map";
export {
  MAX_OUTLINE_BYTES,
  MAX_POSITIONS,
  OUTLINE_KINDS,
  type Outline,
  type OutlineKind,
  parseOutlines,
} from "./outlines";
export { parseTileTemplate, type Tile, tileAt, tileOrigin, tilesIn } from "./tiles";
export {
  fitView,
  type MapSize,
  type MapView,
  panBy,
  parseView,
  pxPerKm,
  viewText,
  worldPx,
  ZOOM_LEAST,
  ZOOM_MOST,
  zoomAbout,
} from "./view";

/** A sheet of paper for the map: positions in px, y down. */
export interface Sheet {
  widthPx: number;
  heightPx: number;
  marginPx: number;
}

export interface Projection {
  x: (lonDeg: number) => number;
  y: (latDeg: number) => number;
  /** Pixels per kilometre, the same in both directions at the middle of the sheet. */
  pxPerKm: number;
}

const KM_PER_DEG = 111.195; // 2 pi 6371.0088 km / 360, mean earth radius

/**
 * Fits all positions on the sheet, north up, equirectangular about their middle latitude. Good to a few
 * per cent over a programme's few hundred kilometres; lengths shown beside it come from lib/geo instead.
 * One position alone, or none, gives a sheet 20 km wide.
 */
export function fitProjection(
  points: readonly { latDeg: number; lonDeg: number }[],
  sheet: Sheet,
): Projection {
  const lats = points.map((p) => p.latDeg);
  const lons = points.map((p) => p.lonDeg);
  const [south, north] = points.length > 0 ? [Math.min(...lats), Math.max(...lats)] : [0, 0];
  const [west, east] = points.length > 0 ? [Math.min(...lons), Math.max(...lons)] : [0, 0];
  const midLat = (south + north) / 2;
  const midLon = (west + east) / 2;
  const shrink = Math.cos((midLat * Math.PI) / 180);
  const widthKm = (east - west) * shrink * KM_PER_DEG;
  const heightKm = (north - south) * KM_PER_DEG;
  const freeW = sheet.widthPx - 2 * sheet.marginPx;
  const freeH = sheet.heightPx - 2 * sheet.marginPx;
  const scales: number[] = [];
  if (widthKm > 0) scales.push(freeW / widthKm);
  if (heightKm > 0) scales.push(freeH / heightKm);
  const pxPerKm = scales.length > 0 ? Math.min(...scales) : freeW / 20;
  return {
    x: (lonDeg) => sheet.widthPx / 2 + (lonDeg - midLon) * shrink * KM_PER_DEG * pxPerKm,
    y: (latDeg) => sheet.heightPx / 2 - (latDeg - midLat) * KM_PER_DEG * pxPerKm,
    pxPerKm,
  };
}

/** Length for a scale bar: 1, 2 or 5 times a power of ten, km, at most `mostPx` long. */
export function scaleBarKm(pxPerKm: number, mostPx: number): number {
  const most = mostPx / pxPerKm;
  const decade = 10 ** Math.floor(Math.log10(most));
  return [5, 2, 1].map((factor) => factor * decade).find((km) => km <= most) ?? decade;
}

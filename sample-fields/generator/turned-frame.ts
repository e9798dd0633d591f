import { type FieldFrame, toLonLat } from '../../src/engine/geodesy/field-frame.ts';
import type { Outline, Point } from './design.ts';

/** Degrees to 7 decimals, about a centimetre. */
const DEGREE_DECIMALS = 7;

/** Turned metres (u right of the rows, v along them) as lon/lat degrees. */
export function pointsToLonLat(frame: FieldFrame, heading_deg: number, points: readonly Point[]): Point[] {
  const h = (heading_deg * Math.PI) / 180;
  const x = Float64Array.from(points, ([u, v]) => u * Math.cos(h) + v * Math.sin(h));
  const y = Float64Array.from(points, ([u, v]) => -u * Math.sin(h) + v * Math.cos(h));
  const { lon, lat } = toLonLat(frame, x, y);
  return points.map((_, i): Point => [lon[i], lat[i]]);
}

/** The same, rounded and closed: a ring as GeoJSON and shapefiles want it. */
export function closedLonLatRing(frame: FieldFrame, heading_deg: number, outline: Outline): Point[] {
  const ring = pointsToLonLat(frame, heading_deg, outline).map(
    ([lon, lat]): Point => [round(lon, DEGREE_DECIMALS), round(lat, DEGREE_DECIMALS)],
  );
  return [...ring, ring[0]];
}

export function round(value: number, decimals: number): number {
  return Number(value.toFixed(decimals));
}

import type { Issue } from '../issue.ts';
import { type Box, greatCircle_km, widthOf } from './box.ts';

/** Layers of one field farther apart than this are in a wrong system or of another field, km. */
const APART_KM = 50;

/** Kilometres between the nearest edges of two boxes of degrees, 0 where they meet. */
export function layersApart_km(a: Box, b: Box): number {
  const [south, north] = gap(a.south, a.north, b.south, b.north);
  // Eastward from one box to the other, the shorter way round.
  const [fromA, fromB] = [turn(b.west - a.east), turn(a.west - b.east)];
  const over = turn(b.west - a.west) <= widthOf(a) || turn(a.west - b.west) <= widthOf(b);
  const lon = over ? 0 : Math.min(fromA, fromB);
  return greatCircle_km({ lon: 0, lat: south }, { lon, lat: north });
}

/**
 * The error for a layer that lies over 50 km from another of the same job (`layers-apart`), or null: a wrong UTM zone moves a layer by some hundred
 * kilometres, feet taken as metres by thousands.
 */
export function layersApart(
  layer: { readonly where: string; readonly box: Box },
  other: { readonly where: string; readonly box: Box },
): Issue | null {
  const apart_km = layersApart_km(layer.box, other.box);
  if (!(apart_km > APART_KM)) return null;
  return {
    code: 'layers-apart',
    severity: 'error',
    where: layer.where,
    found: `${Math.round(apart_km)} km between it and ${other.where}: the layers do not overlap`,
    expected: 'layers of one field',
    effect: 'The layer cannot be used with the other',
    remedy: 'Correct the zone or the unit of its coordinate system, or choose the file of this field',
  };
}

/** The two latitudes that face each other across a gap; one twice where the ranges meet: the one farthest from the equator. */
function gap(aLow: number, aHigh: number, bLow: number, bHigh: number): readonly [number, number] {
  if (aHigh < bLow) return [aHigh, bLow];
  if (bHigh < aLow) return [bHigh, aLow];
  const [low, high] = [Math.max(aLow, bLow), Math.min(aHigh, bHigh)];
  const lat = Math.abs(low) > Math.abs(high) ? low : high;
  return [lat, lat];
}

/** An angle as one of 0 to 360. */
function turn(degrees: number): number {
  return ((degrees % 360) + 360) % 360;
}

/** West, south, east and north of something: degrees, or the numbers of a file in whatever system they are. West > east across the antimeridian. */
export interface Box {
  readonly west: number;
  readonly south: number;
  readonly east: number;
  readonly north: number;
}

/** A place on the ground, degrees on WGS 84. */
export interface Place {
  readonly lon: number;
  readonly lat: number;
}

/** Mean radius of the ellipsoid, km: distances here decide between places, to 0.5 %. */
const EARTH_KM = 6371;
const RADIAN = Math.PI / 180;

/** Kilometres between two places, along a great circle. */
export function greatCircle_km(a: Place, b: Place): number {
  const h =
    Math.sin(((b.lat - a.lat) * RADIAN) / 2) ** 2 +
    Math.cos(a.lat * RADIAN) * Math.cos(b.lat * RADIAN) * Math.sin(((b.lon - a.lon) * RADIAN) / 2) ** 2;
  return 2 * EARTH_KM * Math.asin(Math.min(1, Math.sqrt(h)));
}

/** Degrees of longitude from west to east, across the antimeridian where the box does. */
export function widthOf({ west, east }: Box): number {
  return east >= west ? east - west : east - west + 360;
}

/** The middle of a box of degrees. */
export function middleOf(box: Box): Place {
  const lon = box.west + widthOf(box) / 2;
  return { lon: lon > 180 ? lon - 360 : lon, lat: (box.south + box.north) / 2 };
}

/** Whether a place lies in a box of degrees made larger by a margin, degrees. */
export function holds(box: Box, { lon, lat }: Place, margin = 0): boolean {
  const east = (((lon - box.west + margin) % 360) + 360) % 360;
  return east <= widthOf(box) + 2 * margin && lat >= box.south - margin && lat <= box.north + margin;
}

import { join } from 'node:path';
import { type FieldFrame, toLonLat } from '../../src/engine/geodesy/field-frame.ts';

/** Where the bench keeps its files; not in git. */
export const DATA = join(import.meta.dirname, 'data');

/**
 * The invented field of the bench: a square of 900 ha on the central meridian of a UTM zone, so that its sides run
 * along the axes of both the field frame and UTM, and both programs can be given the same cells.
 */
export const FRAME: FieldFrame = { lon0: -93, lat0: 42 };
export const UTM_ZONE = 15;
export const HALF_SIDE_M = 1500;
export const CELL_M = 5;
export const SIDE_CELLS = (2 * HALF_SIDE_M) / CELL_M;

/** 500 passes 6 m apart, 2,000 points 1.5 m apart on each: a million. */
export const PASSES = 500;
export const POINTS_A_PASS = 2000;

/** The like-for-like rule: inverse distance to the power 2 over the 16 nearest points within 15 m of a cell's centre. */
export const LIKE = { radius_m: 15, most: 16, power: 2 } as const;

/** Lon/lat of one place in the frame, degrees. */
export function placeOf(x: number, y: number): [lon: number, lat: number] {
  const { lon, lat } = toLonLat(FRAME, Float64Array.of(x), Float64Array.of(y));
  return [lon[0], lat[0]];
}

/** The field's border in its frame, or any square about its middle. */
export function square(half_m: number): Float64Array {
  return Float64Array.of(-half_m, -half_m, half_m, -half_m, half_m, half_m, -half_m, half_m);
}

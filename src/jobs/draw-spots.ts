import { toLonLat } from '../engine/geodesy/field-frame.ts';
import { regionLocator } from '../engine/geometry/point-in-region.ts';
import type { RatedProduct } from '../engine/lineup/product.ts';
import { random } from '../engine/math/random.ts';
import type { ZoneChoice } from '../engine/rates/assignment.ts';
import type { Zoning } from '../engine/zones/zoning.ts';
import type { FieldResult } from '../run/results.ts';

/** A place, degrees on WGS 84, and what is to be planted there. */
export interface Spot {
  readonly lon: number;
  readonly lat: number;
  readonly zone: number;
  readonly product: string;
  readonly seedsPerAc: number;
}

const MOST_SPOTS = 200;

/**
 * Centres of cells drawn without repeats, with what zoning and choices put there: the grid says it, not the polygons cut from it. Whole cells are
 * drawn from; in a field without any, cells whose centre is in the field.
 */
export function drawSpots(
  { frame, region, grid }: FieldResult,
  zoning: Zoning,
  choices: readonly ZoneChoice[],
  lineup: readonly RatedProduct[],
  seed: number,
): Spot[] {
  const cells = [...grid.area.keys()];
  const square_m2 = grid.cell_m * grid.cell_m * (1 - 1e-9);
  const whole = cells.filter((cell) => grid.area[cell] >= square_m2);
  const inField = regionLocator(region);
  const open = whole.length > 0 ? whole : cells.filter((cell) => inField(grid.x[cell], grid.y[cell]));
  const stream = random(seed);
  const count = Math.min(MOST_SPOTS, open.length);
  for (let k = 0; k < count; k++) {
    const other = k + stream.integer(open.length - k);
    [open[k], open[other]] = [open[other], open[k]];
  }
  const drawn = open.slice(0, count);
  const { lon, lat } = toLonLat(
    frame,
    Float64Array.from(drawn, (cell) => grid.x[cell]),
    Float64Array.from(drawn, (cell) => grid.y[cell]),
  );
  return drawn.map((cell, k) => {
    const label = zoning.label[cell];
    const { chosen } = choices[label];
    return {
      lon: lon[k],
      lat: lat[k],
      zone: zoning.zones[label].id,
      product: lineup[chosen.product].name,
      seedsPerAc: chosen.seedsPerAc,
    };
  });
}

import { middleOf } from '../../engine/geodesy/box.ts';
import { toLonLat } from '../../engine/geodesy/field-frame.ts';
import { layersApart } from '../../engine/geodesy/layers-apart.ts';
import { looksSwapped } from '../../engine/geodesy/looks-swapped.ts';
import { extentOf } from '../../engine/geometry/extent.ts';
import { Refusal } from '../../engine/issue.ts';
import { median } from '../../engine/math/median.ts';
import type { FieldResult } from '../results.ts';

/** Places this far from the middle one are astray, degrees. */
const ASTRAY_DEG = 1;

/**
 * Refuses a layer none of which lies in the field because it lies elsewhere altogether: in another zone, in another unit, or with longitude and latitude exchanged.
 * Says nothing of one that is merely beside the field.
 */
export function refuseApart(where: string, lon: Float64Array, lat: Float64Array, field: FieldResult): void {
  const [midLon, midLat] = [median(lon), median(lat)];
  if (Number.isNaN(midLon)) return;
  let box = { west: midLon, east: midLon, south: midLat, north: midLat };
  for (let i = 0; i < lon.length; i++) {
    if (!(Math.abs(lon[i] - midLon) < ASTRAY_DEG && Math.abs(lat[i] - midLat) < ASTRAY_DEG)) continue;
    box = {
      west: Math.min(box.west, lon[i]),
      east: Math.max(box.east, lon[i]),
      south: Math.min(box.south, lat[i]),
      north: Math.max(box.north, lat[i]),
    };
  }
  const own = fieldBox(field);
  if (looksSwapped(box, middleOf(own)) === 'mirrored') {
    throw new Refusal({
      code: 'lon-lat-swapped',
      where,
      found: 'longitudes and latitudes that lie by the field only when they are exchanged',
      expected: 'the longitude first and then the latitude',
      effect: 'The layer cannot be used with the field',
      remedy: 'Have them exchanged in reading (command line: --swap-lon-lat FILE)',
    });
  }
  const apart = layersApart({ where, box }, { where: 'the boundary', box: own });
  if (apart) throw new Refusal(apart);
}

function fieldBox({ frame, region }: FieldResult) {
  const { minX, minY, maxX, maxY } = extentOf(region.map(({ outer }) => outer));
  const { lon, lat } = toLonLat(frame, Float64Array.of(minX, maxX), Float64Array.of(minY, maxY));
  return { west: lon[0], east: lon[1], south: lat[0], north: lat[1] };
}

import { bbox, booleanPointInPolygon } from '@turf/turf';
import type { Feature, MultiPolygon, Polygon } from 'geojson';
import { random } from '../../engine/math/random.ts';
import { spotInside } from './spot-inside.ts';

type Shape = Feature<Polygon | MultiPolygon>;

/** A spot inside a polygon of one file must lie in a polygon of the other with the same product and rate. Spots are drawn from a fixed seed; looked up by turf. */
export function countMisplacedSpots(
  from: readonly Shape[],
  inside: readonly Shape[],
  most: number,
): { tried: number; wrong: number } {
  const stream = random(1);
  const boxes = inside.map((feature) => bbox(feature));
  const rounds = Math.min(most, from.length);
  let tried = 0;
  let wrong = 0;
  for (let k = 0; k < rounds; k++) {
    const feature = from[rounds === from.length ? k : stream.integer(from.length)];
    const spot = spotInside(feature.geometry);
    if (spot === null) continue;
    tried++;
    const [lon, lat] = spot;
    const holder = inside.find((candidate, i) => {
      const [west, south, east, north] = boxes[i];
      return (
        lon >= west &&
        lon <= east &&
        lat >= south &&
        lat <= north &&
        booleanPointInPolygon([lon, lat], candidate)
      );
    });
    const same =
      holder?.properties?.['SEEDS_AC'] === feature.properties?.['SEEDS_AC'] &&
      holder?.properties?.['PRODUCT'] === feature.properties?.['PRODUCT'];
    if (!holder || !same) wrong++;
  }
  return { tried, wrong };
}

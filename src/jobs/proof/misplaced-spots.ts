import { bbox, booleanPointInPolygon, pointOnFeature } from '@turf/turf';
import type { Feature, MultiPolygon, Polygon } from 'geojson';
import { random } from '../../engine/math/random.ts';

type Shape = Feature<Polygon | MultiPolygon>;

/** A spot inside a polygon of one file must lie in a polygon of the other with the same product and rate. Spots are drawn from a fixed seed; looked up by turf. */
export function countMisplacedSpots(
  from: readonly Shape[],
  inside: readonly Shape[],
  most: number,
): { tried: number; wrong: number } {
  const stream = random(1);
  const boxes = inside.map((feature) => bbox(feature));
  const tried = Math.min(most, from.length);
  let wrong = 0;
  for (let k = 0; k < tried; k++) {
    const feature = from[tried === from.length ? k : stream.integer(from.length)];
    const spot = pointOnFeature(feature);
    const [lon, lat] = spot.geometry.coordinates;
    const holder = inside.find((candidate, i) => {
      const [west, south, east, north] = boxes[i];
      return (
        lon >= west && lon <= east && lat >= south && lat <= north && booleanPointInPolygon(spot, candidate)
      );
    });
    const same =
      holder?.properties?.['SEEDS_AC'] === feature.properties?.['SEEDS_AC'] &&
      holder?.properties?.['PRODUCT'] === feature.properties?.['PRODUCT'];
    if (!holder || !same) wrong++;
  }
  return { tried, wrong };
}

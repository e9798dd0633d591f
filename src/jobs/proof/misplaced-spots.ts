import { bbox, booleanPointInPolygon } from '@turf/turf';
import type { Feature, MultiPolygon, Polygon } from 'geojson';
import type { HandOffDocument } from '../hand-off-document.ts';

type Shape = Feature<Polygon | MultiPolygon>;

/** How many spots of the manifest are not held by exactly one polygon, or by one of another zone, product or rate. Looked up by turf. */
export function countMisplacedSpots(spots: HandOffDocument['spots'], features: readonly Shape[]): number {
  const boxes = features.map((feature) => bbox(feature));
  const rightly = spots.filter(({ lon, lat, zone, product, seedsPerAc }) => {
    const holders = features.filter((feature, k) => {
      const [west, south, east, north] = boxes[k];
      const near = lon >= west && lon <= east && lat >= south && lat <= north;
      return near && booleanPointInPolygon([lon, lat], feature);
    });
    const held = holders.length === 1 ? holders[0].properties : null;
    return held?.['ZONE'] === zone && held['PRODUCT'] === product && held['SEEDS_AC'] === seedsPerAc;
  });
  return spots.length - rightly.length;
}

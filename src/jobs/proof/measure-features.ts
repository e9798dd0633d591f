import geodesic from 'geographiclib-geodesic';
import type { Feature, MultiPolygon, Polygon, Position } from 'geojson';
import { M2_PER_ACRE } from '../../engine/math/units.ts';

export interface Found {
  readonly area_m2: number;
  /** Σ area × rate, seeds. */
  readonly seeds: number;
  /** Σ of the areas written in the attributes, acres. */
  readonly statedAcres: number;
  readonly byZone: ReadonlyMap<number, { area_m2: number; rates: Set<number>; products: Set<string> }>;
}

/** Prescription polygons measured on the WGS 84 ellipsoid by GeographicLib, a library that shares nothing with the engine. */
export function measureFeatures(features: readonly Feature<Polygon | MultiPolygon>[]): Found {
  let area = 0;
  let seeds = 0;
  let statedAcres = 0;
  const byZone = new Map<number, { area_m2: number; rates: Set<number>; products: Set<string> }>();
  for (const feature of features) {
    const own = geodesicArea_m2(feature.geometry);
    const rate = Number(feature.properties?.['SEEDS_AC']);
    const zone = Number(feature.properties?.['ZONE']);
    area += own;
    seeds += (own / M2_PER_ACRE) * rate;
    statedAcres += Number(feature.properties?.['AREA_AC']);
    const row = byZone.get(zone) ?? { area_m2: 0, rates: new Set(), products: new Set() };
    row.area_m2 += own;
    row.rates.add(rate);
    row.products.add(String(feature.properties?.['PRODUCT']));
    byZone.set(zone, row);
  }
  return { area_m2: area, seeds, statedAcres, byZone };
}

function geodesicArea_m2(geometry: Polygon | MultiPolygon): number {
  const polygons = geometry.type === 'Polygon' ? [geometry.coordinates] : geometry.coordinates;
  return polygons.reduce(
    (sum, [outer, ...holes]) =>
      sum + ringArea_m2(outer) - holes.reduce((held, hole) => held + ringArea_m2(hole), 0),
    0,
  );
}

function ringArea_m2(ring: readonly Position[]): number {
  const polygon = geodesic.Geodesic.WGS84.Polygon(false);
  for (const [lon, lat] of ring.slice(0, -1)) polygon.AddPoint(lat, lon);
  return Math.abs(polygon.Compute(false, true).area ?? NaN);
}

import type { FieldDesign, Part, Point } from './design.ts';
import type { SoilPolygon } from './soils.ts';
import { closedLonLatRing } from './turned-frame.ts';

/** The boundary as one feature, GeoJSON (RFC 7946): outer rings counter-clockwise, holes clockwise. */
export function boundaryGeoJson(design: FieldDesign, name: string): object {
  const parts = design.parts.map((part) => polygonLonLat(design, part));
  const geometry =
    parts.length === 1
      ? { type: 'Polygon', coordinates: parts[0] }
      : { type: 'MultiPolygon', coordinates: parts };
  return collection([{ type: 'Feature', properties: { name }, geometry }]);
}

export function soilsGeoJson(design: FieldDesign, polygons: readonly SoilPolygon[]): object {
  return collection(
    polygons.map(({ unit, part }) => ({
      type: 'Feature',
      properties: {
        symbol: unit.symbol,
        soil: unit.soil,
        slope_pct: unit.slope_pct,
        [`${design.crop}_bu`]: unit.rating_buPerAc,
        water_in: unit.water_in,
      },
      geometry: { type: 'Polygon', coordinates: polygonLonLat(design, part) },
    })),
  );
}

/** Rings keep their winding: the turned frame is not mirrored. */
export function polygonLonLat(design: FieldDesign, part: Part): Point[][] {
  return [part.outer, ...part.holes].map((ring) => closedLonLatRing(design.centre, design.heading_deg, ring));
}

function collection(features: readonly object[]): object {
  return { type: 'FeatureCollection', features };
}

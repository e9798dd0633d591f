import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { SAMPLES } from './built.ts';

/** A field for tests: a square with its south-west corner at `lon, lat`, soils in two halves, a grid of yield points. */
export interface SmallField {
  readonly lon: number;
  readonly lat: number;
  /** Side of the square, degrees of latitude. */
  readonly side_deg: number;
}

/** A square of about 400 m in no place that matters. */
export const SQUARE: SmallField = { lon: -93.5, lat: 42, side_deg: 0.0036 };

type Position = readonly [number, number];

export function ring(field: SmallField, from = 0, to = 1): Position[] {
  const { lon, lat, side_deg: side } = field;
  const east = lonWidth(field);
  return [
    [lon + from * east, lat],
    [lon + to * east, lat],
    [lon + to * east, lat + side],
    [lon + from * east, lat + side],
    [lon + from * east, lat],
  ];
}

/** Width of the square in degrees of longitude, so that it is about as wide as it is high. */
function lonWidth({ lat, side_deg }: SmallField): number {
  return side_deg / Math.cos((lat * Math.PI) / 180);
}

/** A GeoJSON text of features with the given geometries and properties. */
export function geojson(
  ...features: readonly { type: string; coordinates: unknown; properties?: Record<string, unknown> }[]
): string {
  return JSON.stringify({
    type: 'FeatureCollection',
    features: features.map(({ type, coordinates, properties }) => ({
      type: 'Feature',
      properties: properties ?? {},
      geometry: { type, coordinates },
    })),
  });
}

export function boundaryText(field: SmallField = SQUARE): string {
  return geojson({ type: 'Polygon', coordinates: [ring(field)] });
}

export function soilsText(field: SmallField = SQUARE): string {
  return geojson(
    {
      type: 'Polygon',
      coordinates: [ring(field, -0.2, 0.5)],
      properties: { musym: '55', corn_bu: 150, mukey: '1' },
    },
    {
      type: 'Polygon',
      coordinates: [ring(field, 0.5, 1.2)],
      properties: { musym: '138B', corn_bu: 210, mukey: '2' },
    },
  );
}

/** 30 by 30 points, poorer in the west; `yieldAt` gives the text of a point's yield by its place in the square. */
export function yieldText(
  field: SmallField = SQUARE,
  yieldAt: (u: number, v: number) => string = (u, v) => (150 + 60 * u + 3 * Math.sin(9 * v)).toFixed(2),
): string {
  const rows = ['lon,lat,yield bu/ac'];
  for (let i = 0; i < 30; i++) {
    for (let j = 0; j < 30; j++) {
      const [u, v] = [(i + 0.5) / 30, (j + 0.5) / 30];
      const lon = field.lon + u * lonWidth(field);
      rows.push(
        `${(lon > 180 ? lon - 360 : lon).toFixed(8)},${(field.lat + v * field.side_deg).toFixed(8)},${yieldAt(u, v)}`,
      );
    }
  }
  return `${rows.join('\n')}\n`;
}

export const LINEUP = join(SAMPLES, 'lineup.json');

/** The files of a whole small plan in a folder: boundary.geojson, soils.geojson, yield-2025.csv. */
export function layFiles(folder: string, field: SmallField = SQUARE): void {
  writeFileSync(join(folder, 'boundary.geojson'), boundaryText(field));
  writeFileSync(join(folder, 'soils.geojson'), soilsText(field));
  writeFileSync(join(folder, 'yield-2025.csv'), yieldText(field));
}

/** Arguments of `plan` for those files; later ones of the same name win, as on any command line. */
export const PLAN = [
  ...['plan', '--boundary', 'boundary.geojson', '--soils', 'soils.geojson', '--yield', 'yield-2025.csv'],
  ...['--lineup', LINEUP, '--grain-price', '4.2', '--season', '2027', '--out', 'a.plan.json'],
] as const;

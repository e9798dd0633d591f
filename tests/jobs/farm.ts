import type { FileBytes } from '../../src/formats/file-bytes.ts';
import { geojson, ring, type SmallField, soilsText, yieldText } from '../cli/small-field.ts';
import { lineup } from '../run/small-field.ts';

/** An invented farm: fields of some 400 m in a row from west to east, 100 m between them. */
export function fieldAt(k: number): SmallField {
  return { lon: -93.5 + 0.006 * k, lat: 42, side_deg: 0.0036 };
}

export const text = (name: string, content: string): FileBytes => ({
  name,
  bytes: new TextEncoder().encode(content),
});

/** One file with the outlines of many fields, field k its record k + 1. */
export const fields = (name: string, count: number, more: Record<string, unknown> = {}): FileBytes =>
  text(
    name,
    geojson(
      ...Array.from({ length: count }, (_, k) => ({
        type: 'Polygon',
        coordinates: [ring(fieldAt(k))],
        properties: { field: `Field ${k + 1}`, ...more },
      })),
    ),
  );

export const soils = (name: string, k: number): FileBytes => text(name, soilsText(fieldAt(k)));
export const harvest = (name: string, k: number): FileBytes => text(name, yieldText(fieldAt(k)));

/** Soil samples on a grid of 5 by 5, in field k. */
export function samples(name: string, k: number): FileBytes {
  const { lon, lat, side_deg } = fieldAt(k);
  const rows = Array.from({ length: 25 }, (_, i) => {
    const [u, v] = [(0.5 + (i % 5)) / 5, (0.5 + Math.floor(i / 5)) / 5];
    return [lon + 1.3 * u * side_deg, lat + v * side_deg, 5.8 + u, 3 + v, 20 + 10 * u * v].join(',');
  });
  return text(name, ['lon,lat,pH,OM_pct,P_ppm', ...rows].join('\n'));
}

export const LINEUP = text('lineup.json', JSON.stringify(lineup));

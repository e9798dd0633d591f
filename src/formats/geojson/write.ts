import type { Ring } from '../../engine/geometry/ring.ts';
import type { FileBytes } from '../file-bytes.ts';
import { safeFileName } from '../file-name.ts';
import {
  checkLayer,
  type LayerFeature,
  type PolygonLayer,
  refuseExport,
  signedArea,
  wound,
} from '../polygon-layer.ts';

/** Nine decimals are 0.11 mm: finer than the six or seven that are usual, because areas are checked to the ledger. */
const DECIMALS = 9;

/**
 * A GeoJSON feature collection (RFC 7946): WGS 84, outer rings counter-clockwise, holes clockwise, one feature a
 * line; the layer's name and notes as foreign members of the collection. Deterministic. Throws a Refusal.
 */
export function writeGeojson(layer: PolygonLayer): FileBytes[] {
  checkLayer(layer);
  const head = [`"type":"FeatureCollection"`, `"name":${JSON.stringify(layer.name)}`];
  if (layer.notes) head.push(`"notes":${JSON.stringify(layer.notes)}`);
  const lines = layer.features.map((feature, index) =>
    featureLine(layer, feature, `${layer.name} › record ${index + 1}`),
  );
  const text = `{${head.join(',')},"features":[\n${lines.join(',\n')}\n]}\n`;
  return [{ name: `${safeFileName(layer.name)}.geojson`, bytes: new TextEncoder().encode(text) }];
}

function featureLine(layer: PolygonLayer, feature: LayerFeature, where: string): string {
  const properties = layer.fields.map(({ name, decimals }, i) => {
    const value = feature.values[i];
    return `${JSON.stringify(name)}:${typeof value === 'number' ? decimal(value, decimals) : JSON.stringify(value)}`;
  });
  const polygons = feature.rings.map(
    (rings) => `[${rings.map((ring, hole) => ringText(ring, hole === 0, where)).join(',')}]`,
  );
  const geometry =
    polygons.length === 1
      ? `{"type":"Polygon","coordinates":${polygons[0]}}`
      : `{"type":"MultiPolygon","coordinates":[${polygons.join(',')}]}`;
  return `{"type":"Feature","properties":{${properties.join(',')}},"geometry":${geometry}}`;
}

function ringText(ring: Ring, counterClockwise: boolean, where: string): string {
  const rounded = ring.map((value) => Number(value.toFixed(DECIMALS)));
  if (signedArea(rounded) === 0) {
    refuseExport(where, `a ring that vanishes at ${DECIMALS} decimals`, 'rings larger than a millimetre');
  }
  const turned = wound(rounded, counterClockwise);
  const positions: string[] = [];
  for (let i = 0; i < turned.length; i += 2) {
    const position = `[${decimal(turned[i], DECIMALS)},${decimal(turned[i + 1], DECIMALS)}]`;
    if (position !== positions.at(-1)) positions.push(position);
  }
  if (positions.length > 1 && positions.at(-1) === positions[0]) positions.pop();
  return `[${[...positions, positions[0]].join(',')}]`;
}

/** Plain decimals, never an exponent, no trailing zeros, no minus zero. */
function decimal(value: number, decimals: number): string {
  const text = value.toFixed(decimals);
  const short = text.includes('.') ? text.replace(/0+$/, '').replace(/\.$/, '') : text;
  return short === '-0' ? '0' : short;
}

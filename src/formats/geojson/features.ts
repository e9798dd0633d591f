import type { FileBytes } from '../file-bytes.ts';
import { plainText } from '../text/decode.ts';
import { place, refuseJson, scanJson } from './scan.ts';
import { isObject } from './shape.ts';

/** Longest text the platforms can hold in one string, with room to spare. */
const MAX_BYTES = 400 * 2 ** 20;

export interface Feature {
  readonly geometry: unknown;
  readonly properties: Record<string, unknown> | null;
}

/** The root object of a GeoJSON text. Throws a Refusal with line and column for what is no JSON. */
export function parseGeojson(file: FileBytes, encoding?: string): Record<string, unknown> {
  if (file.bytes.length > MAX_BYTES) {
    refuseJson(
      'json-size',
      file.name,
      `${file.bytes.length} bytes`,
      `at most ${MAX_BYTES}`,
      'Export a shapefile',
    );
  }
  const { bytes, decode } = plainText(file.bytes, encoding);
  scanJson(bytes, file.name);
  let root: unknown;
  try {
    root = JSON.parse(decode(bytes));
  } catch (error) {
    const said = error instanceof Error ? error.message : '';
    const at = /position (\d+)/.exec(said);
    const where = at ? place(bytes, Number(at[1]), file.name) : file.name;
    refuseJson('json-syntax', where, said.slice(0, 120), 'valid JSON', 'Export it again');
  }
  if (isObject(root)) return root;
  return refuseJson('geojson-type', file.name, 'no object', 'a feature collection', 'Export it as GeoJSON');
}

const GEOMETRIES = /^(Multi)?(Point|LineString|Polygon)$|^GeometryCollection$/;

/** Features of a collection, a single feature, or a bare geometry as one feature. Throws a Refusal for anything else. */
export function featuresOf(root: Record<string, unknown>, where: string): Feature[] {
  const { type } = root;
  if (type === 'FeatureCollection' && Array.isArray(root.features)) {
    return root.features.map((feature, index) => featureOf(feature, `${where} › feature ${index + 1}`));
  }
  if (type === 'Feature') return [featureOf(root, where)];
  if (typeof type === 'string' && GEOMETRIES.test(type)) return [{ geometry: root, properties: null }];
  const found = typeof type === 'string' ? `type '${type.slice(0, 40)}'` : 'an object without a type';
  return refuseJson('geojson-type', where, found, 'a FeatureCollection', 'Export it as GeoJSON');
}

function featureOf(value: unknown, where: string): Feature {
  if (!isObject(value) || value.type !== 'Feature') {
    refuseJson('geojson-type', where, 'no feature', 'type Feature', 'Export it as GeoJSON');
  }
  const properties = isObject(value.properties) ? value.properties : null;
  const { id } = value;
  if ((typeof id !== 'string' && typeof id !== 'number') || (properties && Object.hasOwn(properties, 'id'))) {
    return { geometry: value.geometry, properties };
  }
  // Entries, not a spread: a property named __proto__ stays a property.
  const entries: [string, unknown][] = [['id', id], ...Object.entries(properties ?? {})];
  return { geometry: value.geometry, properties: Object.fromEntries(entries) };
}

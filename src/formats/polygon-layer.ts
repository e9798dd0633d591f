import type { Ring } from '../engine/geometry/ring.ts';
import { Refusal } from '../engine/issue.ts';

export interface LayerField {
  readonly name: string;
  readonly kind: 'text' | 'number';
  /** Bytes for text; characters, sign and point included, for a number. */
  readonly width: number;
  readonly decimals: number;
}

export interface LayerFeature {
  /** Polygons, each its outer ring and then its holes: lon/lat degrees on WGS 84, first vertex not repeated. */
  readonly rings: readonly (readonly Ring[])[];
  /** One for each field, in their order. */
  readonly values: readonly (number | string)[];
}

/** What the polygon writers take. The date is the job's, never the clock's: same job, same bytes. */
export interface PolygonLayer {
  readonly name: string;
  readonly features: readonly LayerFeature[];
  readonly fields: readonly LayerField[];
  readonly date: { readonly year: number; readonly month: number; readonly day: number };
  readonly notes?: Readonly<Record<string, unknown>>;
}

export function refuseExport(where: string, found: string, expected: string): never {
  throw new Refusal({
    code: 'export-refused',
    where,
    found,
    expected,
    effect: 'Nothing was written',
    remedy: 'Correct the value, the name or the width; nothing is ever cut to fit',
  });
}

/** Refuses what no format can hold: no features, a value of the wrong kind, a ring without area or off the globe. */
export function checkLayer(layer: PolygonLayer): void {
  if (layer.features.length === 0) refuseExport(layer.name, '0 features', 'at least one');
  layer.features.forEach((feature, index) => {
    const where = `${layer.name} › record ${index + 1}`;
    if (feature.values.length !== layer.fields.length) {
      refuseExport(where, `${feature.values.length} values`, `${layer.fields.length}, one for each field`);
    }
    layer.fields.forEach((field, column) => {
      const value = feature.values[column];
      const fits = field.kind === 'text' ? typeof value === 'string' : Number.isFinite(value);
      if (!fits) refuseExport(`${where} › ${field.name}`, String(value), `a ${field.kind}`);
    });
    if (feature.rings.length === 0) refuseExport(where, 'no polygon', 'at least one');
    for (const polygon of feature.rings) {
      if (polygon.length === 0) refuseExport(where, 'a polygon without rings', 'an outer ring');
      for (const ring of polygon) checkRing(ring, where);
    }
  });
}

function checkRing(ring: Ring, where: string): void {
  for (let i = 0; i < ring.length; i += 2) {
    if (!(Math.abs(ring[i]) <= 180) || !(Math.abs(ring[i + 1]) <= 90)) {
      refuseExport(`${where} › vertex ${i / 2 + 1}`, `${ring[i]}, ${ring[i + 1]}`, 'degrees on the globe');
    }
  }
  if (ring.length < 6 || signedArea(ring) === 0) {
    refuseExport(where, `a ring of ${ring.length / 2} vertices and no area`, 'three corners or more');
  }
}

/** Twice the area in the ring's own units, positive when it runs counter-clockwise. */
export function signedArea(ring: Ring): number {
  let sum = 0;
  // From the first vertex, so that small rings far from the origin keep their digits.
  for (let i = 2; i + 3 < ring.length; i += 2) {
    const [ax, ay] = [ring[i] - ring[0], ring[i + 1] - ring[1]];
    const [bx, by] = [ring[i + 2] - ring[0], ring[i + 3] - ring[1]];
    sum += ax * by - ay * bx;
  }
  return sum;
}

/** The ring running the way asked for, its first vertex kept first. */
export function wound(ring: Ring, counterClockwise: boolean): Ring {
  if (signedArea(ring) > 0 === counterClockwise) return ring;
  const turned = ring.slice();
  for (let i = 2; i < ring.length; i += 2) {
    turned[i] = ring[ring.length - i];
    turned[i + 1] = ring[ring.length - i + 1];
  }
  return turned;
}

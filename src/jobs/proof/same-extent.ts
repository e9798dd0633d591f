import { bbox } from '@turf/turf';
import type { Feature, MultiPolygon, Polygon } from 'geojson';
import type { Box } from '../../engine/geodesy/box.ts';
import type { HandOffDocument } from '../hand-off-document.ts';
import type { ProofCheck } from '../prove.ts';

/** 1 mm and a little. */
const CLOSE_DEG = 1e-8;

/** The extent of what was read against that of the field: each side lies where the outline has it, and bows no less than its corners do. */
export function sameExtent(
  file: string,
  features: readonly Feature<Polygon | MultiPolygon>[],
  { extent, cornerExtent }: HandOffDocument['field'],
): ProofCheck {
  const [west, south, east, north] = bbox({ type: 'FeatureCollection', features: [...features] });
  const found = { west, south, east, north };
  const between = (value: number, a: number, b: number) =>
    value >= Math.min(a, b) - CLOSE_DEG && value <= Math.max(a, b) + CLOSE_DEG;
  const sides = ['west', 'south', 'east', 'north'] as const;
  return {
    file,
    what: 'extent, degrees',
    expected: textOf(extent),
    found: textOf(found),
    ok: sides.every((side) => between(found[side], extent[side], cornerExtent[side])),
  };
}

function textOf({ west, south, east, north }: Box): string {
  return [west, south, east, north].map((degrees) => degrees.toFixed(8)).join(', ');
}

import { type CutCell, cutCells } from '../../engine/prescription/cut-cells.ts';
import { cutZones } from '../../engine/prescription/cut-zones.ts';
import type { Zoning } from '../../engine/zones/zoning.ts';
import type { Plan } from '../../plan/schema.ts';
import type { FieldResult } from '../results.ts';

export interface CutField {
  readonly pieces: readonly CutCell[];
}

/** Field and zones → the polygons of the prescription, without product or rate: a change of price leaves them as they are. */
export function cutField(field: FieldResult, zoning: Zoning, shape: Plan['handoff']['shape']): CutField {
  const cut = shape === 'cells' ? cutCells : cutZones;
  return { pieces: cut(field.grid, field.region, zoning.label) };
}

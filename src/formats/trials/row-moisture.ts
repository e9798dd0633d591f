import { figuresOf } from '../../engine/harvest/recognise/figures.ts';
import { bushelAndBase } from '../../engine/harvest/yield-unit.ts';
import type { Column } from '../../engine/layers/source.ts';
import { shrinkFactor } from '../../engine/math/units.ts';

/** % of wet weight, row by row; NaN where it is not told or cannot be. */
export function moistureReader(column: Column | undefined): (i: number) => number {
  if (column?.kind !== 'number') return () => NaN;
  const { values } = column;
  const scale = figuresOf(values).p95 <= 1 ? 100 : 1;
  return (i) => {
    const moisture = values[i] * scale;
    return moisture >= 0 && moisture < 100 ? moisture : NaN;
  };
}

/** What a yield is times to be dry at the moisture its crop is sold at; 1 where either is not known. */
export function toBase(moisture: number | null, crop: string): number {
  const base = bushelAndBase(crop)?.baseMoisture_pct;
  return moisture === null || base === undefined || Number.isNaN(moisture) ? 1 : shrinkFactor(moisture, base);
}

import { figuresOf } from '../../engine/harvest/recognise/figures.ts';
import { PER_ACRE } from './stand-unit.ts';
import { figuresOfRole } from './trial-columns.ts';
import type { RowRules } from './trial-plots.ts';

/** Plants/ac of a row: of its stand, else seeds times emergence; NaN where it does not tell. */
export function standReader({ columns, units, emergence }: RowRules): (i: number, crop: string) => number {
  const share = units.stand?.unit === '%' ? columns.stand?.column : columns.emergence?.column;
  const shares = share?.kind === 'number' ? share.values : null;
  const whole = shares && figuresOf(shares).p95 > 1.5 ? 100 : 1;
  const stand = units.stand?.unit;
  if (stand && stand !== '%') {
    const values = figuresOfRole(columns, 'stand');
    return (i) => values[i] * PER_ACRE[stand];
  }
  const rate = units.rate?.unit;
  if (!rate) return () => NaN;
  const seeds = figuresOfRole(columns, 'rate');
  return (i, crop) => {
    const told = shares ? shares[i] / whole : NaN;
    // More plants than seeds is a slip, a share of nothing no plot.
    if (told <= 0 || told > 1.2) return -1;
    return seeds[i] * PER_ACRE[rate] * (Number.isNaN(told) ? emergence(crop) : told);
  };
}

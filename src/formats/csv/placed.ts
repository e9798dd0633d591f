import type { Crs } from '../../engine/geodesy/crs.ts';
import type { Issue } from '../../engine/issue.ts';

export interface Positions {
  readonly crs: Crs | null;
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** Rows without a position, by reason. */
  readonly without: Readonly<Record<string, number>>;
}

/** No positions where the table has no such columns or none that can be read. */
export interface Found {
  readonly positions: Positions | null;
  readonly issues: readonly Issue[];
}

/** East-west and north-south, as numbers. */
export interface Pair {
  readonly names: readonly [string, string];
  readonly x: Float64Array;
  readonly y: Float64Array;
}

/** Both coordinates or neither; the arrays given where all rows are so. */
export function blankPartial(
  x: Float64Array,
  y: Float64Array,
  keep: (i: number) => boolean,
): Pick<Pair, 'x' | 'y'> {
  const isPartial = (i: number) =>
    Number.isNaN(x[i]) !== Number.isNaN(y[i]) || (!Number.isNaN(x[i]) && !keep(i));
  let i = 0;
  while (i < x.length && !isPartial(i)) i++;
  if (i === x.length) return { x, y };
  const [px, py] = [x.slice(), y.slice()];
  for (; i < x.length; i++) if (isPartial(i)) px[i] = py[i] = Number.NaN;
  return { x: px, y: py };
}

/** The positions with their account: rows without one, by reason. */
export function account(
  crs: Crs | null,
  { x, y }: Pick<Pair, 'x' | 'y'>,
  outside: number,
  where: string,
  issues: readonly Issue[],
): Found {
  let blank = -outside;
  for (let i = 0; i < x.length; i++) if (Number.isNaN(x[i])) blank++;
  const without: Record<string, number> = {};
  if (blank > 0) without['no-geometry'] = blank;
  if (outside > 0) without['position-out-of-range'] = outside;
  const positions = { crs, x, y, without };
  if (blank === 0) return { positions, issues };
  const issue: Issue = {
    code: 'no-geometry',
    severity: 'warning',
    where,
    found: `${blank} of ${x.length} records without coordinates`,
    expected: 'coordinates in every record',
    effect: 'These records are set aside: kept, but without a place',
    remedy: 'Nothing to do if the receiver had no fix there',
  };
  return { positions, issues: [...issues, issue] };
}

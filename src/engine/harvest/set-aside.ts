import { median } from '../math/median.ts';

/** Points judged: 0 kept, else 1 + index into `reasons`. Points are never taken away. */
export interface Judged {
  readonly state: Uint8Array;
  readonly reasons: readonly string[];
}

/** The reasons, in the order they are tried; a point carries the first that holds. */
export const reasons = [
  'no-position',
  'no-value',
  'zero-yield',
  'outside-field',
  'too-low',
  'too-high',
] as const;

export interface KeepRange {
  /** Shares of the median of the points inside the field with a yield over zero. */
  readonly from: number;
  readonly to: number;
}

/**
 * Judge yield points: a position, a value over zero (the header is up on zeros), inside the field, and within a range about the
 * median. `inside[i]` is 1 for points inside the field. Thresholds are common practice, without a source.
 */
export function judgeYieldPoints(
  x: Float64Array,
  y: Float64Array,
  value: Float64Array,
  inside: Uint8Array,
  keep: KeepRange,
): Judged {
  const state = new Uint8Array(value.length);
  const sound = new Float64Array(value.length).fill(NaN);
  for (let i = 0; i < value.length; i++) {
    if (!Number.isFinite(x[i]) || !Number.isFinite(y[i])) state[i] = 1;
    else if (!Number.isFinite(value[i])) state[i] = 2;
    else if (value[i] <= 0) state[i] = 3;
    else if (!inside[i]) state[i] = 4;
    else sound[i] = value[i];
  }
  const middle = median(sound);
  for (let i = 0; i < value.length; i++) {
    if (sound[i] < keep.from * middle) state[i] = 5;
    else if (sound[i] > keep.to * middle) state[i] = 6;
  }
  return { state, reasons };
}

/** Points by reason among the `counted` rows, leaving out reasons without any. */
export function countByReason(
  judged: Judged,
  counted: (row: number) => boolean = () => true,
): Record<string, number> {
  const counts: Record<string, number> = {};
  for (const [row, state] of judged.state.entries()) {
    if (state === 0 || !counted(row)) continue;
    const reason = judged.reasons[state - 1];
    counts[reason] = (counts[reason] ?? 0) + 1;
  }
  return counts;
}

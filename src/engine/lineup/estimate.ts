import { Refusal } from '../issue.ts';
import { tQuantile } from '../math/student-t.ts';

/** A figure with its interval. Nothing is guessed: an end that cannot be told is infinite, a figure that cannot be told NaN. */
export interface Estimate {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

/** Share of such intervals that hold the truth, where nobody says otherwise. Common practice. */
export const USUAL_LEVEL = 0.95;

/** value ± t · standard error, by Student's t; without degrees of freedom the interval has no ends. */
export function estimate(value: number, standardError: number, df: number, level = USUAL_LEVEL): Estimate {
  const half = df > 0 ? tOfLevel(level, df) * standardError : NaN;
  return Number.isNaN(value) || Number.isNaN(half)
    ? { value, low: -Infinity, high: Infinity }
    : { value, low: value - half, high: value + half };
}

/** Half width in standard errors of an interval of this level. */
export function tOfLevel(level: number, df: number): number {
  if (!(level > 0 && level < 1))
    throw new Refusal({
      code: 'interval-level',
      where: 'level of the intervals',
      found: String(level),
      expected: 'a share between 0 and 1, as 0.95',
      effect: 'No interval can be given',
      remedy: 'Give the level as a share',
    });
  return tQuantile((1 + level) / 2, df);
}

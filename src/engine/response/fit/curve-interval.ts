import { tQuantile } from '../../math/student-t.ts';
import { yieldAt } from '../curve.ts';
import type { FamilyFit } from './family-fit.ts';
import { slopesOf } from './figure-slopes.ts';
import { curveAway, FIGURES, LEVEL, LEVEL_PER_ENVIRONMENT } from './figures.ts';

export interface Interval {
  readonly value: number;
  /** −Infinity and Infinity where the plots do not tell that end. */
  readonly low: number;
  readonly high: number;
}

/**
 * Mean yield at a stand of `p` thousand plants/ac where the environment is `away` bu/ac from the reference, with its interval, by the slopes of the curve (delta method). What comes of the
 * level has the degrees of freedom between sites, what comes of the shape those within; the two t's are weighted by the variance each has (Cochran & Cox 1957, Experimental Designs, 2nd ed., 4.14).
 */
export function curveInterval(fit: FamilyFit, away: number, p: number, level = 0.95): Interval {
  const slopes = slopesOf(fit, (figures) => yieldAt(curveAway(fit.family, figures, away), p));
  const value = yieldAt(curveAway(fit.family, fit.figures, away), p);
  const isOfLevel = (k: number) => k === LEVEL || k === LEVEL_PER_ENVIRONMENT;
  let whole = 0;
  let ofLevel = 0;
  for (let a = 0; a < FIGURES; a++) {
    for (let b = 0; b < FIGURES; b++) {
      const part = slopes[a] * fit.covariance[a * FIGURES + b] * slopes[b];
      whole += part;
      if (isOfLevel(a) && isOfLevel(b)) ofLevel += part;
    }
  }
  const ofShape = Math.max(0, whole - ofLevel);
  const tOf = (df: number) => (df > 0 ? tQuantile((1 + level) / 2, df) : Infinity);
  const t =
    (ofLevel * tOf(fit.betweenDf) + ofShape * (ofShape > 0 ? tOf(fit.withinDf) : 0)) / (ofLevel + ofShape);
  const half = whole > 0 ? t * Math.sqrt(whole) : 0;
  return { value, low: value - half, high: value + half };
}

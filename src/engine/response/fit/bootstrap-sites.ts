import { random } from '../../math/random.ts';
import { curveDoubt } from '../curve.ts';
import type { Interval } from './curve-interval.ts';
import type { FamilyFit } from './family-fit.ts';
import { curveAway } from './figures.ts';
import { findShape, NEAR } from './find-shape.ts';
import { workOn } from './fit-work.ts';
import { shapeBounds } from './shape-starts.ts';
import { sitesBySize, type Trial } from './trial.ts';

/** Fewer sites drawn again and again are too much the same. Our own choice. */
export const SITES_TO_DRAW = 4;

/**
 * The interval of a stand that follows from the figures, by drawing sites again (Efron 1979, Annals of Statistics 7:1; whole sites, since plots of one are not independent): percentiles over
 * `draws` trials of as many sites, each fitted from the fitted figures with the ratio of variances as it was. A draw whose curve has no best stand counts as one beyond every other: above where it
 * climbs, below where it falls. Null under four sites.
 */
export function bootstrapSites(
  fit: FamilyFit,
  figure: (figures: Float64Array) => number,
  {
    seed,
    draws = 999,
    level = 0.95,
  }: { readonly seed: number; readonly draws?: number; readonly level?: number },
): Interval | null {
  const { trial, family, fitted } = fit;
  if (trial.sites < SITES_TO_DRAW) return null;
  const stream = random(seed);
  const found = new Float64Array(draws);
  for (let d = 0; d < draws; d++) {
    const drawn = drawSites(trial, () => stream.integer(trial.sites));
    const work = workOn(drawn, family, fitted, shapeBounds(family, trial));
    const figures = Float64Array.from(fit.figures);
    findShape(work, figures, fit.ratio, NEAR);
    const doubt = curveDoubt(curveAway(family, figures, 0));
    found[d] = doubt === null ? figure(figures) : Infinity;
  }
  found.sort();
  const tail = (1 - level) / 2;
  return { value: figure(fit.figures), low: percentile(found, tail), high: percentile(found, 1 - tail) };
}

function drawSites(trial: Trial, draw: () => number): Trial {
  const { p, y, away, row, start, siteGiven } = trial;
  const rows: number[] = [];
  const starts = [0];
  const given: number[] = [];
  for (let j = 0; j < trial.sites; j++) {
    const site = draw();
    given.push(siteGiven[site]);
    for (let i = start[site]; i < start[site + 1]; i++) rows.push(i);
    starts.push(rows.length);
  }
  const bounds = Uint32Array.from(starts);
  return {
    ...trial,
    plots: rows.length,
    p: Float64Array.from(rows, (i) => p[i]),
    y: Float64Array.from(rows, (i) => y[i]),
    away: Float64Array.from(rows, (i) => away[i]),
    row: Uint32Array.from(rows, (i) => row[i]),
    start: bounds,
    bySize: sitesBySize(bounds),
    siteGiven: Uint32Array.from(given),
  };
}

/** Of sorted values, at the place p·(n + 1), which for 999 draws is one of them. */
function percentile(sorted: Float64Array, p: number): number {
  const at = Math.min(sorted.length, Math.max(1, Math.round(p * (sorted.length + 1))));
  return sorted[at - 1];
}

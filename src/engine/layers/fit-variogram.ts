import type { EmpiricalVariogram, VariogramLag } from './variogram.ts';
import { riseOf, type VariogramFamily, type VariogramModel } from './variogram-model.ts';

export interface FittedModel {
  readonly model: VariogramModel;
  /** Σ pairs/distance²·(gamma − model)², what the fit makes least. */
  readonly sse: number;
  /** The range stands at an end of what was tried: the lags do not show where the rise ends, or show none. */
  readonly rangeAtLimit: boolean;
}

export interface VariogramFit {
  readonly lags: readonly VariogramLag[];
  /** Spherical, then exponential; empty when there is nothing to fit. */
  readonly tried: readonly FittedModel[];
  /** The one of less `sse`; null when there is nothing to fit, and then `reason` says why. */
  readonly best: FittedModel | null;
  readonly reason: string | null;
}

/** Our own bounds: under these a fit says more of chance than of ground. */
const LEAST_POINTS = 20;
const LEAST_LAGS = 4;

/** Ranges tried at first, evenly by ratio, from the mean distance of the first lag to so many cutoffs. */
const RANGES = 80;
const CUTOFFS = 5;

/**
 * Fits a spherical and an exponential model by least squares, weights pairs/distance² as gstat's default (Cressie 1985 in kind), nugget and partial sill
 * not below zero, and keeps the better. For any range the best nugget and sill are linear and known at once, so only the range is searched: from a fixed
 * ladder of ranges, then by golden section about the best rung. It needs no starting values and cannot fail to converge.
 */
export function fitVariogram(empirical: EmpiricalVariogram): VariogramFit {
  const { lags } = empirical;
  const usable = lags.filter((lag) => lag.distance_m > 0);
  const reason = nothingToFit(empirical, usable.length);
  if (reason !== null) return { lags, tried: [], best: null, reason };
  const tried = (['spherical', 'exponential'] as const).map((family) =>
    fitFamily(family, usable, empirical.cutoff_m),
  );
  const best = tried[1].sse < tried[0].sse ? tried[1] : tried[0];
  return { lags, tried, best, reason: null };
}

function nothingToFit({ points, least, most }: EmpiricalVariogram, lags: number): string | null {
  if (points < LEAST_POINTS) return `${points} points have a value, at least ${LEAST_POINTS} are needed`;
  if (least === most) return `all ${points} points have the same value, ${least}`;
  if (lags < LEAST_LAGS) {
    return `pairs of points fall in ${lags} lags of distance, at least ${LEAST_LAGS} are needed`;
  }
  return null;
}

function fitFamily(family: VariogramFamily, lags: readonly VariogramLag[], cutoff_m: number): FittedModel {
  const low = Math.log(lags[0].distance_m);
  const high = Math.log(Math.max(CUTOFFS * cutoff_m, 2 * lags[0].distance_m));
  const at = (log: number) => sillsAt(family, lags, Math.exp(log));
  const rung = (k: number) => low + ((high - low) * k) / (RANGES - 1);
  let best = 0;
  let sse = Infinity;
  for (let k = 0; k < RANGES; k++) {
    const own = at(rung(k)).sse;
    if (own < sse) [best, sse] = [k, own];
  }
  const log = goldenSection(
    (t) => at(t).sse,
    rung(Math.max(best - 1, 0)),
    rung(Math.min(best + 1, RANGES - 1)),
  );
  const atLimit = (best === 0 || best === RANGES - 1) && at(log).sse >= sse;
  const found = at(atLimit ? rung(best) : log);
  return { ...found, rangeAtLimit: atLimit || found.model.psill === 0 };
}

/** The best nugget and partial sill of a range, neither below zero. */
function sillsAt(family: VariogramFamily, lags: readonly VariogramLag[], range_m: number) {
  let [w, wf, wff, wg, wfg] = [0, 0, 0, 0, 0];
  for (const { pairs, distance_m, gamma } of lags) {
    const weight = pairs / distance_m ** 2;
    const f = riseOf(family, distance_m / range_m);
    w += weight;
    wf += weight * f;
    wff += weight * f * f;
    wg += weight * gamma;
    wfg += weight * f * gamma;
  }
  const determinant = w * wff - wf * wf;
  // A rise that is over before the first lag cannot be told from a nugget.
  let psill = determinant > 1e-12 * w * wff ? Math.max(0, (w * wfg - wf * wg) / determinant) : 0;
  let nugget = (wg - psill * wf) / w;
  if (nugget < 0) [nugget, psill] = [0, wfg / wff];
  let sse = 0;
  for (const { pairs, distance_m, gamma } of lags) {
    const away = gamma - nugget - psill * riseOf(family, distance_m / range_m);
    sse += (pairs / distance_m ** 2) * away * away;
  }
  const model: VariogramModel = { family, nugget, psill, range_m };
  return { model, sse };
}

/** Where a function of one valley is least (Kiefer 1953). */
function goldenSection(f: (t: number) => number, from: number, to: number): number {
  const golden = (Math.sqrt(5) - 1) / 2;
  let [a, b] = [from, to];
  let [c, d] = [b - golden * (b - a), a + golden * (b - a)];
  let [fc, fd] = [f(c), f(d)];
  while (b - a > 1e-10) {
    if (fc < fd) {
      [b, d, fd] = [d, c, fc];
      c = b - golden * (b - a);
      fc = f(c);
    } else {
      [a, c, fc] = [c, d, fd];
      d = a + golden * (b - a);
      fd = f(d);
    }
  }
  return (a + b) / 2;
}

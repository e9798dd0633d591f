import { bestStandOf } from '../engine/response/fit/best-stand.ts';
import { type FamilyFit, isRefused } from '../engine/response/fit/family-fit.ts';
import { slopesOf } from '../engine/response/fit/figure-slopes.ts';
import { BEND, FIGURES } from '../engine/response/fit/figures.ts';
import { fitFamily } from '../engine/response/fit/fit-family.ts';
import type { Plots } from '../engine/response/plots.ts';

/** A site or a plot, and what would be without it. */
export interface Pull {
  /** `Fen End 2024`; of a plot with its stand and yield. */
  readonly name: string;
  /** How far the figures move without it (Cook's distance). */
  readonly cook: number;
  /**
   * Without it the best stand, thousand plants/ac, or of a straight line the slope, bu/ac for a thousand plants/ac more; null where the plots then show none. Null where it was not tried, since it cannot move
   * either by its standard error.
   */
  readonly without: { readonly bestStand_k: number | null; readonly slope_buPerAc: number | null } | null;
  readonly decides: boolean;
}

/** One decides where without it the best stand is elsewhere by more than this, thousand plants/ac, and by more than its standard error. Our own choice. */
const FAR_K = 1;

/** What a fit is asked for: the best stand, or of a straight line the slope, by which the better end of the stands is told. */
function answerOf({ family }: FamilyFit): (figures: ArrayLike<number>) => number {
  return family === 'line' ? (figures) => figures[BEND] : bestStandOf(family, 0, 0);
}

/** The fit made again over the plots that stay, where that can matter: by one step an answer that follows from k figures moves by at most √(k · Cook's distance) of its standard errors (Cauchy and Schwarz). */
export function pullOf(plots: Plots, fit: FamilyFit) {
  const answer = answerOf(fit);
  const line = fit.family === 'line';
  const value = answer(fit.figures);
  const slopes = slopesOf(fit, answer);
  let variance = 0;
  for (let a = 0; a < FIGURES; a++)
    for (let b = 0; b < FIGURES; b++) variance += slopes[a] * fit.covariance[a * FIGURES + b] * slopes[b];
  const far = Math.max(line ? 0 : FAR_K, Math.sqrt(variance));
  return (name: string, cook: number, stays: (k: number) => boolean): Pull => {
    if (!Number.isFinite(value) || cook * fit.fitted.length < 1)
      return { name, cook, without: null, decides: false };
    const again = fitFamily(
      {
        stand_k: plots.stand_k.filter((_, k) => stays(k)),
        yield_buPerAc: plots.yield_buPerAc.filter((_, k) => stays(k)),
        site: plots.site.filter((_, k) => stays(k)),
        environment_buPerAc: plots.environment_buPerAc.filter((_, k) => stays(k)),
      },
      fit.family,
      fit.reference_buPerAc,
    );
    const without = isRefused(again) ? NaN : answer(again.figures);
    const known = Number.isFinite(without) ? without : null;
    const isFar = !(Math.abs(without - value) <= far);
    return {
      ...{ name, cook },
      without: { bestStand_k: line ? null : known, slope_buPerAc: line ? known : null },
      // Of a line its slope may be what it will, as long as it is the same end that is the better.
      decides: isFar && !(line && without * value > 0),
    };
  };
}

/** Of those that decide, the one that takes the answer away or moves it furthest, in a sentence; sites go before plots. */
export function decidedBy(pulls: readonly Pull[], fit: FamilyFit): string[] {
  const value = answerOf(fit)(fit.figures);
  const after = ({ without }: Pull) => without?.bestStand_k ?? without?.slope_buPerAc ?? null;
  const moved = (pull: Pull) => Math.abs((after(pull) ?? Infinity) - value);
  const [first] = pulls
    .filter(({ decides }) => decides)
    .toSorted((a, b) => (moved(a) === moved(b) ? 0 : moved(b) - moved(a)));
  if (!first) return [];
  const { name } = first;
  const then = after(first);
  if (fit.family === 'line') {
    const [kept, without] = value > 0 ? ['thicker', 'thinner'] : ['thinner', 'thicker'];
    return [
      then === null
        ? `Without ${name} its own plots would show no slope; with it ${kept} yielded more.`
        : `Without ${name} ${without} would have yielded more on its own plots; with it ${kept} did.`,
    ];
  }
  return [
    then === null
      ? `Without ${name} its own plots would show no best stand; with it they show ${value.toFixed(1)}k.`
      : `Without ${name} its own plots would put the best stand at ${then.toFixed(1)}k instead of ${value.toFixed(1)}k.`,
  ];
}

import { tQuantile } from '../math/student-t.ts';
import type { FamilyId } from '../response/family.ts';
import { BEND, FIGURES, hasBend, LEVEL, LEVEL_PER_ENVIRONMENT } from '../response/fit/figures.ts';
import { USUAL_LEVEL } from './estimate.ts';
import type { ProductResponse } from './product-response.ts';

/** Digits that are written: more than the plots tell, fewer than machines differ in. */
const DIGITS = 9;

export interface FittedFigures {
  readonly family: FamilyId;
  readonly reference_buPerAc: number;
  readonly figures: ArrayLike<number>;
  readonly covariance: ArrayLike<number>;
  readonly withinDf: number;
  readonly betweenDf: number;
  readonly plotSd_buPerAc: number;
  readonly siteSd_buPerAc: number;
}

/**
 * A fit as the lineup keeps it: stands by the plant. It has room for one number of degrees of freedom, that within sites, which is the one of stand and bend. Level and level per environment have
 * those between sites, mostly far fewer: their standard errors are written wider by the ratio of the two t's at 95 %, so that intervals with the one number come out as with both (Cochran & Cox 1957, 4.14).
 */
export function fittedResponse(fit: FittedFigures): ProductResponse {
  const { figures, covariance, withinDf, betweenDf } = fit;
  const t = (df: number) => tQuantile((1 + USUAL_LEVEL) / 2, df);
  const wider = withinDf > 0 && betweenDf > 0 ? Math.max(1, t(betweenDf) / t(withinDf)) : 1;
  const unit = [1, 1, 1000, 1000, 1];
  const factor = (k: number) => unit[k] * (k === LEVEL || k === LEVEL_PER_ENVIRONMENT ? wider : 1);
  const triangle: number[] = [];
  for (let a = 0; a < FIGURES; a++)
    for (let b = 0; b <= a; b++) triangle.push(written(covariance[a * FIGURES + b] * factor(a) * factor(b)));
  const [level, levelPerEnvironment, stand, standPerEnvironment] = Array.from(figures, (own, k) =>
    written(own * unit[k]),
  );
  return {
    family: fit.family,
    reference_buPerAc: fit.reference_buPerAc,
    level_buPerAc: level,
    levelPerEnvironment,
    stand_plantsPerAc: stand,
    standPerEnvironment_plantsPerAc: standPerEnvironment,
    bend: hasBend(fit.family) ? written(figures[BEND]) : null,
    uncertainty: {
      covariance: triangle,
      df: Math.max(0, withinDf),
      plotSd_buPerAc: written(fit.plotSd_buPerAc),
      siteSd_buPerAc: written(fit.siteSd_buPerAc),
    },
  };
}

function written(value: number): number {
  // Not a negative zero, which a file does not keep.
  return Number(value.toPrecision(DIGITS)) + 0;
}

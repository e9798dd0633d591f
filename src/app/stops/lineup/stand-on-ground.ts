import type { Estimate } from '../../../engine/lineup/estimate.ts';
import type { Product } from '../../../engine/lineup/product.ts';
import { curveOf } from '../../../engine/lineup/product-response.ts';
import { optimumInterval } from '../../../engine/lineup/response-interval.ts';
import { withinTested } from '../../../engine/lineup/within-tested.ts';
import { agronomicOptimum, yieldAt } from '../../../engine/response/curve.ts';
import { figure } from '../../parts/figures.ts';
import { standWords } from './estimate-words.ts';

/** The best stand on ground of an environment, with its interval; '' without a curve. */
export function standOn({ response, tested_plantsPerAc }: Product, ground_buPerAc: number | null): string {
  if (response === null || ground_buPerAc === null) return '';
  const value = agronomicOptimum(curveOf(response, ground_buPerAc));
  const alone: Estimate = { value, low: NaN, high: NaN };
  return standWords(
    withinTested(
      optimumInterval(response, ground_buPerAc, 0, tested_plantsPerAc) ?? alone,
      tested_plantsPerAc,
    ),
  );
}

/** What it yields at its best on that ground, where that is another figure now. */
export function bestYieldWords(was: Product, now: Product, ground_buPerAc: number | null): string[] {
  const [before, after] = [bestYieldOn(was, ground_buPerAc), bestYieldOn(now, ground_buPerAc)];
  return before === after || before === '' || after === ''
    ? []
    : [`${after} bu/ac at its best, before ${before}`];
}

function bestYieldOn({ response }: Product, ground_buPerAc: number | null): string {
  if (response === null || ground_buPerAc === null) return '';
  const curve = curveOf(response, ground_buPerAc);
  const best = agronomicOptimum(curve);
  return best > 0 && Number.isFinite(best) ? figure(yieldAt(curve, best)) : '';
}

import { curveAt, type RatedProduct } from '../lineup/product.ts';
import { curveOf, type ProductResponse } from '../lineup/product-response.ts';
import { slopesByFigures, wholeCovariance } from '../lineup/response-slopes.ts';
import { curveDoubt, yieldAt } from '../response/curve.ts';
import { FIGURES, LEVEL } from '../response/fit/figures.ts';

/** The ground is moved by this much for its slopes, bu/ac. */
const REACH = 5;

/**
 * A product's yield at one stand on one piece of ground, and how it moves with what is not sure: a plane in the figures of its response, a parabola in the ground. Yields are what plots
 * tell, so a plane of them holds further out than the figures themselves do (for a quadratic on the ground of the reference everywhere): no draw of it bends upwards.
 */
export interface YieldPlane {
  readonly yield_buPerAc: number;
  /** By the five figures, stands by the thousand. */
  readonly byFigure: Float64Array;
  /** By the environment, per bu/ac, and half of how that itself moves. */
  readonly byGround: number;
  readonly byGroundSquared: number;
}

/** `p`: thousand plants/ac. */
export function yieldPlane(product: RatedProduct, environment_buPerAc: number, p: number): YieldPlane {
  const { response } = product;
  const here = yieldAt(curveAt(product, environment_buPerAc), p);
  const ground = slopesByGround(product, environment_buPerAc, p, here);
  const of = (own: ProductResponse) => yieldAt(curveOf(own, environment_buPerAc), p);
  const byFigure =
    response.uncertainty === null
      ? new Float64Array(FIGURES)
      : slopesByFigures(response, wholeCovariance(response.uncertainty), of);
  // Yields are linear in the level, which may lie elsewhere though its own trials leave nothing open.
  byFigure[LEVEL] = of({ ...response, level_buPerAc: response.level_buPerAc + 1 }) - here;
  return { yield_buPerAc: here, byFigure, ...ground };
}

/** Where the curve holds on poorer or on better ground alone it is a straight line, and where on neither, flat: a curve that does not hold tells no yield. */
function slopesByGround(
  product: RatedProduct,
  environment_buPerAc: number,
  p: number,
  here: number,
): Pick<YieldPlane, 'byGround' | 'byGroundSquared'> {
  const [under, over] = [-REACH, REACH].map((by) => {
    const curve = curveAt(product, environment_buPerAc + by);
    return curveDoubt(curve) === null ? yieldAt(curve, p) : null;
  });
  if (under !== null && over !== null)
    return {
      byGround: (over - under) / (2 * REACH),
      byGroundSquared: (over - 2 * here + under) / (2 * REACH * REACH),
    };
  const rise = over !== null ? over - here : under !== null ? here - under : 0;
  return { byGround: rise / REACH, byGroundSquared: 0 };
}

/** Yield where the figures lie `figures[from …]` away and the ground `away` bu/ac. */
export function yieldOnPlane(
  { yield_buPerAc, byFigure, byGround, byGroundSquared }: YieldPlane,
  figures: Float64Array | null,
  from: number,
  away: number,
): number {
  let sum = yield_buPerAc + away * (byGround + away * byGroundSquared);
  if (figures !== null) for (let k = 0; k < FIGURES; k++) sum += byFigure[k] * figures[from + k];
  return sum;
}

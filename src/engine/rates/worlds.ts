import type { RatedProduct } from '../lineup/product.ts';
import { wholeCovariance } from '../lineup/response-slopes.ts';
import { NO_TRIALS, trialsInCommon } from '../lineup/trials-in-common.ts';
import { semidefiniteCholesky } from '../math/cholesky.ts';
import { drawChiSquare } from '../math/draw-gamma.ts';
import { type Random, random } from '../math/random.ts';
import { FIGURES, LEVEL } from '../response/fit/figures.ts';
import type { GroundDoubt } from './ground.ts';
import type { Money } from './money.ts';

/** Ways things may truly be, as far as trials and evidence tell: what is not known, drawn again and again. */
export interface Worlds {
  readonly count: number;
  /** Products that were drawn, or would have been; nothing is to be asked of the others. */
  readonly drawn: ReadonlySet<number>;
  /** By product: how far its five figures lie from those of the lineup, a world after the other, stands by the thousand; null for a product of which nobody says how sure it is. */
  readonly figures: readonly (Float64Array | null)[];
  /** By zone and world: how far the ground lies from what it is taken for, bu/ac. */
  readonly ground_buPerAc: readonly Float64Array[];
  /** By world: what a bushel is worth at the field, $. */
  readonly netPrice_perBu: Float64Array;
}

/**
 * Draws `count` worlds; the same seed draws the same. Figures of a product are Student's t about those fitted, by their covariance and its degrees of freedom, one product apart from the other; zones are normal, together at
 * the level the field is expected to yield and each about its own; the grain price is log-normal about the plan's. Products whose trials have nothing in common with those of most lie together above or below them by some normal figure of standard deviation `apart_buPerAc`:
 * what their sites were taken for nobody compared.
 */
export function drawWorlds(
  products: readonly RatedProduct[],
  area_ac: readonly number[],
  doubt: GroundDoubt,
  money: Money,
  priceSpread: number,
  count: number,
  seed: number,
  apart_buPerAc = 0,
  drawn: ReadonlySet<number> = new Set(products.keys()),
): Worlds {
  const stream = random(seed);
  const figures = products.map((product, k) => (drawn.has(k) ? drawFigures(product, count, stream) : null));
  drawApart(products, drawn, figures, apart_buPerAc, count, stream);
  const ground_buPerAc = drawGround(area_ac, doubt, count, stream);
  const netPrice_perBu = Float64Array.from({ length: count }, () => {
    const factor = Math.exp(priceSpread * stream.normal() - priceSpread ** 2 / 2);
    return money.grainPrice_perBu * factor - money.dryingHauling_perBu;
  });
  return { count, drawn, figures, ground_buPerAc, netPrice_perBu };
}

function drawFigures({ response }: RatedProduct, count: number, stream: Random): Float64Array | null {
  const { uncertainty } = response;
  if (uncertainty === null || !(uncertainty.df > 0)) return null;
  const factor = wholeCovariance(uncertainty);
  semidefiniteCholesky(factor, FIGURES);
  const drawn = new Float64Array(FIGURES * count);
  const normal = new Float64Array(FIGURES);
  for (let world = 0; world < count; world++) {
    const wide = Math.sqrt(uncertainty.df / drawChiSquare(stream, uncertainty.df));
    for (let k = 0; k < FIGURES; k++) normal[k] = wide * stream.normal();
    for (let i = 0; i < FIGURES; i++) {
      let sum = 0;
      for (let k = 0; k <= i; k++) sum += factor[i * FIGURES + k] * normal[k];
      drawn[world * FIGURES + i] = sum;
    }
  }
  return drawn;
}

/** Moves the levels of each group of trials but the largest, all of one group alike. */
function drawApart(
  products: readonly RatedProduct[],
  among: ReadonlySet<number>,
  figures: (Float64Array | null)[],
  sd_buPerAc: number,
  count: number,
  stream: Random,
): void {
  const group = trialsInCommon(products);
  const members = new Map<number, number[]>();
  for (const [product, own] of group.entries())
    if (own !== NO_TRIALS) members.set(own, [...(members.get(own) ?? []), product]);
  const [, ...smaller] = [...members.values()].sort((a, b) => b.length - a.length);
  for (const own of smaller) {
    const lift = Float64Array.from({ length: count }, () => sd_buPerAc * stream.normal());
    for (const product of own) {
      if (!among.has(product)) continue;
      const drawn = figures[product] ?? new Float64Array(FIGURES * count);
      for (let world = 0; world < count; world++) drawn[FIGURES * world + LEVEL] += lift[world];
      figures[product] = drawn;
    }
  }
}

function drawGround(
  area_ac: readonly number[],
  { levelSd_buPerAc, zoneSd_buPerAc }: GroundDoubt,
  count: number,
  stream: Random,
): Float64Array[] {
  const acres = area_ac.reduce((sum, own) => sum + own, 0);
  const away = area_ac.map(() => new Float64Array(count));
  for (let world = 0; world < count; world++) {
    let mean = 0;
    for (const [k, own] of away.entries()) {
      own[world] = zoneSd_buPerAc[k] * stream.normal();
      mean += (area_ac[k] / acres) * own[world];
    }
    // What the field yields as a whole is a doubt of its own: zones depart from it, and not all to one side.
    const level = levelSd_buPerAc * stream.normal();
    for (const own of away) own[world] += level - mean;
  }
  return away;
}

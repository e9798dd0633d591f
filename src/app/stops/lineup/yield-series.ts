import { curveOf } from '../../../engine/lineup/product-response.ts';
import { yieldAt } from '../../../engine/response/curve.ts';
import type { Results } from '../../../run/results.ts';
import { plantedProducts } from '../../map/layers/planted.ts';
import { type CurveSeries, sampled } from '../../parts/curve-series.ts';
import type { ProductRow } from './product-rows.ts';

const DASHES = [null, '6 3', '2 3', '8 3 2 3'];
const LONGEST_LABEL = 14;
/** More pale curves than this are a smear, and take long to draw. Our own choice. */
export const MOST_CURVES = 40;

/** Yield by stand on the ground of a zone: of those planted in the field, named, and of the first of `rows` beside, priced or not. */
export function yieldSeries(rows: readonly ProductRow[], results: Results, zone: number): CurveSeries[] {
  const { environment_buPerAc } = results.zoning!.zones[zone];
  const planted = plantedProducts(results);
  const chosen = results.choices?.[zone]?.chosen ?? null;
  const drawn = rows.filter(hasCurve).filter(({ index }, k) => k < MOST_CURVES || planted.includes(index));
  const series = drawn.flatMap(({ index, name, product }): CurveSeries[] => {
    const { id, response, tested_plantsPerAc: tested } = product;
    if (!response || !tested) return [];
    const curve = curveOf(response, environment_buPerAc);
    const yields = (plants: number) => yieldAt(curve, plants / 1000);
    const place = planted.indexOf(index);
    return [
      {
        id,
        label: place >= 0 ? shortened(name) : '',
        colour: place >= 0 ? 'var(--dusk)' : 'var(--edge)',
        quiet: place < 0,
        dash: place >= 0 ? DASHES[place % DASHES.length] : null,
        points: sampled(tested.min, tested.max, yields),
        dot: chosen?.product === index ? [chosen.plantsPerAc, yields(chosen.plantsPerAc)] : null,
      },
    ];
  });
  return series.sort((a, b) => Number(b.quiet) - Number(a.quiet));
}

/** What fits beside a curve; the table has all of it. */
function shortened(name: string): string {
  return name.length > LONGEST_LABEL ? `${name.slice(0, LONGEST_LABEL - 1).trimEnd()}…` : name;
}

export function hasCurve({ product }: ProductRow): boolean {
  return product.response !== null && product.tested_plantsPerAc !== null;
}

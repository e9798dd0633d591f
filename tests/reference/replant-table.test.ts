import { expect, it } from 'vitest';
import { fitProductsAndSites } from '../../src/engine/lineup/product-site-fit.ts';
import { trialGroups } from '../../src/engine/lineup/trial-groups.ts';

/**
 * Corn yield, % of the most, by stand (rows: 28 to 32, 24, 20, 16 and 12 thousand plants/ac) and planting date (from 20 April to 28 June). Iowa State University Extension, Ames, replant table
 * (page eccrops/cu040524).
 */
const REPLANT = [
  [100, 99, 90, 68, 52],
  [94, 93, 85, 64, 49],
  [81, 80, 73, 55, 42],
  [74, 73, 67, 50, 38],
  [68, 67, 61, 46, 35],
];

it('the replant table of Iowa is a stand times a date: 25 of 25 cells, by logarithms in two ways at once', () => {
  const cells = REPLANT.flatMap((row, stand) => row.map((percent, date) => ({ stand, date, percent })));
  const rows = cells.map((_, k) => k);
  const placed = {
    ...{ products: { length: 5 }, sites: { length: 5 } },
    product: Uint32Array.from(cells, ({ stand }) => stand),
    site: Uint32Array.from(cells, ({ date }) => date),
  };
  const fit = fitProductsAndSites({
    ...{ placed, rows, groups: trialGroups(placed, rows) },
    y: Float64Array.from(cells, ({ percent }) => Math.log(percent)),
  });
  const said = cells.map(({ stand, date }) => Math.round(Math.exp(fit!.product[stand] + fit!.site[date])));
  expect(said).toEqual(cells.map(({ percent }) => percent));
});

import { describe, expect, it } from 'vitest';
import { headToHead, theOthers } from '../../src/engine/lineup/head-to-head.ts';
import { tTwoSided } from '../../src/engine/math/student-t.ts';
import { siteMeans, trials } from '../engine/lineup/small-trials.ts';
import { missing } from '../formats/open-data.ts';
import { openTrials } from './trial-files.ts';

/** Twelve digits as R prints them. */
function expectClose(found: readonly number[], printed: readonly number[]): void {
  for (const [k, value] of printed.entries())
    expect(Math.abs(found[k] - value)).toBeLessThanOrEqual(5e-11 * Math.max(1, Math.abs(value)));
}

/** Hours of sleep gained by ten patients on two drugs: Student 1908, The probable error of a mean, Biometrika 6:1; R's `sleep`. Patients stand for sites. */
const FIRST = [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0, 2];
const SECOND = [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4];

describe('the sleep of ten patients', () => {
  it('gives the paired t of R', () => {
    const table = trials([
      ...FIRST.map((gained, k) => ({ product: 'first', site: `patient ${k + 1}`, yield: gained })),
      ...SECOND.map((gained, k) => ({ product: 'second', site: `patient ${k + 1}`, yield: gained })),
    ]);
    const found = headToHead(table, 0, [1], new Float64Array(10).fill(NaN));
    const { value, low, high } = found.difference;
    // t.test(extra ~ group, paired = TRUE), R 4.2.2, ten digits.
    const printed = [-1.58, -2.459885763, -0.700114237, -4.062127683, 0.002832890197];
    const own = [value, low, high, found.t, tTwoSided(found.t, found.df)];
    for (const [k, figure] of printed.entries()) expect(Math.abs(own[k] - figure)).toBeLessThan(6e-10);
    expect([found.sites, found.df, found.wins, found.losses, found.ties]).toEqual([10, 9, 0, 9, 1]);
    expect(found.moreSites).toBe(0);
  });
});

const gauch = 'trials/gauch.soy.csv';

/** Soybeans of New York, kg/ha: seven varieties in 55 site-years with up to four plots each, Gauch 1988 (R package agridat). Figures from tests/reference/trials.R. */
describe.skipIf(missing(gauch))(`open data ${gauch}`, () => {
  const meet = (one: string, other: string | null) => {
    const table = openTrials(gauch, 'env');
    const named = (name: string) => table.products.findIndex((product) => product.name === name);
    const others = other === null ? theOthers(table, named(one)) : [named(other)];
    return headToHead(table, named(one), others, siteMeans(table));
  };
  const figures = ({ difference: { value, low, high }, sd_buPerAc, t }: ReturnType<typeof meet>) => [
    value,
    low,
    high,
    sd_buPerAc,
    t,
  ];

  it('tells two varieties apart, on poor ground and on good', () => {
    const found = meet('Evan', 'Wilk');
    expect([found.sites, found.wins, found.losses, found.ties]).toEqual([55, 49, 6, 0]);
    expectClose(figures(found), [328.390909091, 258.570934167, 398.210884015, 258.269311, 9.42973887896]);
    expect(found.moreSites).toBe(0);
    const { poorer, better } = found.halves!;
    expect([poorer.sites, better.sites]).toEqual([27, 27]);
    expectClose(
      [poorer.difference.value, poorer.difference.low, poorer.difference.high],
      [279.018518519, 168.57571512, 389.461321917],
    );
    expectClose(
      [better.difference.value, better.difference.low, better.difference.high],
      [370.814814815, 278.178707661, 463.450921968],
    );
  });

  it('says how many sites more would tell two others apart', () => {
    const found = meet('Evan', 'Hodg');
    expect([found.wins, found.losses]).toEqual([17, 38]);
    expectClose(
      figures(found),
      [-81.8712121212, -192.927592614, 29.1851683714, 410.805860405, -1.47800510653],
    );
    // R: 100 sites in all.
    expect(found.moreSites).toBe(100 - 55);
  });

  it('says that no number of sites worth naming would tell the closest two', () => {
    const found = meet('Well', 'Wilk');
    expectClose(
      figures(found),
      [27.3772727273, -170.966245177, 225.720790632, 733.687512299, 0.276732648678],
    );
    // R: 2,762 sites in all.
    expect(found.moreSites).toBe('more than 1,000');
  });

  it('sets one against the mean of the rest', () => {
    const found = meet('Well', null);
    expect([found.wins, found.losses]).toEqual([18, 37]);
    expectClose(
      figures(found),
      [-148.448737374, -242.711177578, -54.1862971692, 348.683818798, -3.1573742232],
    );
    expect(found.others).toHaveLength(6);
  });
});

import { describe, expect, it } from 'vitest';
import { averageProduct } from '../../../src/engine/lineup/average-product.ts';
import { siteEnvironments } from '../../../src/engine/lineup/site-environments.ts';
import type { TrialTable } from '../../../src/engine/lineup/trial-table.ts';
import { random } from '../../../src/engine/math/random.ts';
import { type Row, siteMeans, trials } from './small-trials.ts';

/** Products 4, 0 and −4 bushels off the average, on ground of 150, 180, 200 and 230; best at 30 thousand, 0.1 bu/ac lost per squared thousand away. */
const MERIT = { Rail: 4, Crake: 0, Coot: -4 } as const;
const GROUND = { A: 150, B: 180, C: 200, D: 230 } as const;
const plot = (product: keyof typeof MERIT, site: keyof typeof GROUND, p: number): Row => ({
  product,
  site,
  stand: 1000 * p,
  yield: GROUND[site] + MERIT[product] - 0.1 * (p - 30) ** 2,
});
const withTold = (table: TrialTable, told: readonly number[]): TrialTable => ({
  ...table,
  sites: table.sites.map((site, k) => ({ ...site, environment_buPerAc: told[k] })),
});

describe('the environment of a site', () => {
  it('is what the average product would yield there at a good stand, whoever was there and at what stands', () => {
    const table = trials([
      // Rail, the best, on the poor ground alone; thin stands on the good ground.
      ...[20, 30, 40].flatMap((p) => [plot('Rail', 'A', p), plot('Crake', 'A', p)]),
      ...[22, 30, 36].flatMap((p) => [plot('Crake', 'B', p), plot('Coot', 'B', p)]),
      ...[20, 22].flatMap((p) => [plot('Coot', 'C', p), plot('Rail', 'C', p)]),
      ...[20, 24].map((p) => plot('Crake', 'D', p)),
    ]);
    const { environment_buPerAc, workedOut, issues } = siteEnvironments(table, 'corn');
    [150, 180, 200, 230].forEach((own, k) => {
      expect(environment_buPerAc[k]).toBeCloseTo(own, 8);
    });
    expect([workedOut, issues]).toEqual([4, []]);
  });

  it('is as told where it is told, and the others follow', () => {
    const rows = (['A', 'B', 'C'] as const).flatMap((site) =>
      [24, 30, 36].flatMap((p) => [plot('Rail', site, p), plot('Crake', site, p)]),
    );
    const told = siteEnvironments(withTold(trials(rows), [155, NaN, 205]), 'corn');
    // Rail and Crake are 2 over the average of all three; told sites lie 5 over the true ones.
    expect([...told.environment_buPerAc].map((own) => own.toFixed(6))).toEqual([
      '155.000000',
      '185.000000',
      '205.000000',
    ]);
    expect([told.told, told.workedOut]).toEqual([2, 1]);
  });

  it('of sites that share no product with the others is told to be worked out apart', () => {
    const table = trials([
      ...[24, 30, 36].flatMap((p) => [plot('Rail', 'A', p), plot('Rail', 'B', p)]),
      ...[24, 30, 36].flatMap((p) => [plot('Coot', 'C', p), plot('Coot', 'D', p)]),
    ]);
    const { environment_buPerAc: e, issues } = siteEnvironments(table, 'corn');
    // Each product is the average of its own.
    expect([e[1] - e[0], e[3] - e[2]].map((own) => own.toFixed(6))).toEqual(['30.000000', '30.000000']);
    expect(issues.map(({ code, severity }) => [code, severity])).toEqual([
      ['trials-not-connected', 'warning'],
      ['trials-not-connected', 'warning'],
    ]);
    expect(issues[0].found).toBe('2 of 4 sites share no product with the others (A, B)');
  });

  it('is known of the crop asked for alone, and needs no stands', () => {
    const table = trials([
      ...(['A', 'B'] as const).flatMap((site) =>
        (['Rail', 'Crake'] as const).map((product) => ({
          product,
          site,
          yield: GROUND[site] + MERIT[product],
        })),
      ),
      { product: 'Whinchat', crop: 'soybeans', site: 'E', yield: 60 },
    ]);
    const corn = siteEnvironments(table, 'Corn').environment_buPerAc;
    expect([...corn].map((own) => own.toFixed(6))).toEqual(['152.000000', '182.000000', 'NaN']);
    expect(siteEnvironments(table, 'soybean').environment_buPerAc[2]).toBe(60);
  });

  it('is not moved by a product of a single plot, however it did', () => {
    const rows = (['A', 'B'] as const).flatMap((site) => [plot('Rail', site, 30), plot('Crake', site, 30)]);
    const once = { product: 'Whinchat', site: 'B', stand: 30_000, yield: 320 };
    const [plain, joined] = [rows, [...rows, once]].map((own) => siteEnvironments(trials(own), 'corn'));
    expect([...joined.environment_buPerAc].map((own) => own.toFixed(6))).toEqual([
      '152.000000',
      '182.000000',
    ]);
    expect(joined.environment_buPerAc).toEqual(plain.environment_buPerAc);
  });

  /** Variety trials, each site at a stand of its own, counted plot by plot; products 1 bu/ac apart, each 4 bu/ac off at a site, plots 7. */
  const AT_ONE_STAND = [150, 170, 190, 200, 210, 230];
  function varietyTrials(seed: number): TrialTable {
    const { normal } = random(seed);
    return trials(
      AT_ONE_STAND.flatMap((e, site) =>
        Array.from({ length: 8 }, (_, k) => {
          const off = 4 * normal();
          return Array.from({ length: 3 }, () => ({
            product: `P${k}`,
            site: `S${site}`,
            stand: 26_000 + 2000 * site + 900 * normal(),
            yield: e + k - 3.5 + off + 7 * normal(),
          }));
        }).flat(),
      ),
    );
  }

  it('takes nothing from stands that differ between sites, and within them by counting alone', () => {
    for (let seed = 1; seed <= 100; seed++) {
      const table = varietyTrials(seed);
      const { environment_buPerAc, said } = siteEnvironments(table, 'corn');
      const means = siteMeans(table);
      for (const [k, own] of environment_buPerAc.entries()) expect(own).toBeCloseTo(means[k], 9);
      expect(said[0]).toContain('at the stands there, of which no effect is shown');
    }
  });

  it('takes no more from stands that show no effect than plots put there by chance', () => {
    // Three stands by design, yields that do not follow them.
    let moved = 0;
    for (let seed = 1; seed <= 200; seed++) {
      const { normal } = random(seed);
      const rows = AT_ONE_STAND.flatMap((e, site) =>
        Array.from({ length: 5 }, (_, k) =>
          [24, 30, 36].map((p) => ({
            product: `P${k}`,
            site: `S${site}`,
            stand: 1000 * p,
            yield: e + k + 7 * normal(),
          })),
        ).flat(),
      );
      if (averageProduct(trials(rows), 'corn').stands === 'count') moved++;
    }
    // A chi-square of one degree passes ln 90 = 4.5 in 3.4 of 100, one of two 9.0 in 1.1: nine expected, sd 3.
    expect(moved).toBeLessThan(19);
  });

  it('comes out of noise to within what plots allow', () => {
    const { normal, uniform } = random(8);
    const ground = Array.from({ length: 20 }, () => 150 + 100 * uniform());
    const rows = Array.from({ length: 40 }, (_, product) => {
      const merit = 5 * normal();
      return ground.flatMap((e, site) =>
        // A third of the cells are empty.
        uniform() < 1 / 3
          ? []
          : [22, 30, 38].map((p) => ({
              product: `p${product}`,
              site: `s${site}`,
              stand: 1000 * p,
              yield: e + merit - 0.1 * (p - 31) ** 2 + 6 * normal(),
            })),
      );
    }).flat();
    const table = trials(rows);
    const { environment_buPerAc } = siteEnvironments(table, 'corn');
    const off = table.sites.map(({ name }, k) => environment_buPerAc[k] - ground[Number(name.slice(1))]);
    const mean = off.reduce((sum, own) => sum + own, 0) / off.length;
    // The average merit drawn, 5 / √40 sd, is in the mean; the rest is 6 / √80 of plots.
    expect(Math.abs(mean)).toBeLessThan(3);
    for (const own of off) expect(Math.abs(own - mean)).toBeLessThan(3);
  });
});

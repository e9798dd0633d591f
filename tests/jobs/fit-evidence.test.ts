import { describe, expect, it } from 'vitest';
import { fitLineup } from '../../src/engine/lineup/fit-lineup.ts';
import { random } from '../../src/engine/math/random.ts';
import type { FamilyId } from '../../src/engine/response/family.ts';
import { fitEvidence } from '../../src/jobs/fit-evidence.ts';
import { type Row, trials } from '../engine/lineup/small-trials.ts';

const evidence = (
  rows: readonly Row[],
  bootstrap = false,
  families: readonly FamilyId[] = ['quadratic', 'line'],
) => {
  const table = trials(rows);
  const fitted = fitLineup(table, 'corn', { families, reference_buPerAc: 180 });
  return { fitted, found: fitEvidence(table, fitted, { bootstrap }) };
};

/** 182 at 31,000 and 0.2 bu less for each thousand squared from there, by site so much more, and an error. */
const STANDS = [20_000, 25_000, 30_000, 35_000, 40_000];
function plots(sites: Readonly<Record<string, number>>, sd: number, best = 31): Row[] {
  const { normal } = random(5);
  return Object.entries(sites).flatMap(([site, more]) =>
    STANDS.flatMap((stand) =>
      [1, 2].map(() => ({
        ...{ product: 'Wren 98', site, year: 2025, stand },
        yield: 182 + more - 0.2 * (stand / 1000 - best) ** 2 + sd * normal(),
      })),
    ),
  );
}

describe('the evidence of a fit', () => {
  // One site, one product; the last plot is far off.
  const stands = [20, 24, 28, 32, 36, 20, 24, 28, 32, 36];
  const yields = [150, 170, 182, 185, 180, 152, 168, 183, 186, 150];
  const rows = stands.map(
    (stand, k): Row => ({
      ...{ product: 'Wren 98', site: 'Fen End', year: 2025 },
      ...{ stand: 1000 * stand, yield: yields[k] },
    }),
  );

  it('is that of lm in R where there is one site: residuals, leverage, Cook’s distance, and the fit without a plot', () => {
    const [{ plots: own, own_k, pullingPlots, pullingSites, said }] = evidence(rows).found;
    // R 4.2.2: f <- lm(y ~ s + I(s^2)); residuals(f), hatvalues(f), cooks.distance(f), -coef(f)[2] / (2 * coef(f)[3]).
    const residuals = [0.8, -2.4, -1.1, 3.7, 13, 2.8, -4.4, -0.1, 4.7, -17];
    const leverage = [0.4428571429, 0.1857142857, 0.2428571429, 0.1857142857, 0.4428571429];
    const cook = [0.0040305110883, 0.0071213739389, 0.0022627168919, 0.0169256266012, 1.0643068342652];
    for (const [k, residual] of residuals.entries()) expect(own.residual_buPerAc[k]).toBeCloseTo(residual, 6);
    for (const [k, printed] of leverage.entries()) expect(own.leverage[k]).toBeCloseTo(printed, 8);
    for (const [k, printed] of cook.entries()) expect(own.cook[k]).toBeCloseTo(printed, 6);
    expect(own_k?.value).toBeCloseTo(29.424, 3);
    expect(pullingPlots[0].cook).toBeCloseTo(1.8200276633, 6);
    // The same without the tenth plot.
    expect(pullingPlots[0].without?.bestStand_k).toBeCloseTo(31.6856692913, 6);
    expect(said).toEqual([
      'Without the plot of 36.0k at Fen End 2025 (150.0 bu/ac) its own plots would put the best stand at 31.7k instead of 29.4k.',
    ]);
    expect(pullingSites).toEqual([]);
  });

  it('names the site that decides, and only where one does', () => {
    const even = plots({ Fen: 0, Hill: 6, Mill: -5, Oak: 2, Ford: 9 }, 1);
    const [alike] = evidence(even).found;
    expect(alike.said).toEqual([]);
    expect(alike.pullingSites).toHaveLength(3);
    expect(alike.pullingSites.every(({ decides }) => !decides)).toBe(true);
    // A sixth at which yield rises all the way.
    const rising = STANDS.flatMap((stand) =>
      [1, 2].map(
        (): Row => ({
          ...{ product: 'Wren 98', site: 'Cedar', year: 2023, stand },
          yield: 60 + 0.004 * stand,
        }),
      ),
    );
    const [odd] = evidence([...even, ...rising]).found;
    expect(odd.pullingSites[0]).toMatchObject({ name: 'Cedar 2023', decides: true });
    // What it is without the sixth is what it was before.
    expect(odd.pullingSites[0].without?.bestStand_k).toBeCloseTo(alike.own_k?.value ?? NaN, 4);
    expect(odd.said).toHaveLength(1);
    expect(odd.said[0]).toMatch(
      /^Without Cedar 2023 its own plots would put the best stand at 3\d\.\dk instead of 3\d\.\dk\.$/,
    );
  });

  it('names the site that turns a straight line about, and only where one does', () => {
    /** So many bushels for a thousand plants more, an error up and down at every stand. */
    const sloped = (site: string, slope: number) =>
      STANDS.flatMap((stand) =>
        [-0.5, 0.5].map(
          (off): Row => ({
            ...{ product: 'Wren 98', site, year: 2025, stand },
            yield: 180 + slope * (stand / 1000 - 30) + off,
          }),
        ),
      );
    const four = ['Fen', 'Hill', 'Mill', 'Oak'].flatMap((site) => sloped(site, -0.3));
    const [even] = evidence([...four, ...sloped('Cedar', -0.2)], false, ['line']).found;
    expect([even.said, even.own_k]).toEqual([[], null]);
    const [odd] = evidence([...four, ...sloped('Cedar', 3)], false, ['line']).found;
    expect(odd.said).toEqual([
      'Without Cedar 2025 thinner would have yielded more on its own plots; with it thicker did.',
    ]);
    expect(odd.pullingSites[0]).toMatchObject({ name: 'Cedar 2025', decides: true });
    // With the same stands at every site the slope is the mean of the sites'.
    expect(odd.pullingSites[0].without?.slope_buPerAc).toBeCloseTo(-0.3, 6);
    expect(odd.pullingSites[0].without?.bestStand_k).toBeNull();
    // Steeper by one site is no other answer.
    expect(evidence([...four, ...sloped('Cedar', -3)], false, ['line']).found[0].said).toEqual([]);
  });

  it('has residuals that are none on the mean within each site', () => {
    const [{ plots: own, product }] = evidence(plots({ Fen: 0, Hill: 6, Mill: -5, Oak: 2 }, 2)).found;
    expect(product).toBe(0);
    for (const site of [0, 1, 2, 3]) {
      const within = own.withinSite_buPerAc.slice(10 * site, 10 * site + 10);
      expect(within.reduce((sum, value) => sum + value, 0)).toBeCloseTo(0, 9);
    }
    for (const [k, curve] of own.curve_buPerAc.entries())
      expect(curve + own.residual_buPerAc[k]).toBeGreaterThan(100);
  });

  it('draws sites again only when asked to, always the same, from four sites on', () => {
    const four = plots({ Fen: 0, Hill: 6, Mill: -5, Oak: 2 }, 2);
    expect(evidence(four).found[0].bootstrap_k).toBeNull();
    const [{ bootstrap_k, own_k }] = evidence(four, true).found;
    expect(bootstrap_k).toEqual(evidence(four, true).found[0].bootstrap_k);
    expect(bootstrap_k?.value).toBe(own_k?.value);
    expect(bootstrap_k?.low).toBeLessThan(own_k?.value ?? NaN);
    expect(bootstrap_k?.high).toBeGreaterThan(own_k?.value ?? NaN);
    expect(evidence(four.slice(0, 30), true).found[0].bootstrap_k).toBeNull();
  });

  it('says nothing of a best stand where the plots show none', () => {
    const line = rows.map((row) => ({ ...row, yield: 100 + (row.stand ?? 0) / 500 }));
    const { fitted, found } = evidence(line);
    expect(fitted.products[0].response?.family ?? 'none').not.toBe('quadratic');
    expect(found[0]).toMatchObject({ own_k: null, bootstrap_k: null, said: [] });
  });
});

import { describe, expect, it } from 'vitest';
import { averageProduct } from '../../src/engine/lineup/average-product.ts';
import { type Standings, standingsOf } from '../../src/engine/lineup/standings.ts';
import type { TrialTable } from '../../src/engine/lineup/trial-table.ts';
import { missing, openData } from '../formats/open-data.ts';
import { openTrials } from './trial-files.ts';

const gauch = 'trials/gauch.soy.csv';

/** Leads and standard errors by name, lower end of the interval beside. */
function figures({ groups: [{ standings }] }: Standings, { products }: TrialTable) {
  const named = standings.map(
    (own) => [products[own.product].name, own.lead.value, own.standardError_buPerAc, own.lead.low] as const,
  );
  return named.sort(([a], [b]) => (a < b ? -1 : 1));
}

function keep(table: TrialTable, kept: (row: number) => boolean): TrialTable {
  const rows = [...table.product.keys()].filter(kept);
  const pick = (of: ArrayLike<number>) => rows.map((row) => of[row]);
  return {
    ...table,
    product: Uint32Array.from(pick(table.product)),
    site: Uint32Array.from(pick(table.site)),
    stand_plantsPerAc: Float64Array.from(pick(table.stand_plantsPerAc)),
    yield_buPerAc: Float64Array.from(pick(table.yield_buPerAc)),
    block: Uint32Array.from(pick(table.block)),
  };
}

/**
 * Soybeans of New York, kg/ha: seven varieties in 55 site-years with two to four plots each, Gauch 1988 (R package agridat). Figures from tests/reference/trials.R: least squares by lm with the
 * weights of Paule & Mandel, their spread found by uniroot; and lme4 1.1-31, whose REML weighs by a spread of its own.
 */
describe.skipIf(missing(gauch))(`open data ${gauch}`, () => {
  /** R printed twelve digits; the spread it weighs by is settled to 1e-9. */
  const expectClose = (found: number, printed: number) =>
    expect(Math.abs(found - printed)).toBeLessThanOrEqual(1e-9 * Math.max(1, Math.abs(printed)));

  it('gives the leads, their errors and the spreads of R', () => {
    const table = openTrials(gauch, 'env');
    const found = standingsOf(averageProduct(table, 'corn'));
    expectClose(found.betweenSites_buPerAc, 307.955589161);
    expectClose(found.withinSite_buPerAc, 328.456417947);
    expect(found.df).toBe(324);
    const printed = [
      ['Chip', -236.229505904, 43.9634918679, -322.719444944],
      ['Cors', 99.8277232169, 43.9790759358, 13.3071254409],
      ['Evan', 174.99035519, 43.9332740228, 88.5598641027],
      ['Hodg', 255.676160856, 43.8704801155, 169.369205024],
      ['S200', -15.0575091992, 43.9791674411, -101.578286995],
      ['Well', -127.291855328, 43.9791674411, -213.812633123],
      ['Wilk', -151.915368832, 44.0184935042, -238.513513294],
    ] as const;
    for (const [k, [name, ...own]] of figures(found, table).entries()) {
      expect(name).toBe(printed[k][0]);
      for (const [j, figure] of own.entries()) expectClose(figure, printed[k][j + 1] as number);
    }
  });

  it('gives them where the two best are kept out of every second site, near to the mixed model', () => {
    const table = openTrials(gauch, 'env');
    const sites = table.sites.map(({ name }) => name).sort();
    const found = standingsOf(
      averageProduct(
        keep(
          table,
          (row) =>
            !['Evan', 'Hodg'].includes(table.products[table.product[row]].name) ||
            sites.indexOf(table.sites[table.site[row]].name) % 2 === 0,
        ),
        'corn',
      ),
    );
    expectClose(found.betweenSites_buPerAc, 318.529360845);
    expect(found.df).toBe(270);
    const printed = [
      [-233.172341058, 46.5858779969, -324.890106231],
      [102.799935503, 46.5845110889, 11.0848614835],
      [177.069305343, 63.4424133774, 52.1645783667],
      [238.480565813, 63.2094391058, 114.034516025],
      [-12.0511901006, 46.584674704, -103.766586244],
      [-124.348036451, 46.5777265281, -216.049753101],
      [-148.778239049, 46.6354256848, -240.593553166],
    ];
    const mixed = [
      [-233.174676003, 46.6561698082],
      [102.80278062, 46.6548254928],
      [177.06932677, 63.5376906983],
      [238.476685123, 63.3051822485],
      [-12.0382609337, 46.6549881289],
      [-124.347523924, 46.6480556344],
      [-148.788331653, 46.7056487897],
    ];
    for (const [k, [, lead, error, low]] of figures(found, table).entries()) {
      for (const [j, figure] of [lead, error, low].entries()) expectClose(figure, printed[k][j]);
      // Another estimate of the same spread: a hundredth of the error apart, and 2 in 1,000 of it.
      expect(Math.abs(lead - mixed[k][0])).toBeLessThan(0.01 * error);
      expect(Math.abs(error / mixed[k][1] - 1)).toBeLessThan(0.002);
    }
  });

  it('gives those of lm where no plot is repeated', () => {
    const rep = new TextDecoder()
      .decode(openData(gauch).bytes)
      .trim()
      .split(/\r?\n/)
      .slice(1)
      .map((line) => line.split(',')[1]);
    const table = openTrials(gauch, 'env');
    const found = standingsOf(
      averageProduct(
        keep(table, (row) => rep[row] === 'R1'),
        'corn',
      ),
    );
    expectClose(found.betweenSites_buPerAc, 457.857750058);
    expect([found.withinSite_buPerAc, found.df]).toEqual([NaN, 324]);
    const printed = [
      -283.742857143, 101.402597403, 187.038961039, 287.620779221, -16.7974025974, -95.6883116883,
      -179.833766234,
    ];
    for (const [k, [, lead, error]] of figures(found, table).entries()) {
      expectClose(lead, printed[k]);
      expectClose(error, 57.157842873);
    }
  });
});

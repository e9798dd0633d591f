import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { averageProduct } from '../../../src/engine/lineup/average-product.ts';
import { type Standings, standingsOf } from '../../../src/engine/lineup/standings.ts';
import { standingSentence, standingsSentences } from '../../../src/engine/lineup/standings-words.ts';
import { random } from '../../../src/engine/math/random.ts';
import { type Row, trials } from './small-trials.ts';

function stand(rows: readonly Row[]) {
  const table = trials(rows);
  const names = table.products.map(({ name }) => name);
  const found = standingsOf(averageProduct(table, 'corn'));
  return { found, names, order: order(found, names) };
}

const order = ({ groups }: Standings, names: readonly string[]) =>
  groups.map(({ standings }) => standings.map(({ product }) => names[product]));

/** Strong products at six sites, weak ones at six others, one of all sites, and a newcomer of no merit among the weak; yields are exact. */
const MERITS = { 'Strong 1': 12, 'Strong 2': 10, Bridge: 0, Newcomer: 0, 'Weak 1': -10, 'Weak 2': -12 };
type Product = keyof typeof MERITS;
const stood = (product: Product, site: number) =>
  product === 'Bridge' || product.startsWith('Strong') === site < 6;
function unlikeRivals(noise: (product: Product, site: number) => readonly number[]): Row[] {
  return (Object.keys(MERITS) as Product[]).flatMap((product) =>
    Array.from({ length: 12 }, (_, site) => site)
      .filter((site) => stood(product, site))
      .flatMap((site) =>
        noise(product, site).map((off) => ({
          product,
          site: `S${site}`,
          yield: 170 + 5 * (site % 6) + MERITS[product] + off,
        })),
      ),
  );
}

describe('standingsOf', () => {
  it('ranks products as if all had been at every site, whoever their rivals were', () => {
    const { found, names, order: ranked } = stand(unlikeRivals(() => [0]));
    expect(ranked).toEqual([['Strong 1', 'Strong 2', 'Bridge', 'Newcomer', 'Weak 1', 'Weak 2']]);
    for (const { product, lead } of found.groups[0].standings)
      expect(lead.value).toBeCloseTo(MERITS[names[product] as Product], 9);
    const [met] = found.groups.map(({ standings }) => standings.map(({ met }) => met));
    expect(met).toEqual([2, 2, 5, 3, 3, 3]);
  });

  it('holds the true leads in 95 of 100 intervals, plots many or few, and knows what varies', () => {
    const truth = { held: 0, of: 0, between: 0, within: 0 };
    const RUNS = 400;
    for (let seed = 1; seed <= RUNS; seed++) {
      const { normal, integer } = random(seed);
      const { found, names } = stand(
        unlikeRivals(() => {
          const off = 4 * normal();
          return Array.from({ length: 1 + integer(4) }, () => off + 6 * normal());
        }),
      );
      truth.between += found.betweenSites_buPerAc ** 2 / RUNS;
      truth.within += found.withinSite_buPerAc ** 2 / RUNS;
      for (const { product, lead } of found.groups[0].standings) {
        truth.of++;
        const merit = MERITS[names[product] as Product];
        if (lead.low <= merit && merit <= lead.high) truth.held++;
      }
    }
    // Of 2,400 intervals, those of one trial apart or not: two standard errors of 400 are 2.2 points.
    expect(Math.abs(truth.held / truth.of - 0.95)).toBeLessThan(0.022);
    // 16 and 36 true; what is left of 24 degrees of freedom varies by some 40 %, a trial's, so by 2 % of 400 and some more for what cannot fall below nothing.
    expect(Math.abs(truth.between - 16)).toBeLessThan(2);
    expect(Math.abs(truth.within - 36)).toBeLessThan(1.5);
  });

  it('gives a product of few plots the wider interval, and one of a single site the last place and no part in the average', () => {
    const { normal } = random(3);
    const rows = unlikeRivals(() => Array.from({ length: 6 }, () => 8 * normal()));
    const few = rows.filter(({ product }, k) => product !== 'Strong 1' || k % 6 === 0);
    const once = { product: 'Once', site: 'S3', yield: 320 };
    const { found, names, order: ranked } = stand([...few, once]);
    const own = (name: string) => found.groups[0].standings.find(({ product }) => names[product] === name)!;
    expect(own('Strong 1').plots).toBe(6);
    // A sixth of the plots, beside what sites and the one that joins them are uncertain by, which both share.
    expect(own('Strong 1').standardError_buPerAc).toBeGreaterThan(
      1.25 * own('Strong 2').standardError_buPerAc,
    );
    expect(ranked[0].at(-1)).toBe('Once');
    expect(own('Once').lead.value).toBeGreaterThan(100);
    expect(found.groups[0].averaged).toBe(6);
    const plain = stand(few).found.groups[0].standings;
    for (const { product, lead } of plain) expect(own(names[product]).lead.value).toBeCloseTo(lead.value, 9);
    expect(standingSentence(own('Once').product, found, names)).toMatch(
      /^As if all had been at every site, Once yielded \d+\.\d bu\/ac more than the average of 6 products, by one site alone, which tells little of the next: /,
    );
    expect(standingsSentences(found)).toContain(
      'Products of one site stand last: they are in no average, and one site tells little of the next.',
    );
  });

  it('brings plots to one stand where their effect shows', () => {
    // The better one stood thin, where 0.1 bu/ac a squared thousand is lost; the check stood at all stands.
    const at = (product: string, merit: number, stands: readonly number[]) =>
      [150, 180, 200].flatMap((e, site) =>
        stands.map((p) => ({
          product,
          site: `S${site}`,
          stand: 1000 * p,
          yield: e + merit - 0.1 * (p - 32) ** 2,
        })),
      );
    const { found } = stand([...at('Rail', 4, [20, 24]), ...at('Crake', -4, [20, 26, 32, 38])]);
    expect(found.groups[0].standings.map(({ lead }) => lead.value.toFixed(6))).toEqual([
      '4.000000',
      '-4.000000',
    ]);
  });

  it('holds those that share no site with the others against their own average', () => {
    const apart = ['Rail', 'Crake'].flatMap((product, k) =>
      ['X', 'Y', 'Z'].map((site, s) => ({ product, site, yield: 90 + 2 * k + (k === 0 && s === 2 ? 1 : 0) })),
    );
    const { found, order: ranked } = stand([...unlikeRivals(() => [0, 1]), ...apart]);
    expect(ranked[1]).toEqual(['Crake', 'Rail']);
    expect(found.groups[1].standings[0].lead.value).toBeCloseTo(2 / 2 - 1 / 6, 9);
    expect(standingsSentences(found).at(-1)).toBe(
      'The sites fall into 2 groups that share no product: each is held against its own average, and nothing compares one group with another.',
    );
  });

  it('says how sure it is of nothing where one site is all, and nothing of a product alone', () => {
    const one = stand([
      { product: 'Rail', site: 'A', yield: 150 },
      { product: 'Crake', site: 'A', yield: 158 },
    ]);
    expect(one.order).toEqual([['Crake', 'Rail']]);
    expect(one.found.groups[0].standings[0].lead).toEqual({ value: 4, low: -Infinity, high: Infinity });
    expect(standingSentence(1, one.found, one.names)).toBe(
      'As if all had been at every site, Crake yielded 4.0 bu/ac more than the average of 2 products, by one site alone, which tells little of the next.',
    );
    expect(standingsSentences(one.found)).toContain('Too few sites share products to say how sure that is.');
    const alone = stand([{ product: 'Rail', site: 'A', yield: 150 }]);
    expect(alone.found.groups[0].standings[0].lead.value).toBeNaN();
    expect(standingSentence(0, alone.found, alone.names)).toBeNull();
  });

  it('follows neither the order of the plots nor what all plots of a site have in common, and says no figure it has not', () => {
    const row = fc.record({
      product: fc.constantFrom('Rail', 'Crake', 'Coot', 'Wren'),
      site: fc.constantFrom('A', 'B', 'C', 'D', 'E'),
      yield: fc.integer({ min: 0, max: 300 }),
    });
    fc.assert(
      fc.property(fc.array(row, { minLength: 1, maxLength: 40 }), (rows) => {
        const { found, names } = stand(rows);
        const leads = ({ found: { groups }, names: own }: ReturnType<typeof stand>) =>
          new Map(groups.flatMap(({ standings }) => standings.map((k) => [own[k.product], k.lead] as const)));
        const plain = leads({ found, names, order: [] });
        const turned = leads(stand([...rows].reverse()));
        const lifted = leads(
          stand(rows.map((own) => (own.site === 'B' ? { ...own, yield: own.yield + 30 } : own))),
        );
        for (const [name, { value, low }] of plain)
          for (const other of [turned, lifted]) {
            const own = other.get(name)!;
            expect(Number.isNaN(own.value)).toBe(Number.isNaN(value));
            if (!Number.isNaN(value)) expect(own.value).toBeCloseTo(value, 6);
            if (Number.isFinite(low)) expect(own.low).toBeCloseTo(low, 4);
          }
        const said = [
          ...standingsSentences(found),
          ...names.map((_, product) => standingSentence(product, found, names) ?? ''),
        ].join(' ');
        expect(said).not.toMatch(/NaN|Infinity|undefined|null|-\d/);
      }),
    );
  });
});

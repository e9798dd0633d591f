import { describe, expect, it } from 'vitest';
import { earlierPlotsWords } from '../../src/app/stops/lineup/earlier-plots-words.ts';
import { groundWords, lineupChanges } from '../../src/app/stops/lineup/lineup-changes.ts';
import { newProduct } from '../../src/engine/lineup/new-product.ts';
import type { Product } from '../../src/engine/lineup/product.ts';
import type { ProductResponse } from '../../src/engine/lineup/product-response.ts';
import { random } from '../../src/engine/math/random.ts';
import { draftLineup } from '../../src/jobs/draft-lineup.ts';
import type { Lineup, LineupSite } from '../../src/plan/lineup-schema.ts';

const RESPONSE: ProductResponse = {
  family: 'quadratic',
  reference_buPerAc: 180,
  level_buPerAc: 180,
  levelPerEnvironment: 1,
  stand_plantsPerAc: 32_000,
  standPerEnvironment_plantsPerAc: 0,
  bend: 0.35,
  uncertainty: null,
};
const SITES: LineupSite[] = [
  { name: 'Alder Bank', year: 2025, environment_buPerAc: 170, environmentTold: false },
  { name: 'Birch End', year: 2025, environment_buPerAc: 190, environmentTold: false },
];
const fitOf = (leaning: number) => ({ plots: 4, sites: 2, runnerUp: null, leaning, said: [] });
const plots = (...yields: number[]) => ({
  site: yields.map((_, k) => k % 2),
  stand_plantsPerAc: yields.map((_, k) => 26_000 + 4000 * (k >> 1)),
  yield_buPerAc: yields,
});
function product(name: string, over: Partial<Product> = {}): Product {
  const bare = newProduct({ id: name.toLowerCase(), name, crop: 'corn', seedsPerUnit: 80_000 });
  const tested_plantsPerAc = { min: 26_000, max: 38_000 };
  const own = { response: RESPONSE, tested_plantsPerAc, fit: fitOf(0), plots: plots(160, 180, 168, 189) };
  return { ...bare, ...own, ...over };
}
const lineup = (products: readonly Product[], sites = SITES): Lineup => ({
  ...{ document: 'eachacre-lineup', version: 1, name: 'North farm', scales: [], sites, products },
});
/** The one of two lineups that is asked for. */
function change(name: string, before: Lineup | null, after: Lineup) {
  const found = lineupChanges(before, after).find((own) => own.name === name);
  if (!found) throw new Error(`no ${name}`);
  return found;
}
const OTHERS = ['Ruff', 'Snipe', 'Stint', 'Plover'].map((name) => product(name));

describe('what changes in a lineup', () => {
  it('says of a new product its stand, its plots and its price', () => {
    const told = change('Teal', null, lineup([product('Teal', { pricePerUnit: 251 })]));
    expect(told).toMatchObject({ kind: 'new', stand: '32.0k', leaning: '', priced: true });
    expect(told.words).toEqual(['4 plots at 2 sites', '$251.00 a unit']);
    const one = product('Teal', { response: null, plots: plots(160) });
    expect(change('Teal', null, lineup([one]))).toMatchObject({
      ...{ stand: '', words: ['1 plot at 1 site', 'no price yet'], priced: false, ground_buPerAc: null },
    });
  });

  it.each([
    [0, ''],
    [0.49, ''],
    [0.5, 'leans 50 % on the others'],
    [0.994, 'leans 99 % on the others'],
    [1, 'that of the others'],
  ])('marks a best stand that is not its own (leaning %f)', (leaning, mark) => {
    const told = change('Teal', null, lineup([product('Teal', { fit: fitOf(leaning) })]));
    expect(told.leaning).toBe(mark);
  });

  it('says why a stand changes of which the plots are the same', () => {
    const moved = { ...RESPONSE, stand_plantsPerAc: 30_000 };
    const was = product('Teal', { fit: fitOf(0.3) });
    const before = lineup([was, ...OTHERS]);
    const now = (over: Partial<Product>) => ({ ...was, response: moved, ...over });
    const words = (after: Product, ...others: Product[]) =>
      change('Teal', before, lineup([after, ...others])).words;
    const seven = [...OTHERS, ...['Dunlin', 'Knot', 'Godwit'].map((name) => product(name))];
    expect(words(now({ fit: fitOf(0.6) }), ...seven)).toEqual([
      'leans 60 % on 7 other curves now, before 30 % on 4',
    ]);
    expect(words(now({ fit: fitOf(1) }), ...seven)).toEqual([
      'leans wholly on 7 other curves now, before 30 % on 4',
    ]);
    expect(words(now({}), ...OTHERS)).toEqual(['leans 30 % on 4 other curves, which are not as they were']);
    expect(words(now({ fit: fitOf(0) }), ...OTHERS)).toEqual(['leans on no others now']);
    // Neither one that is lent nor one whose plots are gone is a curve to lean on.
    const few = [...OTHERS.slice(1), product('Knot', { plots: null }), product('Dunlin', { fit: fitOf(1) })];
    expect(words(now({}), ...few)).toEqual(['leans 30 % on 3 other curves now, before 30 % on 4']);
    expect(words(now({ response: null }), ...OTHERS)).toEqual(['no curve any more']);
  });

  it('counts the curves leant on as the fit does', () => {
    const { normal } = random(4);
    const trials = (
      bests: Readonly<Record<string, number>>,
      sites: readonly string[],
      error_buPerAc: number,
    ) =>
      Object.entries(bests).flatMap(([name, best]) =>
        sites.flatMap((site) =>
          [26, 29, 32, 35, 38].map((stand) => {
            const y = 180 - 0.2 * (stand - best) ** 2 + error_buPerAc * normal();
            return `${name},corn,${site},2026,${stand * 1000},${y.toFixed(1)}`;
          }),
        ),
      );
    const file = (name: string, ...rows: string[][]) => ({
      name,
      bytes: new TextEncoder().encode(['product,crop,site,year,stand,yield', ...rows.flat(), ''].join('\n')),
    });
    const asked = { said: {}, keepTrials: true, name: 'North farm' };
    const sites = ['Alder Bank', 'Birch End', 'Cress Ford', 'Dipper Weir'];
    const own = trials({ Ruff: 29, Snipe: 31, Stint: 32, Plover: 33 }, sites, 3);
    const weak = trials({ Teal: 31 }, sites.slice(0, 2), 12);
    const before = draftLineup({ ...asked, files: [file('a.csv', own, weak)], known: null }).lineup;
    const more = file('b.csv', trials({ Dunlin: 36, Knot: 36.5, Godwit: 35 }, sites, 3));
    const after = draftLineup({ ...asked, files: [more], known: before }).lineup;
    const said = after?.products.find(({ name }) => name === 'Teal')?.fit?.said.join(' ') ?? '';
    const [, share, products] = /leans (\d+) % on the (\d+) products/.exec(said) ?? [];
    // The fit counts the product itself among those it leans on.
    expect(after && change('Teal', before, after).words[0]).toContain(
      `leans ${share} % on ${Number(products) - 1} other curves now, before `,
    );
  });

  it('says that its sites count as other ground, and what it yields then', () => {
    const better = SITES.map((site) => ({
      ...site,
      environment_buPerAc: (site.environment_buPerAc ?? 0) + 4,
    }));
    const after = product('Teal', { response: { ...RESPONSE, level_buPerAc: 176 } });
    expect(change('Teal', lineup([product('Teal')]), lineup([after], better))).toMatchObject({
      kind: 'changed',
      words: ['its sites count as better ground, by 4.0 bu/ac', '176 bu/ac at its best, before 180'],
    });
  });

  it('takes no product for changed because the ground it is told for is another', () => {
    const sloped = { ...RESPONSE, standPerEnvironment_plantsPerAc: 50 };
    const on = (reference_buPerAc: number): ProductResponse => {
      const away = reference_buPerAc - sloped.reference_buPerAc;
      const stand_plantsPerAc = sloped.stand_plantsPerAc + 50 * away;
      return { ...sloped, reference_buPerAc, stand_plantsPerAc, level_buPerAc: 180 + away };
    };
    const told = change(
      'Teal',
      lineup([product('Teal', { response: on(180) })]),
      lineup([product('Teal', { response: on(200) })]),
    );
    expect(told).toMatchObject({ kind: 'as it was', stand: '33.0k', standBefore: '', words: [] });
    expect(groundWords([told])).toBe('Beside each its best stand, plants/ac, on ground of 200 bu/ac.');
  });

  it('says that plots go, are others, or are as many as before and yet others', () => {
    const before = lineup([product('Teal')]);
    const words = (over: Partial<Product>) => change('Teal', before, lineup([product('Teal', over)])).words;
    expect(words({ plots: null })).toEqual(['its 4 plots go; the curve stays, with nothing behind it']);
    expect(words({ plots: null, response: null })).toEqual(['its 4 plots go']);
    expect(words({ plots: plots(160, 180) })).toEqual(['2 plots at 2 sites, before 4 plots at 2 sites']);
    expect(words({ plots: plots(160, 180, 168, 190) })).toEqual(['4 plots at 2 sites, other than before']);
    expect(words({})).toEqual([]);
  });

  it('says a price that was not there before, and one that is taken away', () => {
    const [priced, open] = [lineup([product('Teal', { pricePerUnit: 251 })]), lineup([product('Teal')])];
    expect(change('Teal', open, priced).words).toEqual(['$251.00 a unit, before none']);
    expect(change('Teal', priced, open).words).toEqual(['no price, before $251.00 a unit']);
  });

  it('puts new before changed before gone before those as they were', () => {
    const before = lineup([product('Ruff'), product('Snipe'), product('Stint')]);
    const after = lineup([product('Ruff'), product('Snipe', { maturity: '104' }), product('Teal')]);
    expect(lineupChanges(before, after).map(({ name, kind }) => `${name} ${kind}`)).toEqual([
      ...['Teal new', 'Snipe changed', 'Stint gone', 'Ruff as it was'],
    ]);
  });
});

describe('what becomes of the plots there were', () => {
  it('says what keeps a curve with nothing behind it, and which plots are not at stake', () => {
    const earlier = { crops: ['corn'], plots: 60, untried: 1, otherCrops: ['soybean'] };
    expect(earlierPlotsWords(earlier, false)).toBe(
      '1 product without a new plot keeps its curve, with nothing behind it. Plots of soybean stay either way.',
    );
    expect(earlierPlotsWords({ ...earlier, untried: 2, otherCrops: [] }, true)).toBe(
      'Were they to go, 2 products without a new plot would keep their curves, with nothing behind them.',
    );
    expect(earlierPlotsWords({ ...earlier, untried: 0, otherCrops: [] }, true)).toBe('');
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { headToHead, theOthers } from '../../../src/engine/lineup/head-to-head.ts';
import { headToHeadSentences, sidesOf } from '../../../src/engine/lineup/head-to-head-words.ts';
import { moreSitesNeeded } from '../../../src/engine/lineup/sites-needed.ts';
import { tQuantile } from '../../../src/engine/math/student-t.ts';
import { type Row, siteMeans, trials } from './small-trials.ts';

const PLOVER = 'Plover 108';
const KESTREL = 'Kestrel 112';

/** Plover at 150 + 10 k and Kestrel that much less, site by site. */
function leads(differences: readonly number[], year: (k: number) => number = (k) => 2023 + (k % 2)): Row[] {
  return differences.flatMap((difference, k) => {
    const at = { site: `Site ${k + 1}`, year: year(k) };
    return [
      { ...at, product: PLOVER, yield: 150 + 10 * k },
      { ...at, product: KESTREL, yield: 150 + 10 * k - difference },
    ];
  });
}

function meet(rows: readonly Row[]) {
  const table = trials(rows);
  const found = headToHead(table, 0, [1], siteMeans(table));
  return { found, said: headToHeadSentences(found, { one: PLOVER, other: KESTREL }) };
}

describe('headToHead', () => {
  it('pairs by site and stand, and leaves out what has no counterpart', () => {
    const { found, said } = meet([
      // Two stands both were at, a stand of Plover's own.
      { product: PLOVER, site: 'Heron', yield: 160, stand: 28_000 },
      { product: KESTREL, site: 'Heron', yield: 150, stand: 28_400 },
      { product: PLOVER, site: 'Heron', yield: 180, stand: 34_000 },
      { product: PLOVER, site: 'Heron', yield: 182, stand: 34_100 },
      { product: KESTREL, site: 'Heron', yield: 175, stand: 33_900 },
      { product: PLOVER, site: 'Heron', yield: 120, stand: 40_000 },
      // No common stand.
      { product: PLOVER, site: 'Stork', yield: 200, stand: 24_000 },
      { product: KESTREL, site: 'Stork', yield: 190, stand: 36_000 },
      // Plover alone.
      { product: PLOVER, site: 'Crane', yield: 210 },
      // Stands not told.
      { product: PLOVER, site: 'Egret', yield: 171 },
      { product: KESTREL, site: 'Egret', yield: 170 },
    ]);
    expect(found.pairs).toEqual([
      { site: 0, difference_buPerAc: (10 + 6) / 2, others: 1 },
      { site: 3, difference_buPerAc: 1, others: 1 },
    ]);
    expect([found.standsApart, found.oneLeftOut, found.othersLeftOut]).toEqual([1, 3, 1]);
    expect(said).toContain('At 1 site both were, but not at one stand: left out.');
    expect(said).toContain('Plots without a counterpart, left out: 3 of Plover 108, 1 of Kestrel 112.');
  });

  it('says what it found where the two are told apart', () => {
    const { said } = meet(leads([4, 5, 3, 6, 2, 4, 5, 3]));
    expect(said).toEqual([
      // Mean 4, sd 1.309, t of 7 degrees 2.365: 4 ± 1.09.
      'Plover 108 yielded 4.0 bu/ac more than Kestrel 112 over 8 sites, 2.9 to 5.1 more (95 % sure); it won at all of them.',
      'The years are 2023 and 2024; the ground yields 148 to 219 bu/ac.',
      'On the poorer 4 sites (148 to 177 bu/ac) 4.5 bu/ac more, 2.4 to 6.6 more; on the better 4 sites (189 to 219 bu/ac) 3.5 bu/ac more, 1.4 to 5.6 more.',
    ]);
  });

  it('turns the words about where the first yields less', () => {
    expect(meet(leads([-4, -5, -3, -6, -2])).said[0]).toBe(
      'Plover 108 yielded 4.0 bu/ac less than Kestrel 112 over 5 sites, 2.0 to 6.0 less (95 % sure); it lost at all of them.',
    );
  });

  it('says that nothing is told apart, and how many sites it would take', () => {
    // R's t.test: −5.793389 to 8.793389; 85 sites in all by qt.
    const { found, said } = meet(leads([9, -7, 5, -6, 8, 0]));
    expect(said[0]).toBe(
      `No telling them apart yet: Plover 108 yielded 1.5 bu/ac more than Kestrel 112 over 6 sites, and anything from 5.8 bu/ac less to 8.8 bu/ac more fits; it won at 3, lost at 2 and tied at 1. Some 79 more sites like these would be needed, should the difference stay.`,
    );
    expect(found.moreSites).toBe(79);
  });

  it('names no number of sites where there is no difference', () => {
    const { said } = meet(leads([3, -3, 2, -2]));
    expect(said[0]).toMatch(
      /^No telling them apart yet: Plover 108 yielded as much as Kestrel 112 over 4 sites/,
    );
    expect(said[0]).toMatch(/no number of sites can be named that would tell them apart\.$/);
  });

  it('cautions where all sites are of one year', () => {
    expect(meet(leads([4, 5, 3], () => 2024)).said).toContain(
      'All sites are of one year and share its weather: another year may turn it about.',
    );
    expect(meet(leads([4, 5, 3])).said.join(' ')).not.toContain('one year');
  });

  it('claims nothing from one site or none', () => {
    expect(meet(leads([4])).said[0]).toBe(
      'Plover 108 yielded 4.0 bu/ac more than Kestrel 112 at the one site both were at, which tells nothing of the next.',
    );
    const apart = meet([
      { product: PLOVER, site: 'Heron', yield: 160 },
      { product: KESTREL, site: 'Stork', yield: 150 },
    ]);
    expect(apart.said[0]).toBe(
      'Plover 108 and Kestrel 112 never stood at one site and stand: nothing can be compared.',
    );
    expect(apart.found.moreSites).toBe('cannot be told');
  });

  it('weighs every other product alike, whatever its plots', () => {
    const table = trials([
      { product: PLOVER, site: 'Heron', yield: 160 },
      ...[150, 150, 150].map((yielded) => ({ product: KESTREL, site: 'Heron', yield: yielded })),
      { product: 'Wren 110', site: 'Heron', yield: 170 },
      { product: 'Snipe 24', site: 'Heron', yield: 60, crop: 'soybean' },
    ]);
    expect(theOthers(table, 0)).toEqual([1, 2]);
    expect(headToHead(table, 0, theOthers(table, 0), [155]).pairs).toEqual([
      { site: 0, difference_buPerAc: 0, others: 2 },
    ]);
  });

  it('says how many of the others it met, and at how many of them at a site', () => {
    const at = (site: string, products: readonly string[]) =>
      products.map((product, k) => ({ product, site, yield: 150 + k }));
    const said = (rows: readonly Row[]) => {
      const table = trials(rows);
      const found = headToHead(table, 0, theOthers(table, 0), siteMeans(table));
      const names = table.products.map(({ name }) => name);
      return headToHeadSentences(found, sidesOf(found, names)).join(' ');
    };
    const four = [PLOVER, KESTREL, 'Wren 110', 'Teal 111'];
    const all = said([...at('A', four), ...at('B', four)]);
    expect(all).toContain('less than the mean of the other 3 over 2 sites');
    expect(all).not.toContain('It met');
    const some = said([
      ...at('A', four.slice(0, 3)),
      ...at('B', four.slice(0, 3)),
      ...at('C', four.slice(1)),
    ]);
    expect(some).toContain('less than the mean of the 2 others it met over 2 sites');
    expect(some).toContain('It met 2 of the other 3: the difference is from those alone.');
    expect(some).toContain('left out: 0 of Plover 108, 3 of the others.');
    const turns = said([...at('A', four.slice(0, 3)), ...at('B', [PLOVER, 'Teal 111'])]);
    expect(turns).toContain('It met 3 of the other 3, 1 to 2 at a site: the difference is from those alone.');
    const one = said([...at('A', four.slice(0, 2)), ...at('B', four.slice(1))]);
    expect(one).toContain('less than the one other it met at the one site both were at');
  });

  it('refuses what cannot be compared', () => {
    const table = trials([
      { product: PLOVER, site: 'Heron', yield: 160 },
      { product: 'Snipe 24', site: 'Heron', yield: 60, crop: 'soybean' },
    ]);
    const code = (one: number, others: readonly number[], level = 0.95) => {
      try {
        headToHead(table, one, others, [NaN], level);
      } catch (refusal) {
        return (refusal as { issue?: { code: string } }).issue?.code;
      }
    };
    expect(code(0, [1])).toBe('crops-differ');
    expect(code(0, [0])).toBe('product-against-itself');
    expect(code(0, [])).toBe('nothing-to-compare');
    expect(code(0, [7])).toBe('no-such-product');
  });

  const table = fc
    .array(
      fc.record({
        product: fc.constantFrom(PLOVER, KESTREL, 'Wren 110'),
        site: fc.constantFrom('A', 'B', 'C', 'D', 'E', 'F', 'G'),
        yield: fc.integer({ min: 0, max: 300 }),
        stand: fc.constantFrom(undefined, 24_000, 30_000, 36_000),
        year: fc.constantFrom(undefined, 2022, 2023),
      }),
      { maxLength: 60 },
    )
    .map((rows): Row[] => [
      { product: PLOVER, site: 'A', yield: 100 },
      { product: KESTREL, site: 'A', yield: 100 },
      ...rows.map(({ stand, year, ...row }) => ({ ...row, ...(stand && { stand }), ...(year && { year }) })),
    ]);

  it('turns about with its sides, closes its account of plots and says no figure it has not', () => {
    fc.assert(
      fc.property(table, (rows) => {
        const trial = trials(rows);
        const environments = siteMeans(trial);
        const one = headToHead(trial, 0, [1], environments);
        const other = headToHead(trial, 1, [0], environments);
        expect(other.difference.value).toBeCloseTo(-one.difference.value, 9);
        expect([other.wins, other.losses, other.ties]).toEqual([one.losses, one.wins, one.ties]);
        expect(one.wins + one.losses + one.ties).toBe(one.sites);
        expect(other.moreSites).toEqual(one.moreSites);
        expect(one.oneLeftOut).toBe(other.othersLeftOut);
        const mine = rows.filter(({ product }) => product === PLOVER).length;
        expect(one.oneLeftOut).toBeGreaterThanOrEqual(0);
        expect(one.oneLeftOut).toBeLessThanOrEqual(mine - one.sites);
        const said = headToHeadSentences(one, { one: PLOVER, other: KESTREL }).join(' ');
        expect(said).not.toMatch(/NaN|Infinity|undefined|null|-\d/);
      }),
    );
  });

  it('follows neither the order of the plots nor what all plots of a site have in common', () => {
    fc.assert(
      fc.property(table, fc.integer({ min: 1, max: 50 }), (rows, more) => {
        const plain = meet(rows).found;
        const turned = headToHead(trials([...rows.slice(0, 2), ...rows.slice(2).reverse()]), 0, [1], []);
        const lifted = meet(
          rows.map((row) => (row.site === 'B' ? { ...row, yield: row.yield + more } : row)),
        ).found;
        for (const found of [turned, lifted]) {
          expect(found.difference.value).toBeCloseTo(plain.difference.value, 9);
          expect(found.sites).toBe(plain.sites);
        }
      }),
    );
  });
});

describe('moreSitesNeeded', () => {
  it('is the least number that is enough, counted up one by one', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 2, max: 40 }),
        fc.double({ min: 0.1, max: 20, noNaN: true }),
        fc.double({ min: 0, max: 60, noNaN: true }),
        (sites, difference, sd) => {
          let n = sites;
          while (n <= sites + 1000 && n < ((tQuantile(0.975, n - 1) * sd) / difference) ** 2) n++;
          expect(moreSitesNeeded(sites, -difference, sd, 0.95)).toBe(
            n > sites + 1000 ? 'more than 1,000' : n - sites,
          );
        },
      ),
      { numRuns: 300 },
    );
  });

  it('says so where it cannot be told', () => {
    expect(moreSitesNeeded(1, 4, NaN, 0.95)).toBe('cannot be told');
    expect(moreSitesNeeded(9, 0.04, 10, 0.95)).toBe('cannot be told');
    expect(moreSitesNeeded(0, NaN, NaN, 0.95)).toBe('cannot be told');
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { finlayWilkinson } from '../../../src/engine/lineup/finlay-wilkinson.ts';
import { belongs, groundSentence, groundSentences } from '../../../src/engine/lineup/ground-answer-words.ts';
import { random } from '../../../src/engine/math/random.ts';
import { type Row, siteMeans, trials } from './small-trials.ts';

const GROUND = [100, 120, 140, 160, 180, 200];

/** Six sites told apart from the yields, Plover gaining 1.5 for each bushel of ground, Kestrel 0.5, Wren 1; small departures, so that nothing is exact. */
function threeKinds(): Row[] {
  const line = (product: string, atMean: number, slope: number, off: readonly number[]) =>
    GROUND.map((ground, k) => ({
      product,
      site: `Site ${k + 1}`,
      yield: atMean + slope * (ground - 150) + off[k],
    }));
  return [
    ...line('Plover 108', 152, 1.5, [1, -1, 0, 0, -1, 1]),
    ...line('Kestrel 112', 152, 0.5, [-1, 1, 0, 0, 1, -1]),
    ...line('Wren 110', 140, 1, [0, 2, -2, -2, 2, 0]),
  ];
}

/** Answers by environments told, the average product being the mean of all at a site. */
const byTold = (rows: readonly Row[], environments: readonly number[] = GROUND) => {
  const table = trials(rows);
  return finlayWilkinson(table, 'corn', {
    of: 'what was told',
    environments,
    average: siteMeans(table),
    told: environments.length,
  });
};

/** Seeded trials at eight sites, slopes spread by 0.2 and levels by 5 bu/ac, a mean off by 10 bu/ac; what was found against the truth. */
function manyTrials(count: number, runs: number) {
  const { normal } = random(count);
  const found = { slopes: 0, slopesHeld: 0, claims: 0, falseClaims: 0 };
  const aboutZero = (spread: number) => {
    const values = Array.from({ length: count }, () => spread * normal());
    const mean = values.reduce((sum, value) => sum + value, 0) / count;
    return values.map((value) => value - mean);
  };
  for (let run = 0; run < runs; run++) {
    const slopes = aboutZero(0.2).map((slope) => 1 + slope);
    const levels = aboutZero(5);
    const ground = Array.from({ length: 8 }, () => 30 * normal());
    const table = trials(
      slopes.flatMap((slope, k) =>
        ground.map((away, s) => ({
          product: `P${k}`,
          site: `S${s}`,
          yield: 160 + levels[k] + slope * away + 10 * normal(),
        })),
      ),
    );
    const answers = finlayWilkinson(table, 'corn', {
      of: 'all products',
      environments: siteMeans(table),
    });
    for (const answer of answers.products) {
      const slope = slopes[answer.product];
      found.slopes++;
      if (answer.slope.low <= slope && slope <= answer.slope.high) found.slopesHeld++;
      const where = belongs(answer, answers);
      if (where === 'not told') continue;
      found.claims++;
      const away = (where === 'best ground' ? answers.good_buPerAc : answers.tough_buPerAc) - 160;
      const leads = levels[answer.product] + (slope - 1) * away > 0;
      if (!leads || (where === 'best ground' ? slope <= 1 : slope >= 1)) found.falseClaims++;
    }
  }
  return found;
}

describe('finlayWilkinson', () => {
  it('finds level, slope and steadiness', () => {
    const { products, ...ground } = byTold(threeKinds());
    expect(ground).toEqual({
      index: 'what was told',
      told: 6,
      level: 0.95,
      tough_buPerAc: 110,
      mean_buPerAc: 150,
      good_buPerAc: 190,
      sites: 6,
    });
    const [plover, kestrel, wren] = products;
    expect(plover.slope.value).toBeCloseTo(1.5, 9);
    expect(kestrel.slope.value).toBeCloseTo(0.5, 9);
    expect(wren.level.value).toBeCloseTo(140, 9);
    // Its departures are of no slope: 16 over 4 degrees of freedom.
    expect(wren.deviationMeanSquare).toBeCloseTo(4, 9);
    expect(wren.deviationSd_buPerAc).toBeCloseTo(2, 9);
    // On good ground the three give 212, 172 and 180, 188 on average.
    expect(plover.leadOnGood.value).toBeCloseTo(212 - 188, 9);
    expect(plover.gain.value).toBeCloseTo(0.5, 9);
  });

  it('puts products on ground in words, no further than their intervals go', () => {
    const answers = byTold(threeKinds());
    const names = ['Plover 108', 'Kestrel 112', 'Wren 110'];
    expect(answers.products.map((answer) => belongs(answer, answers))).toEqual([
      'best ground',
      'tough ground',
      'not told',
    ]);
    // Intervals as R's lm, confint and predict give them: of the yields for the slope, of their differences from the mean of the three for the lead.
    expect(answers.products.map((answer) => groundSentence(answer, answers, names))).toEqual([
      'Plover 108 belongs on the best ground: it gives 1.50 bushels for each the site gives more (1.47 to 1.53, 6 sites), and at 190 bu/ac it leads the average product by 24.0 bu/ac (21.5 to 26.5).',
      'Kestrel 112 holds on the tough ground: it gives 0.50 bushels for each the site gives more (0.47 to 0.53, 6 sites), and at 110 bu/ac it leads the average product by 24.0 bu/ac (22.5 to 25.5).',
      'Wren 110 cannot be told from the average product in how it answers to ground: 1.00 bushels for each the site gives more, and anything from 0.93 to 1.07 fits (6 sites); it yields less on either ground, by 8.0 bu/ac (5.7 to 10.3) on the tough and 8.0 bu/ac (5.7 to 10.3) on the best.',
    ]);
    expect(groundSentences(answers, names)).toEqual([
      'On the best ground (190 bu/ac and the like) belong Plover 108 (1.50, 1.47 to 1.53, 6 sites).',
      'On the tough ground (110 bu/ac and the like) hold Kestrel 112 (0.50, 0.47 to 0.53, 6 sites).',
      'Ground is measured by the environments told with the trials.',
    ]);
  });

  it('claims no ground for a product that answers steeply and still yields less there', () => {
    const rows = threeKinds().map((row) =>
      row.product === 'Plover 108' ? { ...row, yield: row.yield - 40 } : row,
    );
    const answers = byTold(rows);
    expect(belongs(answers.products[0], answers)).toBe('not told');
    expect(groundSentence(answers.products[0], answers, ['Plover 108'])).toBe(
      'Plover 108 gains more than the average product from better ground, 1.50 bushels for each the site gives more (1.47 to 1.53, 6 sites), but on the best it yields less, by 2.7 bu/ac (0.1 to 5.2).',
    );
  });

  it('claims no ground for a product that never stood on it', () => {
    const rows = threeKinds().filter(({ product, site }) => product !== 'Plover 108' || !/[56]/.test(site));
    const answers = byTold(rows);
    expect(belongs(answers.products[0], answers)).toBe('not told');
    expect(groundSentence(answers.products[0], answers, ['Plover 108'])).toContain(
      'but it never stood on the best ground of these trials.',
    );
  });

  it('claims nothing from two sites, one or none', () => {
    const rows: Row[] = [
      { product: 'Plover 108', site: 'Heron', yield: 120 },
      { product: 'Plover 108', site: 'Stork', yield: 190 },
      { product: 'Wren 110', site: 'Stork', yield: 190 },
      { product: 'Snipe 24', site: 'Stork', yield: 60, crop: 'soybean' },
    ];
    const answers = byTold(rows, [100, 150]);
    const names = ['Plover 108', 'Wren 110'];
    expect(answers.products.map((answer) => groundSentence(answer, answers, names))).toEqual([
      'Plover 108 gave 1.40 bushels for each the site gives more over 2 sites: too few to say how sure that is.',
      'Wren 110 stood on ground of one kind only (1 site with a known environment): how it answers to ground cannot be told.',
    ]);
    const { slope } = answers.products[0];
    expect([slope.low, slope.high]).toEqual([-Infinity, Infinity]);
    expect(groundSentences(answers, names)).toEqual([
      'How the products answer to ground cannot be told: no product stood at three sites of known environment.',
    ]);
  });

  it('holds a product against the average product, whatever the environments told are of', () => {
    // Told at half the yield: all gain twice as much, and lead by what they did.
    const [plain, halved] = [GROUND, GROUND.map((ground) => ground / 2)].map((ground) =>
      byTold(threeKinds(), ground),
    );
    for (const [k, { slope, gain, leadOnTough }] of halved.products.entries()) {
      expect(slope.value).toBeCloseTo(2 * plain.products[k].slope.value, 9);
      expect(gain.low).toBeCloseTo(2 * plain.products[k].gain.low, 9);
      expect(leadOnTough.high).toBeCloseTo(plain.products[k].leadOnTough.high, 9);
    }
    expect(halved.products.map((answer) => belongs(answer, halved))).toEqual([
      'best ground',
      'tough ground',
      'not told',
    ]);
  });

  it('has no average to hold a product against that stood with no other', () => {
    const rows = threeKinds().filter(({ product }) => product === 'Plover 108');
    const names = ['Plover 108'];
    const told = byTold(rows);
    expect(groundSentences(told, names)).toEqual([
      'Plover 108 gives 1.50 bushels for each the site gives more (1.47 to 1.53, 6 sites); no other product stood with it to hold it against.',
      'Ground is measured by the environments told with the trials.',
    ]);
    const table = trials(rows);
    const own = finlayWilkinson(table, 'corn', { of: 'all products', environments: siteMeans(table) });
    expect([own.products[0].alone, own.products[0].leadOnGood.value]).toEqual([true, NaN]);
    expect(groundSentences(own, names)).toEqual([
      'How the products answer to ground cannot be told: none stood with another, and by its own yields no product differs from the average.',
    ]);
    expect(groundSentence(own.products[0], own, names)).toBe(
      'Plover 108 stood with no other product of two sites or more: its own yields measure the ground, so how it answers to that cannot be told.',
    );
  });

  it('leaves out sites of unknown environment, and counts them', () => {
    const answers = byTold(threeKinds(), [...GROUND.slice(0, 5), NaN]);
    expect(answers.sites).toBe(5);
    expect(answers.products.map(({ sites, sitesLeftOut }) => [sites, sitesLeftOut])).toEqual([
      [5, 1],
      [5, 1],
      [5, 1],
    ]);
  });

  it('measures two products against their own mean, so that their slopes add up to 2, or against each other', () => {
    const table = trials(threeKinds().filter(({ product }) => product !== 'Wren 110'));
    const environments = siteMeans(table);
    const [a, b] = finlayWilkinson(table, 'corn', { of: 'all products', environments }).products;
    expect(a.slope.value + b.slope.value).toBeCloseTo(2, 9);
    const apart = finlayWilkinson(table, 'corn', {
      of: 'other products',
      environments,
      without: (product) => siteMeans(table, product),
    });
    // By each other's yields, which lie on lines of 1.5 and 0.5: near 3 and 1/3.
    expect(apart.products[0].slope.value).toBeCloseTo(3, 1);
    expect(apart.products[1].slope.value).toBeCloseTo(1 / 3, 1);
  });

  it.each([2, 5, 20])(
    'holds the true slopes of %i products in 95 of 100 intervals, and seldom claims ground falsely',
    (count) => {
      const { slopesHeld, claims, falseClaims, slopes } = manyTrials(count, Math.ceil(3000 / count));
      // Two standard errors of 3,000 are 0.8 points; products of one trial go together, so twice that.
      expect(Math.abs(slopesHeld / slopes - 0.95)).toBeLessThan(0.016);
      expect(claims / slopes).toBeGreaterThan(0.05);
      expect(falseClaims / slopes).toBeLessThan(0.025);
    },
  );

  it('says no figure it has not, whatever is missing', () => {
    fc.assert(
      fc.property(
        fc.array(
          fc.record({
            product: fc.constantFrom('Plover 108', 'Kestrel 112', 'Wren 110'),
            site: fc.constantFrom('A', 'B', 'C', 'D', 'E'),
            yield: fc.integer({ min: 0, max: 300 }),
          }),
          { maxLength: 30 },
        ),
        fc.array(fc.constantFrom(NaN, 100, 150, 150.5, 200), { minLength: 5, maxLength: 5 }),
        (rows, environments) => {
          const table = trials(rows);
          const answers = byTold(rows, environments);
          const names = table.products.map(({ name }) => name);
          const said = [
            ...answers.products.map((answer) => groundSentence(answer, answers, names)),
            ...groundSentences(answers, names),
          ].join(' ');
          expect(said).not.toMatch(/NaN|Infinity|undefined|null/);
        },
      ),
    );
  });
});

import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { buildCli, eachacre, freshFolder, SAMPLES } from './built.ts';

let cwd = '';
beforeAll(buildCli);
beforeEach(() => {
  cwd = freshFolder();
  put('p.csv', PRODUCTS);
  return () => rmSync(cwd, { recursive: true, force: true });
});
const put = (name: string, text: string) => writeFileSync(join(cwd, name), text);
const season = (...args: string[]) => eachacre(['lineup', 'season', ...args], { cwd });
const json = (...args: string[]) => {
  const { code, out } = season(...args, '--json');
  return { code, ...JSON.parse(out) };
};

/** Invented; one rating as in the published example of planting late. */
const PRODUCTS = [
  'name,crop,maturity,gdd to maturity,seeds per unit',
  'Grebe 110,corn,110,2700,80000',
  'Smew 112,corn,112,,80000',
  'Coot 118,corn,118,3400,80000',
  'Rail 2.4,soybean,2.4,,140000',
  '',
].join('\n');

/** Every day 86 over 50 °F: 18 growing degree days, whatever the day. */
const dated = (year: number, k: number) => new Date(Date.UTC(year, 0, k + 1)).toISOString().slice(0, 10);
const even = (year: number, high = 86) =>
  Array.from({ length: 365 }, (_, k) => `${dated(year, k)},${high},50`).join('\n');
const WEATHER = `date,high (°F),low (°F)\n${even(2023)}\n`;

describe('lineup season', () => {
  it('adds up the degree days of the printed example over its three days', () => {
    // Waushara Argus, Calculating growing degree days, 2018: 90 over 65, 72 over 46 and 63 over 42 °F are 43.
    put('w.csv', 'date,high (°F),low (°F)\n2018-05-10,90,65\n2018-05-11,72,46\n2018-05-12,63,42\n');
    const { code, products } = json('p.csv', '--weather', 'w.csv', '--planted', '5-10', '--freeze', '5-13');
    expect(code).toBe(0);
    expect(products[0].figures.available).toBe(43);
    expect(products[0].verdict).toBe('too long');
  });

  it('takes off what the published example takes off for planting late', () => {
    put('w.csv', WEATHER);
    const { products } = json(
      ...['p.csv', '--weather', 'w.csv', '--planted', '5-31', '--freeze', '10-25'],
      ...['--rated-from', 'planting', '--region', 'indiana-ohio'],
    );
    // Nielsen, Hybrid maturities for delayed planting: 2,700 rated, planted 31 May: 2,496 ("less than 2500").
    expect(products[0].figures.need.gdd).toBeCloseTo(2496, 9);
    // 18 a day: 2,496 are reached on the 139th day, 30 May + 139 days being 16 October.
    expect(products[0].figures.blackLayerDay).toBe('16 October');
    expect(products[0].figures.available).toBe(18 * 147);
    expect(products[0].verdict).toBe('tight');
    // Rated from emergence it needs 115 more (Purdue Extension, Hybrid maturity decisions for delayed planting).
    const late = json(
      ...['p.csv', '--weather', 'w.csv', '--planted', '5-31', '--freeze', '10-25'],
      ...['--rated-from', 'emergence', '--region', 'indiana-ohio'],
    );
    expect(late.products[0].figures.need.gdd).toBeCloseTo(2611, 9);
  });

  it('cannot tell where nothing is known, and can by a relation that is stated', () => {
    put('w.csv', WEATHER);
    const asked = ['p.csv', '--weather', 'w.csv', '--planted', '5-1', '--freeze', '10-25'];
    const { products, issues } = json(...asked);
    expect([products[1].name, products[1].verdict]).toEqual(['Smew 112', 'cannot be told']);
    expect(products[1].why).toContain('relative maturity is no count of days');
    expect(issues.map(({ code }: { code: string }) => code)).toEqual([
      'season-other-crops',
      'season-no-rating',
    ]);
    const told = json(
      ...asked,
      '--relation',
      '110=2700',
      '--gdd-per-point',
      '24',
      '--relation-by',
      'a house',
    );
    expect(told.products[1].figures.need).toMatchObject({ rated: 2748, from: 'relative maturity' });
    expect(told.products[1].cautions.join()).toContain('as a house has it');
    expect(told.issues.map(({ code }: { code: string }) => code)).toEqual(['season-other-crops']);
    expect(season(...asked, '--relation', '110=2700').code).toBe(2);
  });

  it('averages several years, and says in how many of them each ripens', () => {
    put('w.csv', `${WEATHER}${even(2024, 76)}\n${even(2025, 86)}\n`);
    const asked = ['p.csv', '--weather', 'w.csv', '--planted', '5-1', '--freeze', '10-25'];
    const { products, weather, issues } = json(...asked);
    expect([weather.of, weather.years]).toEqual(['normals', [2023, 2024, 2025]]);
    expect(issues.map(({ code }: { code: string }) => code)).toContain('weather-years-averaged');
    // 177 days of 18, 13 and 18.
    expect(products[0].figures.available).toBeCloseTo((177 * (18 + 13 + 18)) / 3, 9);
    expect(products[0].years.map(({ verdict }: { verdict: string }) => verdict)).toEqual([
      'safe',
      'too long',
      'safe',
    ]);
    const { out } = season(...asked);
    expect(out).toMatch(/^Grebe 110 +110 +tight .* 2 of 3$/m);
    const one = json(...asked, '--year', '2024');
    expect([one.weather.of, one.products[0].verdict]).toEqual(['a record', 'too long']);
  });

  it('takes a lineup document and twelve normals, in words', () => {
    const normals = [
      [31, 14],
      [36, 19],
      [49, 29],
      [62, 40],
      [73, 52],
      [82, 62],
      [85, 66],
      [83, 64],
      [76, 54],
      [63, 42],
      [48, 30],
      [35, 19],
    ].map(([high, low], k) => `${k + 1},${high},${low}`);
    put('n.csv', `month,mean max,mean min\n${normals.join('\n')}\n`);
    const { code, out, err } = season(
      ...[join(SAMPLES, 'lineup.json'), '--weather', 'n.csv', '--planted', '10 May', '--freeze', 'Oct 5'],
    );
    expect(code).toBe(0);
    expect(err).toContain('[weather-unit-assumed]');
    expect(out).toMatch(/highest: mean max in °F \(the figures are plausible in °F alone\)/);
    expect(out).toMatch(/^Plover 108 +108 +safe /m);
    expect(out).toMatch(/^That is a normal season: about half of the years bring less\.$/m);
  });

  it.each([
    ['no such day', 'no-such-day', ['--planted', '2-30', '--freeze', '10-5']],
    ['a freeze in spring', 'freeze-before-planting', ['--planted', '5-10', '--freeze', '4-20']],
    [
      'a year the record has not',
      'weather-no-year',
      ['--planted', '5-10', '--freeze', '10-5', '--year', '1999'],
    ],
    [
      'a column there is none of',
      'weather-option',
      ['--planted', '5-10', '--freeze', '10-5', '--column', 'highest=TX'],
    ],
  ])('refuses %s', (_, code, args) => {
    put('w.csv', WEATHER);
    const answer = json('p.csv', '--weather', 'w.csv', ...args);
    expect([answer.code, answer.issues[0].code, answer.issues[0].severity]).toEqual([1, code, 'error']);
    for (const words of ['where', 'found', 'expected', 'effect', 'remedy'])
      expect(answer.issues[0][words]).not.toBe('');
  });

  it('refuses a lineup without corn, and a day that is no day', () => {
    put('w.csv', WEATHER);
    put('s.csv', 'name,crop,seeds per unit\nRail 2.4,soybean,140000\n');
    const answer = json('s.csv', '--weather', 'w.csv', '--planted', '5-10', '--freeze', '10-5');
    expect([answer.code, answer.issues[0].code]).toEqual([1, 'season-no-corn']);
    expect(season('p.csv', '--weather', 'w.csv', '--planted', 'spring', '--freeze', '10-5').code).toBe(2);
  });
});

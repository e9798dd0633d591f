import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { readLineup } from '../../src/plan/validate.ts';
import { LAST_DIGITS, whereTheyDiffer } from '../where-they-differ.ts';
import { buildCli, eachacre, freshFolder, SAMPLES, tree } from './built.ts';

let cwd = '';
beforeAll(buildCli);
beforeEach(() => {
  cwd = freshFolder();
  return () => rmSync(cwd, { recursive: true, force: true });
});
const call = (...args: string[]) => eachacre(args, { cwd });
const TRIALS = join(SAMPLES, 'trials.csv');
const LINEUP = join(SAMPLES, 'lineup.json');

describe('fit', () => {
  it('writes a lineup that reads, with prices kept and how sure each curve is', () => {
    const { code, out } = call('fit', TRIALS, '--products', LINEUP, '--out', 'l.json');
    expect(code).toBe(0);
    // Plots that were lost are rows without a yield.
    expect(out).toContain('1,885 plots used of 1920, set aside 35 no-yield');
    expect(out).toMatch(/Plover 108 +quadratic/);
    const { value, issues } = readLineup(JSON.parse(readFileSync(join(cwd, 'l.json'), 'utf8')), 'l.json');
    expect(issues).toEqual([]);
    const plover = value!.products.find(({ id }) => id === 'plover-108')!;
    expect(plover.pricePerUnit).toBe(264);
    expect(plover.response?.uncertainty?.df).toBeGreaterThan(100);
    expect(plover.fit).toMatchObject({ plots: 177, sites: 12 });
    expect(call('lineup', 'check', 'l.json').code).toBe(0);
  });

  it('of the sample trials makes the sample lineup', () => {
    const committed = JSON.parse(readFileSync(LINEUP, 'utf8'));
    const { code } = call('fit', TRIALS, '--products', LINEUP, '--name', committed.name, '--out', 'l.json');
    expect(code).toBe(0);
    const made = JSON.parse(readFileSync(join(cwd, 'l.json'), 'utf8'));
    expect(whereTheyDiffer(made, committed, LAST_DIGITS)).toEqual([]);
    made.products[0].response.level_buPerAc *= 1 + 2 * LAST_DIGITS;
    expect(whereTheyDiffer(made, committed, LAST_DIGITS)).toEqual(['/products/0/response/level_buPerAc']);
  });

  it('of products nobody told the price of warns, and a lineup without prices still checks', () => {
    const { code, err } = call('fit', TRIALS, '--out', 'l.json');
    expect(code).toBe(0);
    expect(err).toContain('[product-without-price]');
    const checked = JSON.parse(call('lineup', 'check', 'l.json', '--json').out);
    expect(checked.products[0].lacks).toEqual(['price']);
  });

  it('refuses what is no trial table, and writes nothing', () => {
    writeFileSync(join(cwd, 'notes.csv'), 'a,b\n1,2\n3,4\n');
    const before = tree(cwd);
    const { code, out } = call('fit', 'notes.csv', '--crop', 'corn', '--out', 'l.json', '--json');
    expect(code).toBe(1);
    expect(JSON.parse(out).issues[0].severity).toBe('error');
    expect(tree(cwd)).toEqual(before);
  });
});

describe('compare', () => {
  it('says of one product against another what differs over the sites both were at', () => {
    const { code, out } = call('compare', TRIALS, '--one', 'plover', '--against', 'bittern');
    expect(code).toBe(0);
    // R 4.2.2, t.test of the 12 differences (means of plots by stand aimed at, then over the stands of a site): −8.353, −13.539 to −3.167.
    expect(out).toContain(
      'Plover 108 yielded 8.4 bu/ac less than Bittern 112 over 12 sites, 3.2 to 13.5 less (95 % sure); it won at 2, lost at 10.',
    );
  });
  it('takes the trials a lineup keeps, and all products where none is named', () => {
    const { code, out } = call('compare', LINEUP, '--json');
    expect(code).toBe(0);
    const crops = JSON.parse(out).crops as { crop: string; headToHead: unknown[] }[];
    expect(crops.map(({ crop, headToHead }) => [crop, headToHead.length])).toEqual([
      ['corn', 8],
      ['soybean', 6],
    ]);
  });
  it('refuses a product there is none of, and one against without one', () => {
    const { code, err } = call('compare', TRIALS, '--one', 'Ostrich');
    expect(code).toBe(1);
    expect(err).toContain('[product-not-named]');
    expect(call('compare', TRIALS, '--against', 'Plover 108').code).toBe(2);
  });
});

describe('lineup check', () => {
  it('finds what does not hold, by its place', () => {
    const lineup = JSON.parse(readFileSync(LINEUP, 'utf8'));
    lineup.products[0].ratings[0].scale = 'stars';
    lineup.products[1].id = lineup.products[0].id;
    writeFileSync(join(cwd, 'l.json'), JSON.stringify(lineup));
    const { code, err } = call('lineup', 'check', 'l.json');
    expect(code).toBe(1);
    expect(err).toContain('[rating-no-direction]');
    expect(err).toContain('[lineup-duplicate-product]');
  });
});

import { describe, expect, it } from 'vitest';
import { createDesk } from '../../src/jobs/desk.ts';
import { draftLineup, type LineupRequest } from '../../src/jobs/draft-lineup.ts';

const file = (name: string, text: string) => ({ name, bytes: new TextEncoder().encode(text) });
const request = (over: Partial<LineupRequest>): LineupRequest => ({
  files: [],
  said: {},
  known: null,
  keepTrials: true,
  name: 'North farm',
  ...over,
});
const HEAD = 'product,crop,site,year,stand,yield';
/** y = environment − 0.35 (stand − best)², ±1 bu: the best stand is known. */
function rows(product: string, best: number, sites: readonly [string, number][], year = 2026): string[] {
  return sites.flatMap(([site, environment]) =>
    [26, 29, 32, 35, 38].flatMap((stand) =>
      [-1, 1].map(
        (off) =>
          `${product},corn,${site},${year},${stand * 1000},${(environment - 0.35 * (stand - best) ** 2 + off).toFixed(1)}`,
      ),
    ),
  );
}
const ALDER: [string, number][] = [
  ['Alder Bank', 170],
  ['Birch End', 190],
  ['Cress Ford', 210],
];
const REED: [string, number][] = [
  ['Reed Corner', 175],
  ['Sedge Lane', 205],
];
/** Ground as good for soybeans as the others are for corn. */
const FENS: [string, number][] = [
  ['Birch End', 55],
  ['Cress Ford', 65],
];
const table = (...all: readonly string[][]) => [HEAD, ...all.flat(), ''].join('\n');
const made = (draft: ReturnType<typeof draftLineup>, name: string) => {
  const product = draft.lineup?.products.find((own) => own.name === name);
  if (!product) throw new Error(`no ${name}`);
  return product;
};
const first = draftLineup(
  request({ files: [file('a.csv', table(rows('Snipe', 31, ALDER), rows('Teal', 34, ALDER)))] }),
);

describe('a lineup drafted from files', () => {
  it('joins several tables, and lays what a table of products says over it', () => {
    const draft = draftLineup(
      request({
        files: [
          file('a.csv', table(rows('Snipe', 31, ALDER))),
          file('b.csv', table(rows('Snipe', 31, REED))),
          file(
            'products.csv',
            'name,crop,price,seeds per unit,maturity\nSnipe,corn,251,80000,104\nRuff,corn,240,80000,\n',
          ),
        ],
      }),
    );
    expect(draft.files.map(({ kind }) => kind)).toEqual(['trials', 'trials', 'products']);
    const snipe = made(draft, 'Snipe');
    expect(new Set(snipe.plots?.site).size).toBe(5);
    expect([snipe.pricePerUnit, snipe.maturity]).toEqual([251, '104']);
    // Plots without any error but ±1 bu that cancels: the best stand is that the rows were made of, to ten plants.
    expect(Math.abs((snipe.response?.stand_plantsPerAc ?? 0) - 31_000)).toBeLessThanOrEqual(10);
    expect(made(draft, 'Ruff').response).toBeNull();
  });

  it('keeps the plots there were beside the new, and lets them go when told to', () => {
    const files = [file('b.csv', table(rows('Snipe', 31, REED)))];
    const kept = draftLineup(request({ files, known: first.lineup }));
    expect(made(kept, 'Snipe').plots?.site).toHaveLength(50);
    expect(made(kept, 'Teal').plots?.site).toHaveLength(30);
    expect(kept.lineup?.sites).toHaveLength(5);
    const gone = draftLineup(request({ files, known: first.lineup, keepTrials: false }));
    expect(made(gone, 'Snipe').plots?.site).toHaveLength(20);
    expect([made(gone, 'Teal').plots, gone.lineup?.sites.length]).toEqual([null, 2]);
    expect(made(gone, 'Teal').response).toEqual(made(first, 'Teal').response);
    expect(gone.earlier).toEqual({ crops: ['corn'], plots: 60, untried: 1, otherCrops: [] });
    const said = 'Its 30 plots were let go when other trials came in. The curve stays as it was';
    expect(made(gone, 'Teal').fit?.said.at(-1)).toContain(said);
    // Said once, however often trials come in after.
    const again = draftLineup(request({ files, known: gone.lineup, keepTrials: false }));
    expect(made(again, 'Teal').fit).toEqual(made(gone, 'Teal').fit);
  });

  it.each([true, false])('leaves crops alone of which no trials come (plots stay: %s)', (keepTrials) => {
    const soybeans = draftLineup(
      request({
        files: [
          file('s.csv', table(rows('Ruff', 31, FENS)).replaceAll('corn', 'soybean')),
          file('c.csv', table(rows('Teal', 34, ALDER))),
        ],
      }),
    ).lineup;
    const draft = draftLineup(
      request({ files: [file('c.csv', table(rows('Snipe', 31, REED)))], known: soybeans, keepTrials }),
    );
    expect(draft.earlier).toEqual({ crops: ['corn'], plots: 30, untried: 1, otherCrops: ['soybean'] });
    const sitesOf = (lineup: typeof soybeans) => {
      const product = lineup?.products.find(({ name }) => name === 'Ruff');
      return product?.plots?.site.map((at) => lineup?.sites[at]);
    };
    expect(sitesOf(draft.lineup)).toHaveLength(20);
    expect(sitesOf(draft.lineup)).toEqual(sitesOf(soybeans));
    const { plots: _, ...ruff } = made(draft, 'Ruff');
    expect(soybeans?.products.find(({ name }) => name === 'Ruff')).toMatchObject(ruff);
    expect(made(draft, 'Teal').plots?.site.length ?? 0).toBe(keepTrials ? 30 : 0);
    expect(draft.lineup?.sites).toHaveLength(keepTrials ? 7 : 4);
  });

  it('counts plots told twice once, and says so', () => {
    const again = draftLineup(
      request({
        files: [file('again.csv', table(rows('snipe', 31, ALDER.slice(0, 2))))],
        known: first.lineup,
      }),
    );
    expect(made(again, 'Snipe').plots?.site).toHaveLength(30);
    const [issue] = again.issues.filter(({ code }) => code === 'trials-told-twice');
    expect(issue.found).toBe('plots of 1 product at Alder Bank, Birch End, of which there were plots before');
    expect(issue.effect).toBe('The 20 plots told before are left out');
  });

  it('takes a blank cell of a product table for nothing said', () => {
    const priced = draftLineup(
      request({
        files: [
          file('p.csv', 'name,crop,price,seeds per unit,maturity,notes\nSnipe,corn,251,70000,104,early\n'),
        ],
        known: first.lineup,
      }),
    );
    const later = draftLineup(
      request({
        files: [file('q.csv', 'name,crop,price,maturity,notes\nSnipe,corn,,105,\n')],
        known: priced.lineup,
      }),
    );
    const { pricePerUnit, seedsPerUnit, maturity, notes, response } = made(later, 'Snipe');
    expect({ pricePerUnit, seedsPerUnit, maturity, notes }).toEqual({
      ...{ pricePerUnit: 251, seedsPerUnit: 70_000, maturity: '105', notes: 'early' },
    });
    expect(response).toEqual(made(first, 'Snipe').response);
  });

  it('keeps ratings the right way round where two scales have one name', () => {
    const csv = (scale: string) =>
      file(
        'r.csv',
        `name,crop,seeds per unit,rating: drought\nscale,,,"score: ${scale}"\nSnipe,corn,80000,2\n`,
      );
    const one = draftLineup(request({ files: [csv('1 to 9, 9 best')] }));
    const both = draftLineup(
      request({
        files: [
          file(
            's.csv',
            'name,crop,seeds per unit,rating: drought\nscale,,,"score: 1 to 5, 1 best"\nRuff,corn,80000,2\n',
          ),
        ],
        known: one.lineup,
      }),
    );
    const scaleOf = (name: string) => {
      const { scale } = made(both, name).ratings[0];
      return both.lineup?.scales.find(({ id }) => id === scale)?.best;
    };
    expect([one.lineup?.scales.length, scaleOf('Ruff')]).toEqual([1, 'lowest']);
    expect(scaleOf('Snipe')).toBe('highest');
  });

  it('tells what it cannot read and goes on with the others; of nothing it makes nothing', () => {
    const draft = draftLineup(
      request({
        files: [
          file('empty.csv', ''),
          file('a.csv', table(rows('Snipe', 31, ALDER))),
          file('bad.json', '{"document": "eachacre-lineup"'),
        ],
      }),
    );
    expect(draft.files.map(({ ledger }) => ledger !== null)).toEqual([false, true, false]);
    for (const { issues, ledger } of draft.files) if (!ledger) expect(issues[0].severity).toBe('error');
    expect(made(draft, 'Snipe').plots?.site).toHaveLength(30);
    expect(draftLineup(request({ files: [file('empty.csv', '')] })).lineup).toBeNull();
  });

  it('makes nothing a lineup document would not hold', () => {
    const long = 'A name that goes on and on until no lineup could ever hold all of it';
    const draft = draftLineup(request({ files: [file('a.csv', table(rows(long, 31, ALDER)))] }));
    expect(draft.lineup === null || draft.lineup.products.every(({ name }) => name.length <= 40)).toBe(true);
  });
});

describe('a lineup drafted at the desk', () => {
  it('is a call of the desk', async () => {
    const files = [file('a.csv', table(rows('Snipe', 31, ALDER)))];
    const draft = await createDesk().call('lineup', request({ files }));
    expect(made(draft, 'Snipe').fit?.sites).toBe(3);
  });
});

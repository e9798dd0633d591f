import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { random } from '../../src/engine/math/random.ts';
import { buildCli, eachacre, freshFolder } from './built.ts';

let cwd = '';
beforeAll(buildCli);
beforeEach(() => {
  cwd = freshFolder();
  return () => rmSync(cwd, { recursive: true, force: true });
});

interface Plot {
  readonly product: string;
  readonly site: string;
  readonly stand: number;
  readonly yield: number;
  readonly environment?: number;
  readonly crop?: string;
}

/** The plots as a table on disk, compared. */
function compare(plots: readonly Plot[], ...args: string[]) {
  const told = plots.some(({ environment }) => environment !== undefined);
  const head = `product,crop,site,year,stand (plants/ac),yield (bu/ac)${told ? ',environment (bu/ac)' : ''}`;
  const lines = plots.map((own) =>
    [
      ...[own.product, own.crop ?? 'corn', own.site, 2024, own.stand, own.yield.toFixed(1)],
      ...(told ? [own.environment ?? ''] : []),
    ].join(','),
  );
  writeFileSync(join(cwd, 'trials.csv'), [head, ...lines].join('\n'));
  return eachacre(['compare', 'trials.csv', ...args], { cwd });
}

/** Products at sites by `merit`, NaN where one was not; plots 2 bu/ac off, best at 32 thousand, 0.12 bu/ac lost per squared thousand away. */
function plotsOf(
  merits: Record<string, (site: number) => number>,
  stands: readonly number[] = [32],
  environment?: (site: number) => number,
): Plot[] {
  const { normal } = random(5);
  return Object.entries(merits).flatMap(([product, merit]) =>
    Array.from({ length: 8 }, (_, site) => site)
      .filter((site) => !Number.isNaN(merit(site)))
      .flatMap((site) =>
        stands.map((p) => ({
          product,
          site: `Site ${site + 1}`,
          stand: 1000 * p,
          yield: 160 + 8 * site + merit(site) - 0.12 * (p - 32) ** 2 + 2 * normal(),
          ...(environment && { environment: environment(site) }),
        })),
      ),
  );
}

const early = (merit: number) => (site: number) => (site < 4 ? merit : NaN);
const late = (merit: number) => (site: number) => (site < 4 ? NaN : merit);
const everywhere = (merit: number) => () => merit;
const STANDS = [18, 25, 32, 39, 46];

describe('compare', () => {
  it('ranks products of unlike rivals as if all had been everywhere, those of one plot last', () => {
    const { code, out } = compare([
      ...plotsOf({
        Avocet: early(12),
        Bunting: early(10),
        Check: everywhere(0),
        Newcomer: late(0),
        Wigeon: late(-10),
        Whimbrel: late(-12),
      }),
      { product: 'Once', site: 'Site 3', stand: 32_000, yield: 260 },
    ]);
    expect(code).toBe(0);
    const table = out.split('\n\n').find((part) => part.startsWith('over the average of 6'))!;
    const rows = table.split('\n').slice(1);
    expect(rows.map((row) => row.split(' ')[0]).slice(0, 2)).toEqual(['Avocet', 'Bunting']);
    expect(rows.map((row) => row.split(' ')[0]).at(-1)).toBe('Once');
    expect(rows.find((row) => row.startsWith('Newcomer'))).toMatch(/3 of 6$/);
    expect(out).toContain('Products of one site stand last');
  });

  it('says of whom a difference from the rest is', () => {
    const { out } = compare(
      plotsOf({ Avocet: early(12), Check: everywhere(0), Newcomer: late(0), Wigeon: late(-10) }),
      '--one',
      'Newcomer',
    );
    expect(out).toMatch(/^As if all had been at every site, Newcomer yielded /m);
    expect(out).toContain('than the mean of the 2 others it met over 4 sites');
    expect(out).toContain('It met 2 of the other 3: the difference is from those alone.');
    const one = compare(plotsOf({ Avocet: early(12), Check: everywhere(0) }), ...['--one', 'Avocet']);
    expect(one.out).toContain('more than Check over 4 sites');
    const named = compare(
      plotsOf({ Avocet: early(12), Check: everywhere(0), Newcomer: late(0) }),
      ...['--one', 'Avocet', '--against', 'Check'],
    );
    expect(named.out).not.toContain('As if all had been at every site');
  });

  it('gives a better product of a trial of stands its lead on either ground', () => {
    const { out } = compare(
      plotsOf({ Best: everywhere(9), Even: everywhere(0), Other: everywhere(0) }, STANDS),
      ...['--one', 'Best'],
    );
    expect(out).toContain('what the average product would yield at a good stand');
    expect(out).toMatch(/it leads on either ground, by [4-8]\.\d bu\/ac/);
  });

  it('says by what ground is measured, and of one product that nothing can be compared', () => {
    const products = { Best: everywhere(9), Even: everywhere(0) };
    expect(compare(plotsOf(products, STANDS, (site) => 150 + 10 * site)).out).toContain(
      'Ground is measured by the environments told with the trials.',
    );
    expect(compare(plotsOf(products, STANDS)).out).toContain(
      'a slope of 1 is that of the average of these 2,',
    );
    const alone = compare(plotsOf({ Best: everywhere(9) }, STANDS));
    expect(alone.out).toContain('One product alone: there is nothing to compare it with.');
    expect(alone.out).not.toContain('average of these 1');
    expect(alone.out).toContain('none stood with another');
  });

  it('gives the same as figures', () => {
    const { code, out } = compare(
      plotsOf({ Avocet: early(12), Check: everywhere(0), Newcomer: late(0) }),
      '--json',
    );
    expect(code).toBe(0);
    const [{ standings, headToHead }] = JSON.parse(out).crops;
    expect(standings.groups).toHaveLength(1);
    const [best] = standings.groups[0].standings;
    expect(best).toMatchObject({ product: 'Avocet', sites: 4, plots: 4, met: 1 });
    expect(best.lead.high - best.lead.value).toBeGreaterThan(best.standardError_buPerAc);
    expect(headToHead[0]).toMatchObject({ one: 'Avocet', others: ['Check', 'Newcomer'], othersMet: 1 });
  });

  it('asks of which crop a product is whose name is that of two, and looks within the crop that is said', () => {
    const twoCrops = [
      ...plotsOf({ Teal: everywhere(9), Check: everywhere(0) }),
      ...plotsOf({ Teal: everywhere(0), Owl: everywhere(3) }).map((own) => ({
        ...own,
        crop: 'soybeans',
        stand: 120_000,
        yield: own.yield / 3,
      })),
    ];
    const asked = compare(twoCrops, '--one', 'Teal');
    expect(asked.code).toBe(1);
    expect(asked.err).toContain('Teal of corn and soybean');
    expect(asked.err).toContain('--crop corn or --crop soybean');
    // A beginning says no more than the name.
    expect(compare(twoCrops, '--one', 'tea').err).toContain('[product-of-several-crops]');
    const beans = compare(twoCrops, '--one', 'Teal', '--crop', 'soybeans');
    expect([beans.code, beans.out]).toEqual([0, expect.stringContaining('than Owl over 8 sites')]);
    expect(beans.out).not.toContain('Check');
    expect(compare(twoCrops, '--one', 'Teal', '--crop', 'corn').out).toContain(
      'more than Check over 8 sites',
    );
    expect(compare(twoCrops, '--one', 'Owl', '--crop', 'corn').err).toContain('no product called Owl among');
    expect(compare(twoCrops, '--one', 'Check', '--against', 'Owl').err).toContain('no product called Owl');
  });

  it('joins several files, and tells what became of each', () => {
    const plots = plotsOf({ Avocet: everywhere(12), Check: everywhere(0) });
    const head = 'product,crop,site,year,stand (plants/ac),yield (bu/ac)\n';
    const lines = (own: readonly Plot[]) =>
      own
        .map(({ product, site, stand, yield: y }) =>
          [product, 'corn', site, 2024, stand, y.toFixed(1)].join(),
        )
        .join('\n');
    for (const name of ['Avocet', 'Check'])
      writeFileSync(join(cwd, `${name}.csv`), head + lines(plots.filter(({ product }) => product === name)));
    const { code, out } = eachacre(['compare', 'Avocet.csv', 'Check.csv', '--one', 'Avocet'], { cwd });
    expect(code).toBe(0);
    expect(out).toContain('Avocet.csv: 8 plots used of 8');
    expect(out).toContain('Together: 16 plots used of 16');
    expect(out).toContain('more than Check over 8 sites');
  });
});

import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { buildCli, eachacre, freshFolder, SAMPLES, tree } from './built.ts';

let cwd = '';
beforeAll(buildCli);
beforeEach(() => {
  cwd = freshFolder();
  return () => rmSync(cwd, { recursive: true, force: true });
});
const call = (...args: string[]) => eachacre(args, { cwd });
const TRIALS = join(SAMPLES, 'trials.csv');

interface Evidence {
  readonly own_k: { readonly value: number; readonly low: number; readonly high: number } | null;
  readonly bootstrap_k: { readonly low: number; readonly high: number } | null;
  readonly pullingSites: readonly { name: string; cook: number; decides: boolean }[];
  readonly pullingPlots: readonly { name: string; cook: number; decides: boolean }[];
  readonly said: readonly string[];
  readonly plots: Readonly<Record<string, readonly (number | string | null)[]>>;
}
interface Fitted {
  readonly name: string;
  readonly fit: { readonly plots: number };
  readonly bestStand_k: { readonly low: number; readonly high: number };
  readonly evidence: Evidence;
}
const productsOf = (...args: string[]): Fitted[] => {
  const { code, out } = call('fit', TRIALS, '--out', 'l.json', '--force', '--json', ...args);
  expect(code).toBe(0);
  return JSON.parse(out).crops.flatMap(({ products }: { products: Fitted[] }) => products);
};

/** Four sites that bend at 31,000 and a fifth at which yield rises all the way. */
const stands = [20, 25, 30, 35, 40];
const even = ['Fen', 'Hill', 'Mill', 'Oak'].flatMap((site, j) =>
  stands.flatMap((p) =>
    [-0.7, 0.7].map(
      (off) => `Wren 98,corn,${site},2025,${p}000,${(182 + 5 * j - 0.2 * (p - 31) ** 2 + off).toFixed(2)}`,
    ),
  ),
);
const rising = stands.flatMap((p) =>
  [-0.7, 0.7].map((off) => `Wren 98,corn,Cedar,2023,${p}000,${(60 + 4 * p + off).toFixed(2)}`),
);
const table = (rows: readonly string[]) =>
  `product,crop,site,year,stand (plants/ac),yield (bu/ac)\n${rows.join('\n')}\n`;

describe('the evidence fit tells', () => {
  it('has a residual, a leverage and a distance for every plot of every product, and what pulls', () => {
    for (const { fit, evidence } of productsOf()) {
      for (const column of Object.values(evidence.plots)) expect(column).toHaveLength(fit.plots);
      const { yield_buPerAc, curve_buPerAc, residual_buPerAc } = evidence.plots;
      // All three are written to a hundredth.
      for (const [k, y] of yield_buPerAc.entries())
        expect(Math.abs(Number(y) - Number(curve_buPerAc[k]) - Number(residual_buPerAc[k]))).toBeLessThan(
          0.0151,
        );
      expect(evidence.pullingSites.length).toBeGreaterThan(1);
      expect(evidence.pullingPlots).toHaveLength(3);
      expect(evidence.bootstrap_k).toBeNull();
    }
  });

  it('draws sites again where asked to, the same every time, beside the other interval', () => {
    const once = productsOf('--bootstrap');
    expect(productsOf('--bootstrap')).toEqual(once);
    const drawn = once.filter(({ evidence }) => evidence.bootstrap_k !== null);
    expect(drawn.length).toBeGreaterThan(8);
    for (const { evidence } of drawn) {
      const { low, high } = evidence.bootstrap_k as { low: number; high: number };
      expect(low).toBeLessThan(evidence.own_k?.value ?? NaN);
      expect(high).toBeGreaterThan(evidence.own_k?.value ?? NaN);
    }
    expect(call('fit', TRIALS, '--out', 'w.json', '--bootstrap').out).toMatch(
      /^product +curve +bu\/ac +best stand +95 % interval +sites drawn again +sites +leaning$/m,
    );
    expect(call('fit', TRIALS, '--out', 'v.json').out).not.toContain('sites drawn again');
    // The lineup is the same with and without.
    const written = tree(cwd);
    expect(written.get('w.json')).toBe(written.get('v.json'));
  });

  it('says in one line which site decides the answer, and nothing where none does', () => {
    writeFileSync(join(cwd, 'even.csv'), table(even));
    expect(call('fit', 'even.csv', '--out', 'a.json').out).not.toContain('Without ');
    writeFileSync(join(cwd, 'odd.csv'), table([...even, ...rising]));
    const { out } = call('fit', 'odd.csv', '--out', 'b.json');
    const said = out.split('\n').filter((line) => line.includes('Without '));
    expect(said).toHaveLength(1);
    // Without the fifth the bend is the one it was made with.
    expect(said[0]).toMatch(
      /^Wren 98: Without Cedar 2023 its own plots would put the best stand at 31\.0k instead of (3[2-9]|4\d)\.\dk\.$/,
    );
  });
});

describe('fit of several tables', () => {
  const head = (stand = 'stand (plants/ac)', yields = 'yield (bu/ac)') =>
    `product,crop,site,year,${stand},${yields}\n`;
  const of = (sites: readonly string[]) =>
    `${even.filter((row) => sites.some((site) => row.includes(`,${site},`))).join('\n')}\n`;
  beforeEach(() => {
    writeFileSync(join(cwd, 'whole.csv'), table(even));
    writeFileSync(join(cwd, 'a.csv'), head() + of(['Fen', 'Hill']));
    writeFileSync(join(cwd, 'b.csv'), head() + of(['Mill', 'Oak']));
  });
  const jsonOf = (...args: string[]) => {
    const { code, out } = call('fit', ...args, '--force', '--json');
    return { code, answer: JSON.parse(out) };
  };

  it('gives what the tables give as one, and tells what became of each', () => {
    const whole = jsonOf('whole.csv', '--out', 'w.json', '--name', 'Trials').answer;
    const { code, answer } = jsonOf('a.csv', 'b.csv', '--out', 'l.json', '--name', 'Trials');
    expect(code).toBe(0);
    const written = tree(cwd);
    expect(written.get('l.json')).toBe(written.get('w.json'));
    expect(whole.files).toEqual([
      { file: 'whole.csv', readings: whole.readings, questions: whole.questions, ledger: whole.ledger },
    ]);
    const used = (n: number) => ({ read: n, used: n, repaired: 0, setAside: {} });
    expect([answer.ledger, whole.ledger]).toEqual([used(40), used(40)]);
    expect(answer.files.map(({ file, ledger }: { file: string; ledger: unknown }) => [file, ledger])).toEqual(
      [
        ['a.csv', used(20)],
        ['b.csv', used(20)],
      ],
    );
    const { out } = call('fit', 'a.csv', 'b.csv', '--out', 'm.json');
    expect(out).toMatch(/^a\.csv: 20 plots used of 20$/m);
    expect(out).toMatch(/^b\.csv: 20 plots used of 20$/m);
    expect(out).toMatch(/^Together: 40 plots used of 40$/m);
    expect(call('fit', 'a.csv', '--out', 'n.json').out).not.toContain('Together');
  });

  it('says of which file an issue is, and sets aside what a later one tells again', () => {
    writeFileSync(join(cwd, 'b.csv'), `${head()}${of(['Hill', 'Mill'])}Wren 98,corn,Mill,2025,25000,\n`);
    const { answer } = jsonOf('a.csv', 'b.csv', '--out', 'l.json');
    expect(answer.ledger).toEqual({
      read: 41,
      used: 30,
      repaired: 0,
      setAside: { 'no-yield': 1, 'told-again': 10 },
    });
    const wheres = answer.issues.map(
      ({ code, where }: { code: string; where: string }) => `${code} ${where}`,
    );
    expect(wheres).toContain('trial-no-yield b.csv');
    expect(wheres).toContain('trials-told-twice b.csv');
  });

  it('takes a word about a column for the tables that have it, and refuses one that fits none', () => {
    writeFileSync(join(cwd, 'b.csv'), head('PX', 'GY') + of(['Mill', 'Oak']));
    const said = ['--column', 'yield=GY', '--column', 'stand=PX', '--unit', 'yield=bu/ac', '--unit'];
    const { code, answer } = jsonOf('a.csv', 'b.csv', ...said, 'stand=plants/ac', '--out', 'l.json');
    expect([code, answer.ledger.used]).toEqual([0, 40]);
    expect(answer.crops[0].products[0].fit.plots).toBe(40);
    const none = jsonOf('a.csv', 'b.csv', '--column', 'yield=Ertrag', '--out', 'l.json');
    expect(none.code).toBe(1);
    expect(none.answer.issues[0]).toMatchObject({
      code: 'trial-option',
      where: 'a.csv, b.csv',
      found: "no column 'Ertrag' for the yield",
    });
    const idle = jsonOf('a.csv', 'whole.csv', '--unit', 'rate=seeds/ac', '--out', 'l.json');
    expect([idle.code, idle.answer.issues[0].code]).toEqual([1, 'trial-option']);
  });

  it('names files of one name by their paths, and refuses two lineups', () => {
    mkdirSync(join(cwd, 'more'));
    writeFileSync(join(cwd, 'more/a.csv'), head() + of(['Mill']));
    const { answer } = jsonOf('a.csv', 'more/a.csv', '--out', 'l.json');
    expect(answer.files.map(({ file }: { file: string }) => file)).toEqual(['a.csv', 'more/a.csv']);
    // A lineup and a table more: its own plots and those.
    writeFileSync(join(cwd, 'c.csv'), head() + of(['Oak']));
    expect(jsonOf('l.json', 'c.csv', '--out', 'm.json').answer.ledger.used).toBe(40);
    const two = jsonOf('l.json', 'm.json', '--out', 'n.json');
    expect([two.code, two.answer.issues[0].code]).toEqual([1, 'trials-of-lineups']);
  });
});

describe('what fit says', () => {
  it('says once what is true of several, names who, and what is next', () => {
    const three = ['Wren 98', 'Teal 104', 'Rook 102'].flatMap((name, j) =>
      even
        .filter((row) => row.includes(',Fen,') && (j < 2 || !row.includes(',25000,')))
        .map((row) => row.replace('Wren 98', name)),
    );
    writeFileSync(join(cwd, 't.csv'), table(three));
    const { out } = call('fit', 't.csv', '--out', 'l.json');
    const site = out.split('\n').filter((line) => line.includes('It was tried at one site'));
    expect(site).toHaveLength(1);
    expect(site[0]).toMatch(/^Each of the 3 products: /);
    expect(out).toContain('The environment of the one corn site is');
    expect(out).toMatch(/^Which yields more, and on which ground: eachacre compare l\.json$/m);
    expect(out).toContain('Prices are missing of 3 products: eachacre lineup table l.json --out prices.csv');
    const leaning = out.split('\n').some((line) => / [1-9]\d* %$/.test(line));
    expect(out.includes('Leaning: how much')).toBe(leaning);
    const priced = call('fit', TRIALS, '--products', join(SAMPLES, 'lineup.json'), '--out', 'p.json').out;
    expect(priced).not.toContain('Prices are missing');
    expect(priced).toContain('Leaning: how much of a best stand');
  });
});

describe('a lineup laid under new trials', () => {
  it('keeps the plots of crops of which no trials came, and says of products left without that theirs were let go', () => {
    const few = ['product,crop,site,year,stand,yield'];
    for (const site of ['Fen', 'Hill', 'Mill', 'Oak'])
      for (const p of [22, 28, 34, 40])
        few.push(`Plover 108,corn,${site},2027,${p}000,${200 - 0.2 * (p - 31) ** 2}`);
    writeFileSync(join(cwd, 'few.csv'), `${few.join('\n')}\n`);
    const { code } = call('fit', 'few.csv', '--products', join(SAMPLES, 'lineup.json'), '--out', 'l.json');
    expect(code).toBe(0);
    const of = (path: string) =>
      JSON.parse(readFileSync(path, 'utf8')).products as {
        readonly id: string;
        readonly crop: string;
        readonly plots: { readonly site: readonly number[] } | null;
        readonly fit: { readonly said: readonly string[] };
      }[];
    const before = of(join(SAMPLES, 'lineup.json'));
    const after = of(join(cwd, 'l.json'));
    for (const { id, crop, plots } of before.filter((own) => own.crop === 'soybean'))
      expect([crop, after.find((own) => own.id === id)?.plots?.site.length]).toEqual([
        crop,
        plots?.site.length,
      ]);
    expect(after.find(({ id }) => id === 'plover-108')?.plots?.site.length).toBe(16);
    const bittern = after.find(({ id }) => id === 'bittern-112');
    expect(bittern?.plots).toBeNull();
    expect(bittern?.fit.said.at(-1)).toMatch(/^Its \d+ plots were let go when other trials came in\./);
  });
});

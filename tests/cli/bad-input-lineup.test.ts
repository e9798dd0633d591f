import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { reportSchema } from '../../src/cli/report.ts';
import type { Issue } from '../../src/engine/issue.ts';
import type { Product } from '../../src/engine/lineup/product.ts';
import type { Lineup } from '../../src/plan/lineup-schema.ts';
import { buildCli, eachacre, freshFolder, tree } from './built.ts';
import { LINEUP, layFiles, PLAN } from './small-field.ts';

let cwd = '';
beforeAll(buildCli);
beforeEach(() => {
  cwd = freshFolder();
  return () => rmSync(cwd, { recursive: true, force: true });
});
const put = (name: string, text: string) => writeFileSync(join(cwd, name), text);
const call = (...args: string[]) => eachacre(args, { cwd });

/** Answer in JSON and in words: the same codes, no stack trace, every issue whole. */
function issuesOf(exit: number, ...args: string[]): { issues: Issue[]; answer: Record<string, never> } {
  const json = call(...args, '--json');
  expect([json.code, json.err.match(/^\s+at .*:\d+/m)]).toEqual([exit, null]);
  const answer = JSON.parse(json.out);
  for (const issue of answer.issues as Issue[])
    for (const words of ['code', 'where', 'found', 'expected', 'effect', 'remedy'] as const)
      expect([issue.code, words, issue[words].length > 0]).toEqual([issue.code, words, true]);
  return { issues: answer.issues, answer };
}

/** Refused with this code, in words too, and nothing is written. */
function refused(code: string, ...args: string[]): Issue {
  const before = tree(cwd);
  const { issues } = issuesOf(1, ...args);
  const own = issues.find((issue) => issue.code === code);
  expect(issues.map((issue) => issue.code)).toContain(code);
  expect(own?.severity).toBe('error');
  expect(call(...args).err).toContain(`[${code}]`);
  expect(tree(cwd)).toEqual(before);
  return own as Issue;
}

/** Trials of one invented product at four sites, two plots a stand, as far over the yield as under it. */
function trialsOf(
  yieldAt: (p: number) => number,
  stands = [20, 24, 28, 32, 36],
  product = 'Wren 98',
): string {
  return ['Fen', 'Hill', 'Mill', 'Oak']
    .flatMap((site, j) =>
      stands.flatMap((p) =>
        [1, 2].map(
          (rep) =>
            `${product},corn,${site},2025,${1000 * p},${(yieldAt(p) + 4 * j + (rep === 1 ? 0.6 : -0.6)).toFixed(1)}\n`,
        ),
      ),
    )
    .join('');
}
const HEADER = 'product,crop,site,year,stand (plants/ac),yield (bu/ac)\n';
const bending = (p: number) => 190 - 0.1 * (p - 30) ** 2;

function fitTable(text: string, ...more: string[]) {
  put('t.csv', text);
  return issuesOf(0, 'fit', 't.csv', '--out', 'l.json', ...more);
}
const lineupIn = (path: string) => JSON.parse(readFileSync(path, 'utf8')) as Lineup;
const fitted = () => lineupIn(join(cwd, 'l.json')).products;

/** A lineup of the corn products of the sample, changed. */
function lineupOf(change: (corn: Product[]) => readonly unknown[]): void {
  const sample = lineupIn(LINEUP);
  const products = change(sample.products.filter(({ crop }) => crop === 'corn'));
  put('l.json', JSON.stringify({ ...sample, products }));
}
const PLANNED = [...PLAN, '--lineup', 'l.json'];
const RUN = ['run', 'a.plan.json', '--out', 'out'];

function report() {
  const planned = call(...PLANNED);
  expect([planned.code, planned.err]).toEqual([0, expect.any(String)]);
  const ran = call(...RUN, '--json');
  expect([ran.code, ran.err]).toEqual([0, expect.any(String)]);
  return reportSchema.parse(JSON.parse(ran.out));
}

describe('M01 yields that bend upwards', () => {
  it('in trials: no vertex is taken for a best stand, the line at the better end of what was tested is', () => {
    // Yield is least at 28,000: a parabola's vertex there would be the worst stand of all.
    const { answer } = fitTable(HEADER + trialsOf((p) => 170 + 0.15 * (p - 28) ** 2));
    const [{ response, tested_plantsPerAc, fit: how }] = fitted();
    expect(response?.family).toBe('line');
    expect(tested_plantsPerAc).toEqual({ min: 20_000, max: 36_000 });
    expect(how?.said.join(' ')).toMatch(/The plots show no bend/);
    expect(
      (answer.crops as { products: { bestStand_k: unknown }[] }[])[0].products[0].bestStand_k,
    ).toBeNull();
  });

  it('in a lineup: refused', () => {
    lineupOf(([one]) => [{ ...one, response: { ...one.response, bend: -0.1 } }]);
    const { where, found } = refused('response-no-best-stand', 'lineup', 'check', 'l.json');
    expect([where, found]).toEqual([
      'l.json › products[0].response',
      'a quadratic of bend -0.1: yield bends upwards, so it has no best stand',
    ]);
  });
});

describe('M02 yields that do not bend', () => {
  it('in trials: the line, and its rates stay at the end of what was tested', () => {
    fitTable(HEADER + trialsOf((p) => 110 + 2 * p));
    const [{ response, tested_plantsPerAc }] = fitted();
    expect([response?.family, tested_plantsPerAc]).toEqual(['line', { min: 20_000, max: 36_000 }]);
    layFiles(cwd);
    put(
      'l.json',
      JSON.stringify({ ...lineupIn(join(cwd, 'l.json')), products: [{ ...fitted()[0], pricePerUnit: 240 }] }),
    );
    const { zones } = report();
    // 36,000 plants at 0.95 of the seeds are 37,894; rates go in steps of 500 and stay within.
    for (const { seedsPerAc } of zones) expect(seedsPerAc).toBe(37_500);
  });

  it('in a lineup: a curve of no bend is refused', () => {
    lineupOf(([one]) => [{ ...one, response: { ...one.response, bend: 0 } }]);
    refused('response-no-best-stand', 'lineup', 'check', 'l.json');
  });
});

describe('M03 a price of nothing', () => {
  it('for seed: the stand of highest yield is planted, and the seed costs nothing', () => {
    layFiles(cwd);
    lineupOf((corn) => [{ ...corn.find(({ id }) => id === 'plover-108'), pricePerUnit: 0 }]);
    const { zones } = report();
    for (const { plantsPerAc, seedsPerAc, seedCostPerAc } of zones) {
      expect(seedCostPerAc).toBe(0);
      expect(Number.isFinite(seedsPerAc)).toBe(true);
      expect(plantsPerAc).toBeGreaterThan(29_000);
    }
  });

  it('for grain: refused', () => {
    layFiles(cwd);
    expect(refused('document-not-valid', ...PLAN, '--grain-price', '0').found).toMatch(/^0: /);
    expect(refused('price-not-positive', ...PLAN, '--drying', '4.2').found).toBe(
      '4.2 less 4.2 of drying and hauling a bushel',
    );
  });
});

describe('M04 a price under zero', () => {
  it('in a lineup: refused at its place', () => {
    lineupOf(([one, two]) => [one, { ...two, pricePerUnit: -4 }]);
    const { where, found } = refused('document-not-valid', 'lineup', 'check', 'l.json');
    expect(where).toBe('l.json › products[1].pricePerUnit');
    expect(found).toMatch(/^-4: /);
  });

  it('in a table: refused with its line', () => {
    put('p.csv', 'name,crop,seeds per unit,price per unit\nA 1,corn,80000,240\nB 2,corn,80000,-5\n');
    const { where, found } = refused('lineup-price', 'lineup', 'read', 'p.csv', '--out', 'x.json');
    expect([where, found]).toEqual(['p.csv › line 3', 'a price of -5 for B 2']);
    refused('lineup-price', 'lineup', 'check', 'p.csv');
  });

  it('for grain: refused', () => {
    layFiles(cwd);
    expect(refused('document-not-valid', ...PLAN, '--grain-price', '-1').found).toMatch(/^-1: /);
  });
});

describe('yields that are all alike', () => {
  it('have no curve, and the yield they all have is told', () => {
    const { issues } = fitTable(HEADER + ['Fen', 'Hill'].map((site) => alikeAt(site)).join(''));
    const own = issues.find(({ code }) => code === 'product-without-curve');
    expect(own?.found).toContain('all yields are the same, 180 bu/ac');
  });
  const alikeAt = (site: string) =>
    [20, 25, 30, 35].map((p) => `Wren 98,corn,${site},2025,${p}000,180\n`).join('');
});

describe('M05 a best stand beyond what was tested', () => {
  it('is told, and never planted', () => {
    fitTable(HEADER + trialsOf((p) => 200 - 0.1 * (p - 40) ** 2));
    const [product] = fitted();
    expect(product.fit?.said.join(' ')).toMatch(
      /Its best stand, (39|40),\d00 plants\/ac, lies beyond the tested 20,000 to 36,000 plants\/ac/,
    );
    layFiles(cwd);
    put(
      'l.json',
      JSON.stringify({ ...lineupIn(join(cwd, 'l.json')), products: [{ ...product, pricePerUnit: 240 }] }),
    );
    for (const { plantsPerAc } of report().zones) expect(plantsPerAc).toBeLessThanOrEqual(36_000);
  });
});

describe('M06 fewer than three stands', () => {
  it('one: the product has no curve, the others have theirs', () => {
    const { issues } = fitTable(
      HEADER + trialsOf(bending) + trialsOf(bending, [32], 'Teal 104'),
      '--crop',
      'corn',
    );
    const [wren, teal] = fitted();
    expect(wren.response).not.toBeNull();
    const own = issues.find(({ where }) => where === 'Teal 104');
    expect([own?.code, own?.severity]).toEqual(['product-without-curve', 'warning']);
    expect([teal.response, teal.tested_plantsPerAc]).toEqual([null, null]);
  });

  it('two: told that no best stand of its own is known', () => {
    const { issues } = fitTable(HEADER + trialsOf(bending, [24, 32]));
    const own = issues.find(({ code }) => code === 'product-few-stands');
    expect([own?.where, own?.found]).toEqual(['Wren 98', 'plots at 2 stands']);
    expect(own?.effect).toContain('no best stand of its own is known');
    expect(fitted()[0].response?.family).toBe('line');
  });

  it('one, and no other product: no rate can be set by it', () => {
    const { issues } = fitTable(HEADER + trialsOf(bending, [32]));
    expect(issues.map(({ code }) => code)).toContain('product-without-curve');
    layFiles(cwd);
    expect(refused('product-not-known-enough', ...PLANNED).found).toContain('Wren 98 has no');
  });
});

describe('M07 cells that are blank or no number', () => {
  it('in trials: the rows are set aside, counted and told with their lines', () => {
    const text = HEADER + trialsOf(bending);
    const odd = [
      ...[
        'Wren 98,corn,Fen,2025,24000,',
        'Wren 98,corn,Fen,2025,25000,NaN',
        'Wren 98,corn,Fen,2025,26000,n/a',
      ],
      ...['Wren 98,corn,,2025,24000,180', ',corn,Fen,2025,24000,180', 'Wren 98,corn,Fen,2025,,171'],
      ...['Wren 98,corn,Fen,2025,0,180', 'Wren 98,corn,Fen,2025,24000,-3'],
    ].join('\n');
    const { issues, answer } = fitTable(`${text}${odd}\n`);
    expect(answer.ledger).toEqual({
      read: 48,
      used: 41,
      repaired: 0,
      setAside: {
        'no-yield': 3,
        'no-site': 1,
        'no-product': 1,
        'stand-not-possible': 1,
        'yield-not-possible': 1,
      },
    });
    expect(issues.find(({ code }) => code === 'trial-no-yield')?.found).toBe('no yield: lines 42, 43, 44');
    expect(issues.find(({ code }) => code === 'trial-no-stand')?.found).toMatch(/line 47$/);
  });

  it('in every row: refused', () => {
    put('t.csv', `${HEADER}Wren 98,corn,Fen,2025,24000,\nWren 98,corn,Fen,2025,28000,n/a\n`);
    const before = tree(cwd);
    const { issues } = issuesOf(1, 'fit', 't.csv', '--out', 'l.json');
    expect(issues.some(({ severity }) => severity === 'error')).toBe(true);
    expect(tree(cwd)).toEqual(before);
  });
});

describe('M08 a lineup without products', () => {
  it('as a document: told to add one', () => {
    put('l.json', '{"document":"eachacre-lineup","version":1,"name":"none yet","products":[]}');
    expect(refused('lineup-empty', 'lineup', 'check', 'l.json').remedy).toBe('Add a product');
    layFiles(cwd);
    refused('lineup-no-usable-product', ...PLANNED);
  });

  it('as a table: told to add one', () => {
    put('p.csv', 'name,crop,seeds per unit\n,corn,80000\n');
    const { remedy } = refused('lineup-empty', 'lineup', 'read', 'p.csv', '--out', 'x.json');
    expect(remedy).toBe('Add a product');
  });
});

describe('M09 a product that is set and is not there', () => {
  it('is refused, the zone and the products in use named', () => {
    layFiles(cwd);
    expect(call(...PLAN).code).toBe(0);
    const plan = JSON.parse(readFileSync(join(cwd, 'a.plan.json'), 'utf8'));
    plan.rates.byHand = [{ zone: 2, product: 'ostrich' }];
    put('a.plan.json', JSON.stringify(plan));
    const { where, found, expected } = refused('by-hand-no-product', ...RUN);
    expect(where).toBe('zone 2 Middle ground');
    expect(found).toContain('ostrich');
    expect(expected).toContain('plover-108');
  });
});

describe('M10 a unit of no seeds', () => {
  it('in a lineup: refused at its place', () => {
    lineupOf(([one]) => [{ ...one, seedsPerUnit: 0 }]);
    expect(refused('document-not-valid', 'lineup', 'check', 'l.json').where).toBe(
      'l.json › products[0].seedsPerUnit',
    );
  });

  it('in a table: refused with its line', () => {
    put('p.csv', 'name,crop,seeds per unit\nA 1,corn,0\n');
    const { where } = refused('lineup-seeds-per-unit', 'lineup', 'read', 'p.csv', '--out', 'x.json');
    expect(where).toBe('p.csv › line 2');
  });
});

describe('M11 two products alike', () => {
  it.each([
    ['Twin B', 'Twin A'],
    ['Twin A', 'Twin B'],
  ])('the one that stands first in the lineup is planted: %s before %s', (...names) => {
    layFiles(cwd);
    lineupOf((corn) => names.map((name) => ({ ...corn[2], name, id: name.toLowerCase().replace(' ', '-') })));
    expect(report().zones.map(({ product }) => product)).toEqual([names[0], names[0], names[0]]);
  });
});

describe('M12 money and units mixed', () => {
  it('prices in other money are not taken for dollars', () => {
    put('p.csv', 'name,crop,seeds per unit,price per unit\nA 1,corn,80000,$240\nB 2,corn,80000,€210\n');
    const { issues } = issuesOf(0, 'lineup', 'read', 'p.csv', '--out', 'x.json');
    expect(issues.map(({ code, where }) => [code, where])).toEqual([['lineup-currency', 'p.csv › line 3']]);
    expect(lineupIn(join(cwd, 'x.json')).products.map(({ pricePerUnit }) => pricePerUnit)).toEqual([
      240,
      null,
    ]);
  });

  it('a plan knows no other money', () => {
    layFiles(cwd);
    expect(call(...PLAN).code).toBe(0);
    const plan = JSON.parse(readFileSync(join(cwd, 'a.plan.json'), 'utf8'));
    plan.money.currency = 'EUR';
    put('a.plan.json', JSON.stringify(plan));
    expect(refused('document-not-valid', ...RUN).where).toBe('a.plan.json › money.currency');
  });

  it('yields that two units would fit are asked about, and answered', () => {
    // Soybeans of about 3000: kilograms a hectare or pounds an acre; stands of 120: thousands an acre or a hectare.
    const rows = ['Fen', 'Hill', 'Mill'].flatMap((site, j) =>
      [100, 120, 140].map((p, k) => `Owl,soybean,${site},${p},${2900 + 90 * k + 30 * j}`),
    );
    put('t.csv', `product,crop,site,stand,yield\n${rows.join('\n')}\n`);
    const { answer, issues } = issuesOf(0, 'fit', 't.csv', '--out', 'l.json');
    const [question] = answer.questions as unknown as { about: string; options: { value: string }[] }[];
    expect(question?.about).toBe('yield unit');
    expect(issues.map(({ code }) => code)).toContain('trial-assumed');
    const said = issuesOf(
      0,
      'fit',
      't.csv',
      '--out',
      'm.json',
      '--unit',
      `yield=${question.options[1].value}`,
    );
    expect((said.answer.questions as unknown as { about: string }[]).map(({ about }) => about)).not.toContain(
      'yield unit',
    );
  });

  it('a stated unit there is none of is refused', () => {
    put('t.csv', HEADER + trialsOf(bending));
    const before = tree(cwd);
    const { issues } = issuesOf(1, 'fit', 't.csv', '--out', 'l.json', '--unit', 'yield=barrels');
    expect(issues[0].severity).toBe('error');
    expect(tree(cwd)).toEqual(before);
  });
});

import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, beforeEach, describe, expect, it } from 'vitest';
import type { Product } from '../../src/engine/lineup/product.ts';
import type { Lineup } from '../../src/plan/lineup-schema.ts';
import { readLineup } from '../../src/plan/validate.ts';
import { buildCli, eachacre, freshFolder, SAMPLES, tree } from './built.ts';

let cwd = '';
beforeAll(buildCli);
beforeEach(() => {
  cwd = freshFolder();
  return () => rmSync(cwd, { recursive: true, force: true });
});
const call = (...args: string[]) => eachacre(args, { cwd });
const put = (name: string, text: string) => writeFileSync(join(cwd, name), text);
const text = (name: string) => readFileSync(join(cwd, name), 'utf8');
const lineupIn = (name: string): Lineup => {
  const { value, issues } = readLineup(JSON.parse(text(name)), name);
  expect(issues).toEqual([]);
  return value as Lineup;
};
/** Ratings come in the order of the columns of a table. */
const sorted = ({ ratings, ...product }: Product) => ({
  ...product,
  ratings: [...ratings].sort((a, b) => (a.of < b.of ? -1 : 1)),
});
const LINEUP = join(SAMPLES, 'lineup.json');

describe('lineup template', () => {
  it('of trials is a table that fits, with the template of products beside it', () => {
    expect(call('lineup', 'template', 'trials', '--out', 't.csv').code).toBe(0);
    expect(call('lineup', 'template', 'products', '--out', 'p.csv').code).toBe(0);
    expect(call('fit', 't.csv', '--products', 'p.csv', '--out', 'l.json').code).toBe(0);
    const { products } = lineupIn('l.json');
    expect(products.map(({ name, pricePerUnit }) => [name, pricePerUnit])).toEqual([
      ['Wren 98 (example)', 236],
      ['Teal 104 (example)', null],
      ['Plover 2.4 (example)', 58],
    ]);
    expect(products[0].response).not.toBeNull();
  });

  it('replaces nothing unless told to, and knows no other template', () => {
    put('t.csv', 'mine');
    const { code, err } = call('lineup', 'template', 'trials', '--out', 't.csv');
    expect([code, text('t.csv')]).toEqual([1, 'mine']);
    expect(err).toContain('[file-exists]');
    expect(call('lineup', 'template', 'trials', '--out', 't.csv', '--force').code).toBe(0);
    expect(text('t.csv')).toMatch(/^product,crop,site,/);
    expect(call('lineup', 'template', 'fields', '--out', 'x.csv').code).toBe(2);
  });
});

describe('lineup table and lineup read', () => {
  it('bring the products of a lineup there and back, byte for byte the second time', () => {
    const { code, err } = call('lineup', 'table', LINEUP, '--out', 'a.csv');
    expect(code).toBe(0);
    expect(err).toContain('[table-holds-less]');
    expect(call('lineup', 'read', 'a.csv', '--out', 'b.json').code).toBe(0);
    expect(call('lineup', 'table', 'b.json', '--out', 'b.csv').code).toBe(0);
    expect(text('b.csv')).toBe(text('a.csv'));
    const { products } = JSON.parse(readFileSync(LINEUP, 'utf8')) as Lineup;
    const none = { response: null, fit: null, tested_plantsPerAc: null, placement: [], plots: null };
    expect(lineupIn('b.json').products.map(sorted)).toEqual(
      products.map((own) => sorted({ ...own, ...none })),
    );
  });

  it('bring a changed price back onto the lineup, and nothing else is changed', () => {
    call('lineup', 'table', LINEUP, '--out', 'a.csv');
    put('a.csv', text('a.csv').replace(/^(plover-108,.*?,)264,/m, '$1271.5,'));
    expect(call('lineup', 'read', 'a.csv', '--onto', LINEUP, '--out', 'b.json').code).toBe(0);
    const before = JSON.parse(readFileSync(LINEUP, 'utf8')) as Lineup;
    const priced = before.products.map((own) =>
      own.id === 'plover-108' ? { ...own, pricePerUnit: 271.5 } : own,
    );
    const after = lineupIn('b.json');
    expect(after.products.map(sorted)).toEqual(priced.map(sorted));
    expect([after.name, after.sites]).toEqual([before.name, before.sites]);
  });

  it('tell of products of the lineup that have no row any more', () => {
    call('lineup', 'table', LINEUP, '--out', 'a.csv');
    put('a.csv', text('a.csv').replace(/^plover-108,.*\r\n/m, ''));
    const { code, out } = call('lineup', 'read', 'a.csv', '--onto', LINEUP, '--out', 'b.json', '--json');
    expect(code).toBe(0);
    const { issues, products } = JSON.parse(out);
    expect(products).toHaveLength(13);
    expect(issues.map((issue: { code: string }) => issue.code)).toEqual(['product-not-in-table']);
    expect(issues[0].found).toContain('Plover 108');
  });

  it('tell what is wrong by row, close the ledger, and write nothing', () => {
    put(
      'p.csv',
      'name,crop,seeds per unit,price per unit\nA 1,corn,80000,240\nA 1,corn,80000,250\n,corn,80000,1\nB 2,corn,0,200\nC 3,corn,80000,€210\n',
    );
    const before = tree(cwd);
    const { code, out } = call('lineup', 'read', 'p.csv', '--out', 'l.json', '--json');
    expect(code).toBe(1);
    const { lineup, ledger, issues } = JSON.parse(out);
    expect(lineup).toBeNull();
    expect(ledger).toEqual({
      read: 5,
      used: 2,
      repaired: 0,
      setAside: { 'duplicate-product': 1, 'no-name': 1, 'not-possible': 1 },
    });
    expect(issues.map((issue: { code: string; where: string }) => [issue.code, issue.where])).toEqual([
      ['duplicate-product', 'p.csv › line 3'],
      ['lineup-seeds-per-unit', 'p.csv › line 5'],
      ['lineup-currency', 'p.csv › line 6'],
      ['lineup-no-name', 'p.csv'],
    ]);
    expect(tree(cwd)).toEqual(before);
  });

  it('refuse a lineup where a table is wanted, and a plan', () => {
    const { code, err } = call('lineup', 'read', LINEUP, '--out', 'b.json');
    expect(code).toBe(1);
    expect(err).toContain('[lineup-not-table]');
    put('p.json', '{"document":"eachacre-plan","version":1}');
    const plan = call('lineup', 'table', 'p.json', '--out', 'b.csv', '--json');
    expect(plan.code).toBe(1);
    expect(JSON.parse(plan.out).issues[0].code).toBe('document-foreign');
  });
});

describe('lineup check', () => {
  it('takes a table of products too', () => {
    call('lineup', 'template', 'products', '--out', 'p.csv');
    const { code, out } = call('lineup', 'check', 'p.csv', '--json');
    expect(code).toBe(0);
    const { lineup, products, ledger } = JSON.parse(out);
    expect([lineup, ledger.read, ledger.used]).toEqual(['p', 2, 2]);
    expect(products[0]).toEqual({
      id: 'wren-98',
      name: 'Wren 98 (example)',
      crop: 'corn',
      lacks: ['response', 'tested stands'],
    });
  });
});

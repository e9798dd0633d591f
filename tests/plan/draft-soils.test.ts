import { describe, expect, it } from 'vitest';
import type { Issue } from '../../src/engine/issue.ts';
import type { Source } from '../../src/engine/layers/source.ts';
import type { DraftWords } from '../../src/plan/draft.ts';
import { draftSoils } from '../../src/plan/draft-soils.ts';
import { table } from '../engine/layers/small-source.ts';

const words: DraftWords = {
  ...{ name: 'Small field', season: 2027, crop: 'corn', soilValue: null },
  ...{ yieldColumn: {}, yieldUnit: {}, yieldCrop: {} },
};
const file = (id: string, source: Source, sha = id) => ({
  entry: { id, file: `${id}.txt`, sha256: sha.padEnd(64, '0') },
  source,
});
const polygons = (columns: Parameters<typeof table>[0]): Source => ({
  ...table(columns, 'soils.shp'),
  shape: 'polygons',
});
function draft(soils: Source, ...tables: ReturnType<typeof file>[]) {
  const issues: Issue[] = [];
  return { plan: draftSoils(file('soils', soils), tables, words, issues), issues };
}

const symbols = polygons({ musym: ['A', 'B'] });
const mapunit = table({ musym: ['A', 'B'], mukey: [1, 2] });
const component = table({ mukey: [1, 2], cokey: ['1:1', '2:1'], comppct_r: [90, 80] });
const horizon = table({
  cokey: ['1:1', '2:1'],
  hzdept_r: [0, 0],
  hzdepb_r: [150, 200],
  awc_r: [0.2, 0.1],
});

describe('soils drafted from polygons and tables', () => {
  it('are a chain of steps in the plan, and a note that tells it', () => {
    const { plan, issues } = draft(
      symbols,
      file('chorizon', horizon),
      file('comp', component),
      file('mapunit', mapunit),
    );
    expect(plan).toEqual({
      source: 'soils',
      label: 'musym',
      column: 'awc_r',
      meaning: 'index',
      join: [
        { source: 'mapunit', fromKey: 'musym', toKey: 'musym', where: null, weight: null, depth: null },
        { source: 'comp', fromKey: 'mukey', toKey: 'mukey', where: null, weight: 'comppct_r', depth: null },
        {
          ...{ source: 'chorizon', fromKey: 'cokey', toKey: 'cokey', where: null, weight: null },
          depth: { top: 'hzdept_r', bottom: 'hzdepb_r', from_cm: 0, to_cm: 150, how: 'sum' },
        },
      ],
    });
    expect(issues).toMatchObject([
      {
        code: 'soil-value-guessed',
        severity: 'note',
        found:
          'awc_r by musym to mapunit.txt, by mukey to comp.txt weighed by comppct_r, by cokey to chorizon.txt, sum from 0 to 150 cm, taken as an index of water held in cm; known for 2 of 2 polygons',
      },
    ]);
  });

  it('tell a table whose tables in between are missing', () => {
    const { plan, issues } = draft(polygons({ musym: ['A'], CSR2: [80] }), file('chorizon', horizon));
    expect(plan).toMatchObject({ column: 'CSR2', join: [] });
    expect(issues).toMatchObject([
      { code: 'soil-table-no-key', severity: 'warning', where: 'chorizon.txt' },
      { code: 'soil-value-guessed' },
    ]);
  });

  it('count a table handed over twice once, and tell it', () => {
    const { plan, issues } = draft(
      symbols,
      ...[file('mapunit', mapunit), file('comp', component), file('chorizon', horizon)],
      file('comp-copy', component, 'comp'),
    );
    expect(plan?.join?.map(({ source }) => source)).toEqual(['mapunit', 'comp', 'chorizon']);
    expect(issues).toMatchObject([
      { code: 'soil-table-twice', severity: 'warning', where: 'comp-copy.txt' },
      { code: 'soil-value-guessed' },
    ]);
  });

  it('warn of a symbol that is two map units, as in tables of two survey areas', () => {
    const both = table({
      musym: ['A', 'A', 'B', 'Z', 'Z'],
      mukey: [1, 7, 2, 8, 9],
      iacornsr: [90, 50, 70, 1, 2],
    });
    const { issues } = draft(symbols, file('mapunit', both));
    expect(issues).toMatchObject([
      { code: 'soil-symbol-twice', severity: 'warning', found: 'symbol A for map units 1 and 7' },
      { code: 'soil-value-guessed' },
    ]);
    const other = table({ musym: ['A', 'B', 'Z', 'Z'], mukey: [1, 2, 8, 9], iacornsr: [90, 70, 1, 2] });
    expect(draft(symbols, file('mapunit', other)).issues.map(({ code }) => code)).toEqual([
      'soil-value-guessed',
    ]);
  });

  it('are left out when no table and no column tells what the ground can yield', () => {
    const { plan, issues } = draft(symbols, file('mapunit', mapunit));
    expect(plan).toBeNull();
    expect(issues.map(({ code }) => code)).toEqual(['soil-value-not-found']);
  });
});

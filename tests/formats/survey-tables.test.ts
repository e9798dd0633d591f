import { describe, expect, it } from 'vitest';
import { columnKey } from '../../src/engine/layers/column-key.ts';
import { cellValue } from '../../src/engine/layers/source.ts';
import { readCsv } from '../../src/formats/csv/read.ts';
import { surveyTable } from '../../src/formats/csv/survey-tables.ts';
import { missing, openData } from './open-data.ts';
import { textFile } from './small-files.ts';

const YIELDS = '"Corn"|"Bu"||152||||||"168588"\n"Soybeans"|"Bu"||48||||||"168588"\n';
const named = (text: string, name: string) => ({ ...textFile(text), name });
/** Ten cells a row, as mucropyld has. */
const rows = YIELDS.replaceAll('"168588"', '"168588"|"1"').replaceAll('||||||', '|||||');

describe('a table of the public soil survey without column names', () => {
  it('goes by its published names, by file name and number of columns, and says so', () => {
    const source = readCsv(named(rows, 'soil.zip › tabular/mucrpyd.txt'));
    expect(source.columns.map(({ name }) => name)).toEqual([
      ...['cropname', 'yldunits', 'nonirryield_l', 'nonirryield_r', 'nonirryield_h'],
      ...['irryield_l', 'irryield_r', 'irryield_h', 'mukey', 'mucrpyldkey'],
    ]);
    expect(source.records).toBe(2);
    expect(source.columns.slice(0, 5).map((column) => cellValue(column, 1))).toEqual([
      'Soybeans',
      'Bu',
      null,
      48,
      null,
    ]);
    expect(source.issues).toMatchObject([
      { code: 'csv-survey-names', severity: 'note', where: 'soil.zip › tabular/mucrpyd.txt' },
    ]);
  });

  it('keeps its own names where it has them, however they are spelt', () => {
    const names =
      'cropname|yldunits|nonirryield.l|nonirryield.r|nonirryield.h|irryield.l|irryield.r|irryield.h';
    const source = readCsv(named(`${names}|mukey|mucrpyldkey\n${rows}`, 'field_SSURGO_mucropyld.csv'));
    expect(source.columns[3].name).toBe('nonirryield.r');
    expect(source.records).toBe(2);
    expect(source.issues).toEqual([]);
  });

  it.each([
    ['another name', 'yields.txt', rows],
    ['another number of columns', 'mucrpyd.txt', rows.replaceAll('|"1"', '')],
  ])('is not taken for one by %s', (_, name, text) => {
    const source = readCsv(named(text, name));
    expect(source.issues.map(({ code }) => code)).not.toContain('csv-survey-names');
    expect(source.columns.map(({ name: own }) => own)).not.toContain('cropname');
  });

  it('gives way to names that are stated', () => {
    const columns = Array.from({ length: 10 }, (_, k) => `c${k}`);
    expect(readCsv(named(rows, 'mucrpyd.txt'), { columns }).columns.map(({ name }) => name)).toEqual(columns);
  });
});

const headOf = (path: string) => readCsv(openData(path)).columns.map(({ name }) => columnKey(name));

// Column names as open exports of the survey carry them (PFIswhc, MIT; Data Carpentry for Agriculture, CC BY 4.0; the survey itself is public domain).
describe.skipIf(missing('iowa_soils/SSURGO_chorizon-colnames.csv'))('the published names', () => {
  it.each([
    ['mapunit', 'mapunit.txt', 'iowa_soils/SSURGO_mapunit-colnames.csv'],
    ['component', 'comp.txt', 'iowa_soils/SSURGO_component-colnames.csv'],
    ['chorizon', 'chorizon.txt', 'iowa_soils/SSURGO_chorizon-colnames.csv'],
    ['muaggatt', 'muaggatt.txt', 'iowa_soils/SSURGO_muaggatt-colnames.csv'],
    ['mucropyld', 'mucrpyd.txt', 'ohio_trial/ssurgo_tabular/samplefield_SSURGO_mucropyld.csv'],
    ['cocropyld', 'ccrpyd.txt', 'ohio_trial/ssurgo_tabular/samplefield_SSURGO_cocropyld.csv'],
  ])('of %s are those of open exports, one by one', (table, file, path) => {
    const head = headOf(path);
    const found = surveyTable(file, head.length);
    expect(found?.table).toBe(table);
    expect(found?.columns.map(columnKey)).toEqual(head);
  });

  it.each(['boone', 'washington'])('fit the headerless tables of %s', (area) => {
    for (const [file, key] of [
      ['mapunit', 'mukey'],
      ['comp', 'cokey'],
      ['chorizon', 'chkey'],
      ['muaggatt', 'mukey'],
    ]) {
      const source = readCsv(openData(`iowa_soils/${area}/${file}.txt`));
      expect(source.columns.at(-1)?.name).toBe(key);
      expect(source.issues.map(({ code }) => code)).toEqual(['csv-survey-names']);
      expect(source.ledger).toEqual({
        read: source.records,
        used: source.records,
        repaired: 0,
        setAside: {},
      });
    }
  });
});

import { strToU8, zipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { type Column, cellValue, type Source } from '../../src/engine/layers/source.ts';
import type { FileBytes } from '../../src/formats/file-bytes.ts';
import { readFiles } from '../../src/formats/registry.ts';
import { missing, openData, openFolder } from './open-data.ts';
import { textFile } from './small-files.ts';
import {
  drawnZonesSeed,
  FIELD,
  gridFile,
  HOLE,
  int32,
  isoPolygon,
  PRODUCTS,
  SQUARE,
  taskFile,
  taskZip,
  typeOneSeed,
  typeOneTask,
  typeTwoSeed,
  typeTwoTask,
} from './xml-seeds.ts';

const codes = (issues: readonly { code: string }[]) => issues.map(({ code }) => code);
const names = (sources: readonly Source[]) => sources.map(({ file, shape }) => [file, shape]);

const column = (columns: readonly Column[], name: string) => {
  const found = columns.find((own) => own.name === name);
  if (!found) throw new Error(`no column ${name} in ${columns.map((own) => own.name).join(', ')}`);
  return Array.from({ length: found.kind === 'text' ? found.codes.length : found.values.length }, (_, row) =>
    cellValue(found, row),
  );
};

/** The layer whose name ends so, of files that all could be read. */
async function layer(files: readonly FileBytes[], ending: string): Promise<Source> {
  const { sources, issues } = await readFiles(files);
  expect(issues.filter(({ severity }) => severity === 'error')).toEqual([]);
  const found = sources.find(({ file }) => file.endsWith(` › ${ending}`));
  if (!found) throw new Error(`no ${ending} in ${sources.map(({ file }) => file).join(', ')}`);
  return found;
}

/** The error of a grid that cannot be read; the field beside it must still be given. */
async function gridRefused(files: readonly FileBytes[]) {
  const { sources, issues } = await readFiles(files);
  expect(names(sources)).toEqual([['TASKDATA.XML › fields', 'polygons']]);
  const errors = issues.filter(({ severity }) => severity === 'error');
  expect(errors.length).toBe(1);
  for (const part of Object.values(errors[0])) expect(part).not.toBe('');
  return errors[0];
}

const withGrid = (task: string, bytes?: Uint8Array) => [
  taskFile(`${PRODUCTS}${FIELD}${task}`),
  ...(bytes ? [gridFile(bytes)] : []),
];
const SIX = Uint8Array.of(0, 1, 2, 2, 1, 0);
/** One raw step of 0x000B is 0.001 pieces/m²; an acre is 4046.8564224 m². */
const seedsAc = (raw: number) => (raw / 1000) * 4046.8564224;

describe('fields of a task file', () => {
  it('a boundary with a hole, name, id and stated area', async () => {
    const source = await layer(typeOneSeed(), 'fields');
    expect(source).toMatchObject({ file: 'TASKDATA.XML › fields', format: 'iso11783', records: 1 });
    expect(source.crs?.code).toBe('EPSG:4326');
    expect(source.rings[0]?.map((ring) => [...ring])).toEqual([
      SQUARE.slice(0, 4).flat(),
      HOLE.slice(0, 4).flat(),
    ]);
    expect(['id', 'name', 'area m2'].map((name) => column(source.columns, name)[0])).toEqual([
      'PFD1',
      'North 80',
      837362,
    ]);
    expect(source.ledger).toEqual({ read: 1, used: 1, repaired: 0, setAside: {} });
    expect(source.issues).toEqual([]);
  });

  it('grower, farm and crop by name; a stated area of 0 is not known', async () => {
    const people = '<CTR A="CTR1" B="Example"/><FRM A="FRM1" B="Home"/><CTP A="CTP1" B="Corn"/>';
    const field = FIELD.replace('D="837362"', 'B="F-1" D="0" E="CTR1" F="FRM1" G="CTP1"');
    const { columns } = await layer([taskFile(people + field)], 'fields');
    expect(['code', 'grower', 'farm', 'crop', 'area m2'].map((name) => column(columns, name)[0])).toEqual([
      'F-1',
      'Example',
      'Home',
      'Corn',
      null,
    ]);
  });

  it('several polygons a field (version 4) and several exteriors a polygon (version 3)', async () => {
    const four = `<PFD A="PFD1" C="a" D="1">${isoPolygon(1, [1, SQUARE])}${isoPolygon(1, [1, HOLE])}</PFD>`;
    const three = `<PFD A="PFD2" C="b" D="1">${isoPolygon(1, [1, SQUARE], [1, HOLE])}</PFD>`;
    const { rings } = await layer([taskFile(four + three)], 'fields');
    expect(rings.map((own) => own?.length)).toEqual([2, 2]);
  });

  it('only boundaries: an obstacle is told, guidance lines are no ring; the main field stands in', async () => {
    const obstacle = `<PFD A="PFD1" C="a" D="1">${isoPolygon(1, [5, HOLE], [1, SQUARE])}${isoPolygon(6, [1, HOLE])}</PFD>`;
    const main = `<PFD A="PFD2" C="b" D="1">${isoPolygon(9, [1, SQUARE])}</PFD>`;
    const source = await layer([taskFile(obstacle + main)], 'fields');
    expect(source.rings.map((own) => own?.length)).toEqual([1, 1]);
    expect(source.issues).toMatchObject([{ code: 'iso-polygons-not-used', severity: 'note' }]);
    expect(source.issues[0].found).toBe('polygons of PFD1 (obstacle)');
  });

  it('open rings are closed and told, unsound corners set the field aside, no boundary is told', async () => {
    const field = (id: number, inside: string) => `<PFD A="PFD${id}" C="f${id}" D="1">${inside}</PFD>`;
    const text = [
      field(1, isoPolygon(1, [1, SQUARE.slice(0, 4)])),
      field(2, isoPolygon(1, [1, SQUARE]).replace('C="42.01"', 'C="north"')),
      field(3, isoPolygon(1, [1, SQUARE]).replace('C="42.01"', 'C="91"')),
      field(4, ''),
      field(5, isoPolygon(1, [1, SQUARE.slice(0, 2)], [2, HOLE])),
    ];
    const source = await layer([taskFile(text.join('\n'))], 'fields');
    expect(source.ledger).toEqual({
      read: 5,
      used: 0,
      repaired: 1,
      setAside: { 'iso-coordinates': 2, 'no-geometry': 1, 'ring-too-short': 1 },
    });
    expect(source.rings.map((own) => own?.length ?? 0)).toEqual([1, 0, 0, 0, 0]);
    expect(column(source.columns, 'name')).toEqual(['f1', 'f2', 'f3', 'f4', 'f5']);
    expect(source.issues[0].found).toBe(
      "records 2 PFD2 (north 'north', east '-93.49' in line 4), 3 PFD3 (north '91', east '-93.49' in line 5)",
    );
  });
});

describe('grids', () => {
  it('type 1: the zone of each cell, its rate and product; the first row is the southern one', async () => {
    const source = await layer(typeOneSeed(), 'grid TSK1');
    expect(source).toMatchObject({ shape: 'raster', records: 6 });
    expect(source.raster).toEqual({ width: 3, height: 2, transform: [0.0025, 0, -93.5, 0, 0.005, 42] });
    expect(column(source.columns, 'zone')).toEqual([0, 1, 2, 2, 1, 0]);
    expect(column(source.columns, 'rate seeds/ac')).toEqual([0, 6919, 8896, 8896, 6919, 0].map(seedsAc));
    expect(column(source.columns, 'product')).toEqual([null, 'Heron', 'Kestrel', 'Kestrel', 'Heron', null]);
    expect(column(source.columns, 'zone name')).toEqual(['Outside', 'Low', 'High', 'High', 'Low', 'Outside']);
    expect(source.ledger).toEqual({ read: 6, used: 6, repaired: 0, setAside: {} });
    expect(source.issues).toEqual([]);
  });

  it('the middle of the first pixel lies half a cell from the south-west corner', async () => {
    const { raster } = await layer(typeOneSeed(), 'grid TSK1');
    if (!raster) throw new Error('no raster');
    const [a, b, c, d, e, f] = raster.transform;
    const at = (x: number, y: number) => [a * x + b * y + c, d * x + e * y + f];
    // ISO 11783-10: cell (row, column) covers south + row · cell height and west + column · cell width; degrees to 1e-12.
    expect(at(0.5, 0.5)[0]).toBeCloseTo(-93.5 + 0.00125, 12);
    expect(at(0.5, 0.5)[1]).toBeCloseTo(42.0025, 12);
    expect(at(3, 2)[0]).toBeCloseTo(-93.4925, 12);
    expect(at(3, 2)[1]).toBeCloseTo(42.01, 12);
  });

  it('type 2: values interleaved cell by cell, each with its product and unit', async () => {
    const source = await layer(typeTwoSeed(), 'grid TSK1');
    expect(source.columns.map(({ name }) => name)).toEqual(['Heron rate seeds/ac', 'Kestrel rate kg/ha']);
    expect(column(source.columns, 'Heron rate seeds/ac')).toEqual(
      [0, 1000, 2000, 3000, 4000, 5000].map(seedsAc),
    );
    // 700 mg/m² are 7 kg/ha.
    expect(column(source.columns, 'Kestrel rate kg/ha')).toEqual([7, 7, 7, 7, 7, 7]);
  });

  it('the smallest 32-bit number is no value', async () => {
    const bytes = int32([-(2 ** 31), -(2 ** 31), 5, -(2 ** 31), 0, 0, 0, 0, 0, 0, 0, 0]);
    const source = await layer(withGrid(typeTwoTask(), bytes), 'grid TSK1');
    expect(column(source.columns, 'Heron rate seeds/ac').slice(0, 3)).toEqual([null, seedsAc(5), 0]);
    expect(source.ledger).toEqual({ read: 6, used: 5, repaired: 0, setAside: { 'no-value': 1 } });
  });

  it.each([
    ['0001', 10_000, 'rate l/ha', 1],
    ['0006', 100, 'rate kg/ha', 1],
    ['000b', 1000, 'rate seeds/ac', 4046.8564224],
    ['0007', 100, 'actual rate kg/ha', 1],
    ['000F', 1000, 'maximum rate seeds/ac', 4046.8564224],
    ['0010', 150, 'spacing mm', 150],
    ['0038', 40, 'depth mm', 40],
  ])('entity %s: %s in the file is %s %s', async (ddi, raw, label, value) => {
    // 1 l/ha = 100 mm³/m² = 10,000 steps of 0.01; 1 kg/ha = 100 mg/m²; 1 piece/m² = 4,046.8564224 an international acre.
    const zones = `<TZN A="0"><PDV A="${ddi}" B="${raw}"/></TZN>`;
    const files = withGrid(
      typeOneTask('A="42" B="-93.5" C="0.1" D="0.1" E="1" F="1" G="GRD00001" I="1"', zones),
      new Uint8Array(1),
    );
    expect(column((await layer(files, 'grid TSK1')).columns, label)[0]).toBeCloseTo(value, 9);
  });

  it('an entity that is not known keeps its figures, and says so', async () => {
    const zones = '<TZN A="0"><PDV A="E123" B="-5"/></TZN>';
    const files = withGrid(
      typeOneTask('A="42" B="-93.5" C="0.1" D="0.1" E="1" F="1" G="GRD00001" I="1"', zones),
      new Uint8Array(1),
    );
    const source = await layer(files, 'grid TSK1');
    expect(column(source.columns, 'entity E123 as in the file')).toEqual([-5]);
    expect(codes(source.issues)).toEqual(['iso-ddi-unknown']);
  });

  it.each([
    ['0.01', 'kg/ha', []],
    ['0.1', 'kg/ha', ['iso-unit-disagrees']],
    ['0.00892179', 'lb/ac', []],
    ['0.5', 'bags', []],
  ])('I06 W a presentation of %s %s for mg/m²', async (scale, unit, expected) => {
    // 1 mg/m² = 0.01 kg/ha = 0.00892179 lb/ac (453.59237 g, 4,046.8564224 m²).
    const zones = '<TZN A="0"><PDV A="0006" B="1500" E="VPN1"/></TZN>';
    const task = typeOneTask('A="42" B="-93.5" C="0.1" D="0.1" E="1" F="1" G="GRD00001" I="1"', zones);
    const files = withGrid(`<VPN A="VPN1" B="0" C="${scale}" D="1" E="${unit}"/>${task}`, new Uint8Array(1));
    const source = await layer(files, 'grid TSK1');
    expect(column(source.columns, 'rate kg/ha')).toEqual([15]);
    expect(codes(source.issues)).toEqual(expected);
  });

  it('two tasks, and two grids of one task, are told apart', async () => {
    const second = typeOneTask().replace('TSK1', 'TSK2').replaceAll('GRD00001', 'GRD00002');
    const double = typeOneTask().replace(
      /<GRD .*\/>/,
      (grid) => `${grid}${grid.replace('GRD00001', 'GRD00002')}`,
    );
    const grids = [gridFile(SIX), gridFile(SIX, 'GRD00002.bin')];
    const two = await readFiles([taskFile(PRODUCTS + typeOneTask() + second), ...grids]);
    expect(names(two.sources).map(([file]) => file)).toEqual([
      'TASKDATA.XML › grid TSK1',
      'TASKDATA.XML › grid TSK2',
    ]);
    const one = await readFiles([taskFile(PRODUCTS + double), ...grids]);
    expect(names(one.sources).map(([file]) => file)).toEqual([
      'TASKDATA.XML › grid TSK1 GRD00001',
      'TASKDATA.XML › grid TSK1 GRD00002',
    ]);
  });
});

describe('zones drawn as polygons', () => {
  it('a record a zone, with rate and product; those without a polygon are told', async () => {
    const source = await layer(drawnZonesSeed(), 'zones TSK1');
    expect(source).toMatchObject({ shape: 'polygons', records: 2 });
    expect(source.rings.map((rings) => rings?.length)).toEqual([2, 1]);
    expect(column(source.columns, 'zone')).toEqual([1, 2]);
    expect(column(source.columns, 'product')).toEqual(['Heron', 'Kestrel']);
    expect(column(source.columns, 'rate seeds/ac')).toEqual([6919, 8896].map(seedsAc));
    expect(source.issues).toMatchObject([{ code: 'iso-zones-not-drawn', severity: 'note' }]);
    expect(source.issues[0].found).toBe('zones without a polygon: 0 (Outside)');
  });
});

describe('files that belong together', () => {
  it.each(['', 'TASKDATA/', 'a/b/'])(
    'loose, in the folder %j, whatever order they come in',
    async (folder) => {
      const files = typeOneSeed().map((file) => ({ ...file, name: folder + file.name }));
      const { sources, issues } = await readFiles([...files].reverse());
      expect(issues).toEqual([]);
      expect(names(sources)).toEqual([
        [`${folder}TASKDATA.XML › fields`, 'polygons'],
        [`${folder}TASKDATA.XML › grid TSK1`, 'raster'],
      ]);
    },
  );
  it('in an archive, with a readme beside them', async () => {
    const { sources, issues } = await readFiles([
      taskZip([...typeOneSeed(), textFile('only words here', 'README.txt')]),
    ]);
    expect(sources.length).toBe(2);
    expect(sources[1].file).toBe('task.zip › TASKDATA/TASKDATA.XML › grid TSK1');
    expect(issues.filter(({ severity }) => severity !== 'note')).toEqual([]);
  });
  it('two task files in an archive: each takes the grids of its own folder', async () => {
    const [task, grid] = typeOneSeed();
    const bytes = zipSync({
      'a/TASKDATA.XML': task.bytes,
      'a/GRD00001.bin': grid.bytes,
      'b/TASKDATA.XML': task.bytes,
      'b/GRD00001.bin': Uint8Array.of(2, 2, 2, 2, 2, 2),
    });
    const { sources, issues } = await readFiles([{ name: 't.zip', bytes }]);
    expect(issues).toEqual([]);
    const grids = sources.filter(({ shape }) => shape === 'raster');
    expect(grids.map(({ file, columns }) => [file, column(columns, 'zone')[0]])).toEqual([
      ['t.zip › a/TASKDATA.XML › grid TSK1', 0],
      ['t.zip › b/TASKDATA.XML › grid TSK1', 2],
    ]);
  });
  it('external files are put in their place; one that is missing is told', async () => {
    const task = taskFile(`<XFR A="PDT00000" B="1"/><XFR A="FRM00000" B="1"/>${typeOneTask()}`);
    const products = textFile(`<XFC>${PRODUCTS}</XFC>`, 'PDT00000.XML');
    const { sources, issues } = await readFiles([task, products, gridFile(SIX)]);
    expect(column(sources[0].columns, 'product')[1]).toBe('Heron');
    expect(issues).toMatchObject([{ code: 'iso-external-missing', severity: 'warning' }]);
    expect(issues[0].found).toContain('FRM00000.XML');
  });
  it('an external file that is broken is refused by itself', async () => {
    const task = taskFile(`<XFR A="PDT00000" B="1"/>${typeOneTask()}`);
    const { sources, issues } = await readFiles([task, textFile('<XFC><PDT', 'PDT00000.XML'), gridFile(SIX)]);
    expect(sources.length).toBe(1);
    expect(column(sources[0].columns, 'product')[1]).toBe('PDT1');
    expect(codes(issues)).toEqual(['xml-syntax', 'iso-reference-lost']);
  });
  it('a file that nothing names is told', async () => {
    const { issues } = await readFiles([...typeOneSeed(), gridFile(SIX, 'TLG00001.bin')]);
    expect(issues).toMatchObject([{ code: 'iso-file-not-used', severity: 'note', found: 'TLG00001.bin' }]);
  });
  it('A two files of one name but for its case', async () => {
    const issue = await gridRefused([...typeOneSeed(), gridFile(SIX, 'GRD00001.BIN')]);
    expect(issue.code).toBe('iso-ambiguous');
  });
});

describe('bad task files', () => {
  it('I01 E a grid without its file: named, and the fields are still given', async () => {
    const issue = await gridRefused(withGrid(typeOneTask()));
    expect(issue.code).toBe('iso-grid-missing');
    expect(issue.found).toBe('no GRD00001.bin');
    expect(issue.where).toMatch(/^TASKDATA\.XML › grid TSK1 › line \d+$/);
  });

  it.each([
    ['type 1', typeOneTask(), 5, '6: 2 rows × 3 columns'],
    ['type 1, too long', typeOneTask(), 7, '6: 2 rows × 3 columns'],
    ['type 2', typeTwoTask(), 47, '48: 2 rows × 3 columns × 2 × 4 bytes'],
    ['type 2 that is of type 1', typeTwoTask(), 6, '48: 2 rows × 3 columns × 2 × 4 bytes'],
    ['nothing', typeOneTask(), 0, '6: 2 rows × 3 columns'],
  ])('I02 E %s: both numbers', async (_, task, length, expected) => {
    const issue = await gridRefused(withGrid(task, new Uint8Array(length)));
    expect([issue.code, issue.found, issue.expected]).toEqual([
      'iso-grid-size',
      `${length} bytes in GRD00001.bin`,
      expected,
    ]);
  });
  it('I02 W a stated length that is wrong where rows and columns fit', async () => {
    const source = await layer(withGrid(typeOneTask().replace('H="6"', 'H="22896"'), SIX), 'grid TSK1');
    expect(source.issues).toMatchObject([{ code: 'iso-grid-length-stated', severity: 'warning' }]);
  });
  it('I02 E rows and columns beyond all fields, without taking the memory', async () => {
    const task = typeOneTask(
      'A="42" B="-93.5" C="0.00001" D="0.00001" E="100000" F="100000" G="GRD00001" I="1"',
    );
    expect((await gridRefused(withGrid(task, SIX))).code).toBe('iso-grid-layout');
  });

  it('I03 E a zone the task does not have: the cell and the code', async () => {
    const issue = await gridRefused(withGrid(typeOneTask(), Uint8Array.of(0, 1, 2, 2, 9, 255)));
    expect(issue.code).toBe('iso-grid-code');
    expect(issue.where).toMatch(/ › row 2, column 2 from the south-west$/);
    expect(issue.found).toBe('zone 9, and 2 cells in all of such zones');
    expect(issue.expected).toBe('codes of the task: 0, 1, 2');
  });
  it('I03 E a code that two zones have', async () => {
    const zones = '<TZN A="1"><PDV A="000B" B="1"/></TZN><TZN A="1"><PDV A="000B" B="2"/></TZN>';
    const task = typeOneTask(undefined, zones);
    expect((await gridRefused(withGrid(task, SIX))).code).toBe('iso-zone-twice');
  });
  it('I03 W a code that is none is set aside', async () => {
    const zones = '<TZN A="300"><PDV A="000B" B="1"/></TZN><TZN A="0"><PDV A="000B" B="2"/></TZN>';
    const source = await layer(withGrid(typeOneTask(undefined, zones), new Uint8Array(6)), 'grid TSK1');
    expect(codes(source.issues)).toEqual(['iso-zone-code']);
  });
  it.each([
    ['of another code', 'J="7"'],
    ['that is not named', ''],
  ])('I03 E a grid of values for a zone %s', async (_, zone) => {
    const task = typeTwoTask()
      .replace('J="1"', zone)
      .replace('<GRD', '<TZN A="2"><PDV A="000B" B="0"/></TZN><GRD');
    expect((await gridRefused(withGrid(task, new Uint8Array(48)))).code).toBe('iso-grid-zone');
  });

  it.each(['TASKDATA.XML', 'taskdata.xml', 'TaskData.Xml', 'TASKDATA.xml'])('I04 ok %s', async (name) => {
    const [task, grid] = typeOneSeed();
    const { sources, issues } = await readFiles([
      { ...task, name },
      { ...grid, name: 'grd00001.BIN' },
    ]);
    expect(sources.length).toBe(2);
    expect(new Set(codes(issues))).toEqual(new Set(['iso-file-name-case']));
    expect(issues.length).toBe(name === 'TASKDATA.XML' ? 1 : 2);
    expect(issues.every(({ severity }) => severity === 'note')).toBe(true);
  });

  it.each([
    ['a tag left open', `${FIELD}<TSK A="TSK1">`],
    ['a bare < in a value', '<DVC B="<x>"/>'],
    ['an attribute twice', '<PFD A="PFD1" A="PFD2"/>'],
  ])('I05 E %s: with the line', async (_, content) => {
    const { sources, issues } = await readFiles([taskFile(content), gridFile(SIX)]);
    expect(sources).toEqual([]);
    expect(codes(issues)).toEqual(['xml-syntax']);
    expect(issues[0].where).toMatch(/^TASKDATA\.XML › line [345]:\d+$/);
  });
  it('I05 E a document type', async () => {
    const text = '<!DOCTYPE ISO11783_TaskData [<!ENTITY a "x">]><ISO11783_TaskData/>';
    expect(codes((await readFiles([textFile(text, 'TASKDATA.XML')])).issues)).toEqual(['xml-doctype']);
  });
  it('I05 E another root under that name', async () => {
    const { issues } = await readFiles([textFile('<?xml version="1.0"?><root/>', 'TASKDATA.XML')]);
    expect(codes(issues)).toEqual(['file-foreign']);
  });

  it.each(['2147483648', '-1', '1.5', 'many', '', '1e99', 'NaN'])('I06 E a rate of %j', async (value) => {
    const zones = `<TZN A="0"><PDV A="000B" B="${value}"/></TZN>`;
    const issue = await gridRefused(withGrid(typeOneTask(undefined, zones), new Uint8Array(6)));
    expect([issue.code, issue.expected]).toEqual(['iso-value-range', 'a whole number from 0 to 2147483647']);
    expect(issue.where).toContain('zone 0');
  });
  it('I06 E a rate under zero in a cell: what overflowed', async () => {
    const bytes = int32([0, 0, 0, 0, 0, 0, 0, 0, 0, -5, 0, 0]);
    const issue = await gridRefused(withGrid(typeTwoTask(), bytes));
    expect(issue.code).toBe('iso-value-range');
    expect(issue.where).toMatch(/ › row 2, column 2 from the south-west$/);
    expect(issue.found).toContain('-5');
  });
  it.each(['B', '0x0B', '000G', '000B0', ''])('I06 E an entity called %j', async (ddi) => {
    const zones = `<TZN A="0"><PDV A="${ddi}" B="1"/></TZN>`;
    const issue = await gridRefused(withGrid(typeOneTask(undefined, zones), new Uint8Array(6)));
    expect(issue.code).toBe('iso-ddi');
  });

  it.each([
    ['no rows', 'A="42" B="-93.5" C="0.005" D="0.0025" E="3" F="0" G="GRD00001" I="1"'],
    ['half a column', 'A="42" B="-93.5" C="0.005" D="0.0025" E="2.5" F="2" G="GRD00001" I="1"'],
    ['cells of no size', 'A="42" B="-93.5" C="0" D="0.0025" E="3" F="2" G="GRD00001" I="1"'],
    ['cells of negative size', 'A="42" B="-93.5" C="0.005" D="-1" E="3" F="2" G="GRD00001" I="1"'],
    ['no place', 'C="0.005" D="0.0025" E="3" F="2" G="GRD00001" I="1"'],
    ['a place beyond the pole', 'A="89.995" B="-93.5" C="0.005" D="0.0025" E="3" F="2" G="GRD00001" I="1"'],
    ['metres', 'A="4650000" B="458000" C="10" D="10" E="3" F="2" G="GRD00001" I="1"'],
  ])('E a grid with %s', async (_, grid) => {
    expect((await gridRefused(withGrid(typeOneTask(grid), SIX))).code).toBe('iso-grid-layout');
  });
  it('E a grid of type 3', async () => {
    const issue = await gridRefused(withGrid(typeOneTask().replace('I="1"/>', 'I="3"/>'), SIX));
    expect(issue.code).toBe('iso-grid-type');
  });
  it('W an id twice, a reference that leads nowhere, a version that is none', async () => {
    const text = `${PRODUCTS}<PDT A="PDT1" B="Other"/>${FIELD.replace('D="837362"', 'D="1" E="CTR9"')}`;
    const file = textFile(`<ISO11783_TaskData VersionMajor="9">${text}</ISO11783_TaskData>`, 'TASKDATA.XML');
    expect(codes((await readFiles([file])).issues)).toEqual([
      'iso-version',
      'iso-id-twice',
      'iso-reference-lost',
    ]);
  });
  it('W nothing inside; logs are told', async () => {
    const { sources, issues } = await readFiles([taskFile('<TSK A="TSK1" G="4"><TLG A="TLG00001"/></TSK>')]);
    expect(sources).toEqual([]);
    expect(codes(issues)).toEqual(['iso-task-without-place', 'iso-logs-not-read', 'iso-no-layers']);
  });
  it('Z01 E an archive cut short', async () => {
    const zip = taskZip(typeOneSeed());
    const { sources, issues } = await readFiles([{ ...zip, bytes: zip.bytes.subarray(0, -40) }]);
    expect([sources.length, codes(issues)]).toEqual([0, ['zip-damaged']]);
  });
  it('markup in a name is text', async () => {
    const field = FIELD.replace('North 80', '&lt;img onerror=alert(1)&gt;');
    expect(column((await layer([taskFile(field)], 'fields')).columns, 'name')).toEqual([
      '<img onerror=alert(1)>',
    ]);
  });
});

/** A schema-valid set, its expected numbers from its description: 5 × 4 cells of 0.002° by 0.0025° from 42, −93.5. */
describe.skipIf(missing('golden/iso/t1_v4'))('golden sets', () => {
  const CODES = [0, 1, 1, 2, 2, 1, 1, 2, 2, 3, 1, 2, 2, 3, 3, 2, 2, 3, 3, 0];
  const RAW = [0, 6919, 7907, 8896];
  const PRODUCT = [null, 'Hybrid A', 'Hybrid A', 'Hybrid B'];
  it.each(['t1_v3', 't1_v4'])('%s: type 1', async (set) => {
    const { sources, issues } = await readFiles(openFolder(`golden/iso/${set}`));
    expect(issues).toEqual([]);
    expect(sources.flatMap((source) => source.issues)).toEqual([]);
    expect(names(sources)).toEqual([
      ['TASKDATA.XML › fields', 'polygons'],
      ['TASKDATA.XML › grid TSK1', 'raster'],
    ]);
    const [fields, grid] = sources;
    expect(column(fields.columns, 'area m2')).toEqual([837362]);
    expect(fields.rings[0]?.length).toBe(2);
    expect(grid.raster).toEqual({ width: 5, height: 4, transform: [0.002, 0, -93.5, 0, 0.0025, 42] });
    expect(column(grid.columns, 'zone')).toEqual(CODES);
    expect(column(grid.columns, 'rate seeds/ac')).toEqual(CODES.map((code) => seedsAc(RAW[code])));
    expect(column(grid.columns, 'product')).toEqual(CODES.map((code) => PRODUCT[code]));
    // A step of the file is 4.0468564224 seeds/ac: 28,000, 32,000 and 36,000 come back within half a step.
    for (const [k, asked] of [28000, 32000, 36000].entries())
      expect(Math.abs(seedsAc(RAW[k + 1]) - asked)).toBeLessThan(2.03);
  });
  it('t2_v4: type 2, two products by turns', async () => {
    const { sources, issues } = await readFiles(openFolder('golden/iso/t2_v4'));
    expect(issues).toEqual([]);
    const { columns } = sources[1];
    const of = (product: string) => CODES.map((code) => seedsAc(PRODUCT[code] === product ? RAW[code] : 0));
    expect(column(columns, 'Hybrid A rate seeds/ac')).toEqual(of('Hybrid A'));
    expect(column(columns, 'Hybrid B rate seeds/ac')).toEqual(of('Hybrid B'));
  });
  it('tp_v4: zones drawn as polygons', async () => {
    const { sources, issues } = await readFiles(openFolder('golden/iso/tp_v4'));
    expect(issues).toEqual([]);
    expect(names(sources)[1]).toEqual(['TASKDATA.XML › zones TSK1', 'polygons']);
    expect(column(sources[1].columns, 'zone')).toEqual([1, 3]);
    expect(column(sources[1].columns, 'rate seeds/ac')).toEqual([6919, 8896].map(seedsAc));
  });
});

/** Set, fields, cells of its grid (null without one), codes of the errors and warnings. Cells come from the length of the file: n values of four bytes. */
const SETS: readonly (readonly [string, number, null | { values: number }, readonly string[]])[] = [
  ['dotnet/CodingData/Partfields', 13, null, []],
  ['dotnet/ExternalFiles/MissingExternals', 1, null, ['iso-external-missing']],
  ['dotnet/ExternalFiles/MultipleExternals', 1, null, []],
  ['dotnet/ExternalFiles/NoExternals', 1, null, []],
  ['dotnet/ExternalFiles/OneExternal', 1, null, []],
  ['dotnet/Grid/Type1', 0, null, ['iso-grid-code']],
  ['dotnet/Grid/Type1_Invalid', 0, null, ['iso-grid-size']],
  ['dotnet/Grid/Type2', 0, { values: 3 }, []],
  ['dotnet/Grid/Type2_Invalid', 0, null, ['iso-grid-size']],
  ['dotnet/Grid/Type2_ReadValue', 1, { values: 1 }, []],
  ['dotnet/IDList/Valid', 1, null, []],
  ['dotnet/IDList/WrongIds', 2, null, ['iso-reference-lost']],
  ['dotnet/LinkList/ValidLinkList', 1, null, []],
  ['dotnet/LinkList/ValidLinkList_MultipleLinks', 1, null, []],
  ['dotnet/Structure/InvalidXML', 0, null, ['xml-syntax']],
  ['dotnet/Structure/Valid_To_Extend', 1, null, []],
  ['js/duplicate-xmlid/double-xmlid/double-xmlid', 0, null, ['iso-id-twice', 'iso-no-layers']],
  ['js/grid-without-binary', 0, null, ['iso-grid-missing']],
  ['js/task_full/TASKDATA', 2, null, []],
  ['js/task_with_grid/TASKDATA', 1, { values: 1 }, []],
  ['js/task_with_warnings/TASKDATA', 2, null, []],
  ['js/test1/TASKDATA', 2, null, []],
  ['py/full_task', 2, null, []],
  ['py/grid_type_2', 1, { values: 1 }, []],
];

describe.skipIf(missing('iso11783/dotnet'))('24 sets of three libraries’ tests', () => {
  const filesOf = (set: string) =>
    openFolder(`iso11783/${set}`).filter(({ name }) => /\.(xml|bin)$/i.test(name));

  it.each(SETS)('%s', async (set, fieldCount, grid, expected) => {
    const files = filesOf(set);
    const { sources, issues } = await readFiles(files);
    expect(codes(issues.filter(({ severity }) => severity !== 'note'))).toEqual(expected);
    const fields = sources.find(({ file }) => file.endsWith(' › fields'));
    expect(fields?.records ?? 0).toBe(fieldCount);
    const raster = sources.find(({ shape }) => shape === 'raster');
    const binary = files.find(({ name }) => /^grd00001\.bin$/i.test(name));
    expect(raster?.records ?? null).toBe(grid && binary ? binary.bytes.length / 4 / grid.values : null);
    for (const { ledger } of sources) {
      const aside = Object.values(ledger.setAside).reduce((sum, n) => sum + n, 0);
      expect(ledger.used + ledger.repaired + aside).toBe(ledger.read);
    }
    // The same out of an archive.
    const zipped = await readFiles([taskZip(files)]);
    expect(codes(zipped.issues.filter(({ severity }) => severity !== 'note'))).toEqual(expected);
    expect(zipped.sources.map(({ records, columns }) => [records, columns.length])).toEqual(
      sources.map(({ records, columns }) => [records, columns.length]),
    );
  });

  it.each([
    ['py/grid_type_2', 'GRD00001.bin', 'rate l/ha', 1e-4],
    ['js/task_with_grid/TASKDATA', 'GRD00001.BIN', 'rate kg/ha', 0.01],
    ['dotnet/Grid/Type2_ReadValue', 'GRD00001.bin', 'rate kg/ha', 0.01],
  ])('%s: every cell is the file’s number in its unit', async (set, name, label, scale) => {
    const { sources } = await readFiles(filesOf(set));
    const raster = sources.find(({ shape }) => shape === 'raster');
    const buffer = Buffer.from(openData(`iso11783/${set}/${name}`).bytes);
    const values = column(raster?.columns ?? [], label);
    expect(values.length).toBe(buffer.length / 4);
    for (let cell = 0; cell < values.length; cell++)
      expect(values[cell]).toBe(buffer.readInt32LE(4 * cell) * scale);
  });

  it('a link list beside a task file is told, not refused', async () => {
    const { issues } = await readFiles(filesOf('dotnet/LinkList/ValidLinkList'));
    expect(issues.find(({ code }) => code === 'iso-file-not-used')?.found).toBe('LINKLIST.xml');
  });
  it('a grid between other files of an archive', async () => {
    const bytes = zipSync({
      'TASKDATA/TASKDATA.XML': openData('iso11783/py/grid_type_2/TASKDATA.XML').bytes,
      'TASKDATA/GRD00001.bin': openData('iso11783/py/grid_type_2/GRD00001.bin').bytes,
      'points.csv': strToU8('lon,lat\n-93.5,42\n'),
    });
    const { sources, issues } = await readFiles([{ name: 't.zip', bytes }]);
    expect(sources.map(({ shape }) => shape).sort()).toEqual(['points', 'polygons', 'raster']);
    expect(issues).toEqual([]);
  });
});

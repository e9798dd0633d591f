import { describe, expect, it } from 'vitest';
import { cellValue, type Source } from '../../src/engine/layers/source.ts';
import type { FileBytes } from '../../src/formats/file-bytes.ts';
import type { ReadOptions } from '../../src/formats/format.ts';
import { readFiles } from '../../src/formats/registry.ts';
import { dbfFile, pointContent, shpFile, textFile, WGS84_PRJ } from './small-files.ts';

const shapes = (n: number) =>
  shpFile(
    1,
    Array.from({ length: n }, (_, i) => pointContent(i, 42)),
  );
const ids = (n: number) =>
  dbfFile(
    [['ID', 'N', 2]],
    Array.from({ length: n }, (_, i) => [` ${i + 1}`]),
  );
const patched = (file: FileBytes, edit: (view: DataView) => void): FileBytes => {
  const bytes = file.bytes.slice();
  edit(new DataView(bytes.buffer));
  return { name: file.name, bytes };
};
const values = (source: Source, column = 0) =>
  Array.from({ length: source.records }, (_, i) => cellValue(source.columns[column], i));
const codes = (source: Source) => source.issues.map(({ code, severity }) => `${code} ${severity}`);

async function read(files: FileBytes[], options?: ReadOptions): Promise<Source> {
  const { sources, issues } = await readFiles([...files, WGS84_PRJ], options);
  expect(issues).toEqual([]);
  expect(sources.length).toBe(1);
  return sources[0];
}

async function refused(code: string, ...files: FileBytes[]) {
  const { sources, issues } = await readFiles([...files, WGS84_PRJ]);
  expect(sources).toEqual([]);
  expect(issues).toMatchObject([{ code, severity: 'error', where: 'a.dbf' }]);
  return issues[0];
}

/** A table of one text column of 8 bytes with these bytes in its one row. */
const letters = (bytes: number[], language = 0) =>
  dbfFile([['T', 'C', 8]], [[String.fromCharCode(...bytes).padEnd(8)]], { language });

describe('an odd table of attributes', () => {
  it('D01 of 4,294,967,295 rows by its header is refused at once', async () => {
    const started = performance.now();
    const issue = await refused(
      'dbf-truncated',
      shapes(2),
      patched(ids(2), (view) => view.setUint32(4, 0xffffffff, true)),
    );
    expect(performance.now() - started).toBeLessThan(1000);
    expect(issue).toMatchObject({ found: '72 bytes, room for 2 whole rows' });
  });

  it('D02 with fewer rows than shapes is asked about; read in order when that is stated', async () => {
    const issue = await refused('dbf-count', shapes(4), ids(2));
    expect(issue).toMatchObject({ found: '2 rows', expected: '4, one for each shape of the .shp' });
    expect(issue.remedy).toContain('state that its rows go with the shapes in order');
    const source = await read([shapes(4), ids(2)], { unmatchedRows: 'in-order' });
    expect(values(source)).toEqual([1, 2, null, null]);
    expect(source.ledger).toEqual({ read: 4, used: 4, repaired: 0, setAside: {} });
    expect(source.issues).toMatchObject([
      { code: 'dbf-count', severity: 'warning', effect: 'The last 2 shapes have no attributes' },
    ]);
  });

  it('D02 with more rows than shapes is asked about too', async () => {
    await refused('dbf-count', shapes(2), ids(4));
    const source = await read([shapes(2), ids(4)], { unmatchedRows: 'in-order' });
    expect(values(source)).toEqual([1, 2]);
    expect(source.issues[0].effect).toBe('The last 2 rows are not read');
  });

  it('D02 with a count in the header that both the size of the file and the shapes contradict is read whole', async () => {
    const source = await read([shapes(4), patched(ids(4), (view) => view.setUint32(4, 2, true))]);
    expect(values(source)).toEqual([1, 2, 3, 4]);
    expect(source.issues).toMatchObject([
      { code: 'dbf-count', severity: 'warning', found: '2 rows in the header, room for 4' },
    ]);
  });

  it('D02 cut short is asked about', async () => {
    const cut = { name: 'a.dbf', bytes: ids(4).bytes.subarray(0, 73) };
    await refused('dbf-truncated', shapes(4), cut);
    expect(values(await read([shapes(4), cut], { unmatchedRows: 'in-order' }))).toEqual([1, 2, null, null]);
  });

  it.each([0, 2, 999])(
    'D03 a row length of %i that is not the sum of the columns is refused',
    async (length) => {
      const issue = await refused(
        'dbf-record-length',
        shapes(2),
        patched(ids(2), (view) => view.setUint16(10, length, true)),
      );
      expect(issue).toMatchObject({
        found: `rows of ${length} bytes`,
        expected: '3, the sum of the columns and a mark',
      });
    },
  );

  it('D04 deleted rows are left out with their shapes, counted', async () => {
    const source = await read([
      shapes(3),
      dbfFile([['ID', 'N', 2]], [[' 1'], [' 2'], [' 3']], { deleted: [0, 2] }),
    ]);
    expect([values(source), [...source.x]]).toEqual([[2], [1]]);
    expect(source.ledger).toEqual({ read: 3, used: 1, repaired: 0, setAside: { 'deleted-row': 2 } });
    expect(codes(source)).toEqual(['deleted-row warning']);
  });

  it('D05 a repeated field name is made ID_2, told', async () => {
    const table = dbfFile(
      ['ID', 'ID', 'ID'].map((name) => [name, 'N', 1]),
      [['1', '2', '3']],
    );
    const source = await read([shapes(1), table]);
    expect(source.columns.map(({ name }) => name)).toEqual(['ID', 'ID_2', 'ID_3']);
    expect(codes(source)).toEqual(['column-renamed note']);
  });

  it('D06 columns named __proto__ and constructor are kept as data', async () => {
    const table = dbfFile(
      ['__proto__', 'constructo', 'toString'].map((name) => [name, 'N', 1]),
      [['1', '2', '3']],
    );
    const source = await read([shapes(1), table]);
    expect(source.columns.map(({ name }, i) => [name, values(source, i)[0]])).toEqual([
      ['__proto__', 1],
      ['constructo', 2],
      ['toString', 3],
    ]);
    expect(Object.keys(Object.prototype)).toEqual([]);
  });

  // Language bytes as GDAL knows them; the letters of each page from its mapping file of the Unicode Consortium.
  it.each([
    [0x01, 'code page 437', [0x81, 0xa4, 0xe1], 'üñß'],
    [0x02, 'code page 850', [0x81, 0xb5, 0xd3], 'üÁË'],
    [0x64, 'code page 852', [0x9f, 0xa5, 0xfd], 'čąř'],
    [0x65, 'code page 866', [0x8f, 0xae, 0xab, 0xa5], 'Поле'],
    [0x03, 'Windows-1252', [0xef, 0xdf, 0x80], 'ïß€'],
    [0x57, 'Windows-1252', [0xef, 0xdf], 'ïß'],
    [0xc8, 'Windows-1250', [0xe8, 0x9a], 'čš'],
    [0xc9, 'Windows-1251', [0xcf, 0xee, 0xeb, 0xe5], 'Поле'],
    [0xca, 'Windows-1254', [0xfe, 0xf0], 'şğ'],
    [0xcb, 'Windows-1253', [0xe1, 0xe3], 'αγ'],
    [0xcc, 'Windows-1257', [0xe0, 0xfe], 'ąž'],
  ])('D07 language byte %i is %s', async (language, _, bytes, text) => {
    const source = await read([shapes(1), letters(bytes, language)]);
    expect([values(source), codes(source)]).toEqual([[text], []]);
  });

  it.each([
    ['UTF-8', [0xc3, 0xaf], 'ï'],
    ['65001', [0xc3, 0xaf], 'ï'],
    ['1252', [0xef], 'ï'],
    ['ANSI 1251', [0xcf, 0xee, 0xeb, 0xe5], 'Поле'],
    ['8859_2', [0xb1], 'ą'],
    ['ISO-8859-5', [0xbf, 0xde, 0xdb, 0xd5], 'Поле'],
    ['OEM 850', [0xb5], 'Á'],
    ['CP852', [0xa5], 'ą'],
    ['437', [0xe1], 'ß'],
    ['IBM866', [0x8f], 'П'],
    ['Shift_JIS', [0x94, 0xa8], '畑'],
  ])('D07 a .cpg of %s is followed before the language byte', async (cpg, bytes, text) => {
    const source = await read([shapes(1), letters(bytes, 0xcb), textFile(cpg, 'a.cpg')]);
    expect([values(source), codes(source)]).toEqual([[text], []]);
  });

  it('D07 without any word the text is UTF-8 if valid, else Windows-1252; the guess is told and can be stated', async () => {
    expect(values(await read([shapes(1), letters([0xc3, 0xaf])]))).toEqual(['ï']);
    const guessed = await read([shapes(1), letters([0x8f, 0xae])]);
    expect(guessed.issues).toMatchObject([
      { code: 'code-page-guessed', severity: 'warning', effect: 'The text is read as windows-1252' },
    ]);
    const stated = await read([shapes(1), letters([0x8f, 0xae])], { encoding: '866' });
    expect([values(stated), codes(stated)]).toEqual([['По'], []]);
  });

  it('D08 an unknown .cpg is told, and the fallback named', async () => {
    const source = await read([shapes(1), letters([0xef]), textFile('klingon', 'a.cpg')]);
    expect(values(source)).toEqual(['ï']);
    expect(source.issues).toMatchObject([
      { code: 'code-page-guessed', severity: 'warning', effect: 'The text is read as windows-1252' },
    ]);
    expect(source.issues[0].found).toContain(`the code page 'klingon'`);
  });

  it('D09 stars, a comma and blanks in a number are not known, never 0', async () => {
    const rows = ['****', ' 1,5', '    ', '   7', '\0\0\0\0', 'abcd'].map((cell) => [cell]);
    const source = await read([shapes(6), dbfFile([['N', 'N', 4]], rows)]);
    expect(values(source)).toEqual([null, null, null, 7, null, null]);
    expect(source.issues).toMatchObject([
      { code: 'dbf-not-a-number', severity: 'warning', found: `records 2 '1,5', 6 'abcd'` },
    ]);
  });

  it('D10 a header with 263 more bytes is passed over by its stated length', async () => {
    const plain = ids(2).bytes;
    const [start, longer] = [65, new Uint8Array(plain.length + 263)];
    longer.set(plain.subarray(0, start));
    longer.set(plain.subarray(start), start + 263);
    for (const version of [0x03, 0x30]) {
      const table = patched({ name: 'a.dbf', bytes: longer }, (view) => {
        view.setUint8(0, version);
        view.setUint16(8, start + 263, true);
      });
      const source = await read([shapes(2), table]);
      expect([values(source), codes(source)]).toEqual([[1, 2], []]);
    }
  });

  it('D11 a memo column is left out, with a warning', async () => {
    const table = dbfFile(
      [
        ['NOTE', 'M', 10],
        ['ID', 'N', 2],
      ],
      [['         1', ' 7']],
    );
    const source = await read([shapes(1), table]);
    expect(source.columns.map(({ name }) => name)).toEqual(['ID']);
    expect(source.issues).toMatchObject([
      { code: 'dbf-column-not-read', severity: 'warning', found: `columns 'NOTE' (type M)` },
    ]);
  });

  it('D12 a date of zeros or blanks is not known', async () => {
    const rows = ['20261124', '00000000', '        ', '2026-1-1'].map((cell) => [cell]);
    const source = await read([shapes(4), dbfFile([['DAY', 'D', 8]], rows)]);
    expect(values(source)).toEqual(['2026-11-24', null, null, null]);
  });
});

import Papa from 'papaparse';
import { describe, expect, it } from 'vitest';
import { cellValue, type Source } from '../../src/engine/layers/source.ts';
import { readCsv } from '../../src/formats/csv/read.ts';
import { writeCsv } from '../../src/formats/csv/write.ts';
import { refusal, refusalOf, textFile } from './small-files.ts';

const column = (source: Source, name: string) => {
  const found = source.columns.find((c) => c.name === name);
  if (!found) throw new Error(`no column ${name}: ${source.columns.map((c) => c.name)}`);
  return Array.from({ length: source.records }, (_, i) => cellValue(found, i));
};
const codes = (source: Source) => source.issues.map((issue) => issue.code);
const read = (text: string) => readCsv(textFile(text));

describe('readCsv on small tables', () => {
  it('takes longitude and latitude for points in WGS 84', () => {
    const source = read('Longitude,Lat.,Yield\n-93.5,42,180.5\n-93.6,42.1,\n');
    expect(source).toMatchObject({ shape: 'points', records: 2, crs: { code: 'EPSG:4326' } });
    expect([...source.x]).toEqual([-93.5, -93.6]);
    expect([...source.y]).toEqual([42, 42.1]);
    expect(column(source, 'Yield')).toEqual([180.5, null]);
    expect(source.ledger).toEqual({ read: 2, used: 2, repaired: 0, setAside: {} });
    expect(source.issues).toEqual([]);
  });

  it('leaves eastings without a system, and says so', () => {
    const source = read('easting,northing,v\n455000.5,4650000,1\n455010,4650010,2\n');
    expect(source.shape).toBe('points');
    expect(source.crs).toBeNull();
    expect(codes(source)).toEqual(['crs-missing']);
  });

  it('takes the system given for eastings', () => {
    const crs = { code: 'EPSG:32615', name: 'UTM 15N', proj4: '+proj=utm +zone=15' };
    const source = readCsv(textFile('easting,northing\n455000.5,4650000\n'), { crs });
    expect(source.crs).toBe(crs);
    expect(source.issues).toEqual([]);
  });

  it('reads a table without coordinates, and one whose x and y count plots', () => {
    expect(read('gen,pop,yield\nA,2,1.1\nB,4,1.7\n').shape).toBe('table');
    expect(read('x,y,yield\n1,1,1.1\n2,1,1.7\n').shape).toBe('table');
  });

  it('never takes a blank or a word for missing as zero', () => {
    const source = read('a,b\n1,x\n,y\nN/A,NA\nNaN,-\n-,n/a\n2,z\n');
    expect(column(source, 'a')).toEqual([1, null, null, null, null, 2]);
    expect(column(source, 'b')).toEqual(['x', 'y', null, null, null, 'z']);
  });

  it('keeps ids as text: 007 makes the column text, 1e5 and 0x1F among words stay as written', () => {
    const source = read('id,mark,n\n007,A1,1\n8,1e5,2\n9,0x1F,3\n');
    expect(column(source, 'id')).toEqual(['007', '8', '9']);
    expect(column(source, 'mark')).toEqual(['A1', '1e5', '0x1F']);
    expect(column(source, 'n')).toEqual([1, 2, 3]);
  });

  it('counts words in a column of numbers and takes them as not known', () => {
    const lines = Array.from({ length: 40 }, (_, i) => (i === 7 ? 'bad,2' : `${i},2`));
    const source = read(`a,b\n${lines.join('\n')}`);
    expect(column(source, 'a')[7]).toBeNull();
    expect(source.issues).toMatchObject([{ code: 'csv-not-a-number', found: "line 9 'bad'" }]);
  });

  it('takes a column that begins with a word for numbers where no more than one cell in twenty is one', () => {
    const spilled = (numbers: number) => {
      const rows = Array.from({ length: numbers }, (_, i) => `${i},${i}.5,"a\nb"`);
      return read(`plot,dose,said\n7,spill,"a\nb"\n${rows.join('\n')}`);
    };
    const source = spilled(19);
    expect(column(source, 'dose').slice(0, 3)).toEqual([null, 0.5, 1.5]);
    expect(source.issues).toMatchObject([{ code: 'csv-not-a-number', found: "line 2 'spill'" }]);
    expect(column(spilled(18), 'dose').slice(0, 3)).toEqual(['spill', '0.5', '1.5']);
  });

  it('follows RFC 4180 quotes: delimiters, doubled quotes and line ends inside', () => {
    const source = read('name,v\r\n"a,b",1\r\n"say ""hi""",2\r\n"two\r\nlines",3\r\n5" pipe,4');
    expect(column(source, 'name')).toEqual(['a,b', 'say "hi"', 'two\r\nlines', '5" pipe']);
    expect(column(source, 'v')).toEqual([1, 2, 3, 4]);
  });

  it('sets ragged rows and broken quotes aside, naming their lines; the account closes', () => {
    const source = read('a,b\nshort\n1,2\n3\n4,5,6\n"x"y,1\n\n7,8\n9,9\n0,0\n');
    expect(column(source, 'a')).toEqual([1, 7, 9, 0]);
    expect(source.ledger).toEqual({
      read: 8,
      used: 4,
      repaired: 0,
      setAside: { 'ragged-row': 3, 'malformed-quote': 1 },
    });
    expect(source.issues.map((issue) => issue.found)).toEqual(['lines 2, 4, 5', 'line 6']);
  });

  it.each([
    [';', 'x;y;v\n-93,5;42,1;3\n-93,6;42,2;4,25\n'],
    ['\t', 'x\ty\tv\n-93,5\t42,1\t3\n-93,6\t42,2\t4,25\n'],
    ['|', 'x|y|v\n-93,5|42,1|3\n-93,6|42,2|4,25\n'],
  ])('finds the delimiter %j and the decimal comma', (_, text) => {
    const source = read(text);
    expect([...source.x]).toEqual([-93.5, -93.6]);
    expect(column(source, 'v')).toEqual([3, 4.25]);
    expect(codes(source)).toEqual(['csv-decimal-comma']);
  });

  it('warns when every comma could part thousands', () => {
    expect(codes(read('id;rate\n1;32,000\n2;34,500\n'))).toEqual(['csv-thousands-or-decimals']);
  });

  it('steps over a preamble and a row of units, with a note on each', () => {
    const source = read(
      'Harvest report\nFarm, invented\n\nlon,lat,yield\ndeg,deg,bu/ac\n-93.5,42,180\n-93.4,42,170\n',
    );
    expect(source.records).toBe(2);
    expect(codes(source)).toEqual(['csv-preamble', 'csv-units-row']);
    expect(source.issues[1].found).toContain('yield: bu/ac');
  });

  it('names the columns of a table without a header, or takes the names given', () => {
    const text = '85|90|"Coland"\n5|10|"Zook"\n';
    expect(read(text).columns.map((c) => c.name)).toEqual(['column1', 'column2', 'column3']);
    expect(codes(read(text))).toEqual(['csv-no-header']);
    const named = readCsv(textFile(text), { columns: ['low', 'high', 'compname'] });
    expect(column(named, 'compname')).toEqual(['Coland', 'Zook']);
    expect(named.issues).toEqual([]);
    expect(refusalOf(() => readCsv(textFile(text), { columns: ['low'] }))).toBe('csv-no-table');
  });

  it('keeps columns named __proto__ and constructor, and renames a repeated one', () => {
    const source = read('__proto__,constructor,ID,ID,\n1,2,3,4,5\n');
    expect(source.columns.map((c) => c.name)).toEqual(['__proto__', 'constructor', 'ID', 'ID_2', 'column5']);
    expect(codes(source)).toEqual(['column-renamed']);
  });

  it('reads UTF-16, a byte-order mark and Windows-1252', () => {
    const utf16 = new Uint8Array([
      0xff,
      0xfe,
      ...[...'n,v\nmaïs,1\n'].flatMap((c) => [c.charCodeAt(0) & 255, 0]),
    ]);
    expect(column(readCsv({ name: 'a.csv', bytes: utf16 }), 'n')).toEqual(['maïs']);
    expect(column(read('\ufeffn,v\nmaïs,1\n'), 'n')).toEqual(['maïs']);
    const latin = readCsv({
      name: 'a.csv',
      bytes: Uint8Array.from('n,v\nma\xefs,1\n', (c) => c.charCodeAt(0)),
    });
    expect(column(latin, 'n')).toEqual(['maïs']);
    expect(codes(latin)).toEqual(['code-page-guessed']);
  });

  it('keeps a row without a position, set aside with its reason', () => {
    const rows = Array.from({ length: 30 }, (_, i) => `-93.${10 + i},42.5,${i}`);
    const source = read(`lon,lat,v\n${rows.join('\n')}\n,42,7\n-935,42,8\n`);
    expect(source.records).toBe(32);
    expect(source.x[30]).toBeNaN();
    expect(source.y[30]).toBeNaN();
    expect(source.ledger).toEqual({
      read: 32,
      used: 30,
      repaired: 0,
      setAside: { 'no-geometry': 1, 'position-out-of-range': 1 },
    });
  });

  it('notices latitude and longitude in each other’s place', () => {
    const source = read('lat,lon\n-93.5,42\n-93.6,42\n');
    expect(source.crs).toBeNull();
    expect(source.issues).toMatchObject([{ code: 'lon-lat-swapped', severity: 'error' }]);
  });

  it('warns of a header with nothing under it', () => {
    expect(codes(read('a,b,c\n'))).toEqual(['empty-layer']);
  });
});

describe('readCsv refuses', () => {
  it('a quote that is never closed, with the line it opened on', () => {
    const found = refusal(() => read('a,b\n1,2\n3,"x\n4,5\n6,7\n'));
    expect(found?.issue).toMatchObject({ code: 'csv-unclosed-quote', where: 'table.csv › line 3' });
  });
  it('a zero byte', () => expect(refusalOf(() => read('a,b\n1,\0\n'))).toBe('csv-binary'));
  it('prose', () =>
    expect(refusalOf(() => read('Dear all\nthe files come later\nbye\n'))).toBe('csv-no-table'));
  it('blank lines only', () => expect(refusalOf(() => read('\n\n  \n'))).toBe('csv-no-table'));
  it('more columns than a table can mean', () => {
    expect(refusalOf(() => read(`${Array(3000).fill('a').join(',')}\n`))).toBe('csv-no-table');
  });
});

// Second reader: papaparse 5.7.1.
describe('readCsv against papaparse', () => {
  it('gives the same cells for quoted text', () => {
    const text = 'a,b,c\n"x, y",1.5,"q ""z"""\nplain,-2,"line\nend"\n"",3,last';
    const source = read(text);
    const other = Papa.parse<Record<string, string>>(text, { header: true }).data;
    other.forEach((row, i) => {
      for (const name of ['a', 'b', 'c']) expect(String(column(source, name)[i] ?? '')).toBe(row[name]);
    });
  });
});

describe('writeCsv', () => {
  it('quotes by RFC 4180 and ends rows with CRLF', () => {
    const text = new TextDecoder().decode(
      writeCsv([
        ['a', 'b,c', 'say "x"', 1.5, -0],
        ['', 'two\nlines', '-5', 0, 7],
      ]),
    );
    expect(text).toBe('a,"b,c","say ""x""",1.5,0\r\n,"two\nlines",-5,0,7\r\n');
  });
  it('guards text that a spreadsheet would run', () => {
    for (const cell of ['=1+1', '+cmd', '-x', '@sum', '\tx', '＝1', '-1+2']) {
      expect(new TextDecoder().decode(writeCsv([[cell]]))).toBe(`"'${cell}"\r\n`);
    }
  });
  it('refuses what is no number', () => {
    expect(refusalOf(() => writeCsv([[Number.NaN]]))).toBe('export-refused');
    expect(refusalOf(() => writeCsv([[Number.POSITIVE_INFINITY]]))).toBe('export-refused');
  });
  it('is read back the same by papaparse', () => {
    const rows = [
      ['a', 'x,y', 'q"q'],
      ['1', '', 'two\r\nlines'],
    ];
    expect(Papa.parse(new TextDecoder().decode(writeCsv(rows)).trimEnd()).data).toEqual(rows);
  });
});

import { describe, expect, it } from 'vitest';
import { crsFromEpsg } from '../../src/engine/geodesy/crs.ts';
import { cellValue, type Source } from '../../src/engine/layers/source.ts';
import { degreesFromText } from '../../src/formats/csv/degrees-text.ts';
import type { FileBytes } from '../../src/formats/file-bytes.ts';
import type { ReadOptions } from '../../src/formats/format.ts';
import { readFiles } from '../../src/formats/registry.ts';
import { textFile } from './small-files.ts';

const asFile = (text: string | FileBytes) => (typeof text === 'string' ? textFile(text, 'a.csv') : text);

async function read(text: string | FileBytes, options?: ReadOptions): Promise<Source> {
  const { sources, issues } = await readFiles([asFile(text)], options);
  expect(issues).toEqual([]);
  expect(sources.length).toBe(1);
  const { read, used, repaired, setAside } = sources[0].ledger;
  expect(used + repaired + Object.values(setAside).reduce((sum, n) => sum + n, 0)).toBe(read);
  return sources[0];
}

async function refused(text: string | FileBytes, code: string, where = 'a.csv') {
  const { sources, issues } = await readFiles([asFile(text)]);
  expect(sources).toEqual([]);
  expect(issues).toMatchObject([{ code, severity: 'error', where }]);
  return issues[0];
}

const column = (source: Source, name: string) => {
  const found = source.columns.find((own) => own.name === name);
  if (!found) throw new Error(`no column ${name}: ${source.columns.map((own) => own.name)}`);
  return Array.from({ length: source.records }, (_, i) => cellValue(found, i));
};
const codes = (source: Source) => source.issues.map(({ code, severity }) => `${code} ${severity}`);
const latin1 = (text: string): FileBytes => ({
  name: 'a.csv',
  bytes: Uint8Array.from(text, (c) => c.charCodeAt(0)),
});

describe('an odd text table', () => {
  it.each(['utf-16le', 'utf-16be', 'utf-8'])(
    'C01 in %s with a byte-order mark is decoded',
    async (encoding) => {
      const text = '\ufeffname,v\nmaïs,1\n';
      const wide = Uint8Array.from([...text].flatMap((c) => [c.charCodeAt(0) & 255, c.charCodeAt(0) >> 8]));
      const bytes =
        encoding === 'utf-8'
          ? new TextEncoder().encode(text)
          : encoding === 'utf-16le'
            ? wide
            : wide.map((_, i) => wide[i ^ 1]);
      const source = await read({ name: 'a.csv', bytes });
      expect([column(source, 'name'), codes(source)]).toEqual([['maïs'], []]);
    },
  );

  it.each(['utf-16le', 'utf-16be'])('C01 in %s without a mark is decoded', async (encoding) => {
    // Node's own writer of UTF-16; a dash and a sign of money have no zero byte.
    const wide = Buffer.from('name,v (€)\nmaïs – grain,1\ntrigo,2\n', 'utf16le');
    const bytes = Uint8Array.from(encoding === 'utf-16le' ? wide : wide.swap16());
    const source = await read({ name: 'a.csv', bytes });
    expect(source.columns.map(({ name }) => name)).toEqual(['name', 'v (€)']);
    expect([column(source, 'name'), column(source, 'v (€)')]).toEqual([
      ['maïs – grain', 'trigo'],
      [1, 2],
    ]);
    expect(codes(source)).toEqual([]);
  });

  it('C01 and small whole numbers of two bytes, half of them zero, are no text', async () => {
    const bytes = Uint8Array.from({ length: 200 }, (_, i) => (i % 2 === 0 ? 1 + (i % 40) : 0));
    await refused({ name: 'a.csv', bytes }, 'csv-binary', 'a.csv › byte 0');
  });

  it('C02 with semicolons and decimal commas is read as numbers, told', async () => {
    const source = await read('x;y;v\n-93,5;42,125;3\n-93,75;42,25;4,5\n');
    expect([[...source.x], column(source, 'v'), codes(source)]).toEqual([
      [-93.5, -93.75],
      [3, 4.5],
      ['csv-decimal-comma note'],
    ]);
  });

  it('C03 with tabs and decimal commas too', async () => {
    const source = await read('x\ty\tv\n-93,5\t42,125\t3\n-93,75\t42,25\t4,5\n');
    expect([[...source.x], codes(source)]).toEqual([[-93.5, -93.75], ['csv-decimal-comma note']]);
  });

  it('C04 with lines before the header finds it, and asks; the line can be stated', async () => {
    const text = 'Harvest of an invented farm\nprinted, in autumn\n\nlon,lat,v\n-93.5,42,1\n-93.6,42,2\n';
    const source = await read(text);
    expect([source.records, column(source, 'v')]).toEqual([2, [1, 2]]);
    expect(source.issues).toMatchObject([
      { code: 'csv-preamble', severity: 'warning', found: '3 lines before the table' },
    ]);
    expect(source.issues[0].remedy).toContain('State the line of the header');
    expect(codes(await read(text, { headerLine: 4 }))).toEqual([]);
    // Without help, lines as wide as the table pass for it.
    const wide = 'site,operator,day\nHome,A. Nobody,Monday\nlon,lat,v\n-93.5,42,1\n-93.6,42,2\n';
    expect((await read(wide, { headerLine: 3 })).columns.map(({ name }) => name)).toEqual([
      'lon',
      'lat',
      'v',
    ]);
    const { issues } = await readFiles([textFile(wide, 'a.csv')], { headerLine: 99 });
    expect(issues).toMatchObject([{ code: 'csv-no-table', found: 'no line 99' }]);
  });

  it('C05 without a header asks for the names, and takes those stated', async () => {
    const text = '-93.5,42,180\n-93.6,42,190\n';
    const source = await read(text);
    expect(source).toMatchObject({ shape: 'table', records: 2 });
    expect(source.issues).toMatchObject([
      { code: 'csv-no-header', severity: 'warning', remedy: 'Add a header row or give the column names' },
    ]);
    const named = await read(text, { columns: ['lon', 'lat', 'yield'] });
    expect([named.shape, [...named.x], codes(named)]).toEqual(['points', [-93.5, -93.6], []]);
  });

  it('C06 with a quote that swallows the file is refused with the line it opened on', async () => {
    const rows = Array.from({ length: 500 }, (_, i) => `${i},x`);
    rows[100] = '100,"x';
    await refused(`a,b\n${rows.join('\n')}\n`, 'csv-unclosed-quote', 'a.csv › line 102');
  });

  it('C07 with ragged rows sets them aside, listed by line', async () => {
    const source = await read('a,b\n1,2\n3\n4,5,6\n7,8\n9,9\n');
    expect(column(source, 'a')).toEqual([1, 7, 9]);
    expect(source.ledger).toEqual({ read: 5, used: 3, repaired: 0, setAside: { 'ragged-row': 2 } });
    expect(source.issues).toMatchObject([{ code: 'ragged-row', severity: 'warning', found: 'lines 3, 4' }]);
  });

  it('C08 with a header twice renames the second, told', async () => {
    const source = await read('ID,ID,v\n1,2,3\n');
    expect([source.columns.map(({ name }) => name), codes(source)]).toEqual([
      ['ID', 'ID_2', 'v'],
      ['column-renamed note'],
    ]);
  });

  it('C09 with a header of __proto__ keeps it as data', async () => {
    const source = await read('__proto__,constructor,toString\n1,2,3\n4,5,6\n');
    expect([column(source, '__proto__'), column(source, 'constructor'), codes(source)]).toEqual([
      [1, 4],
      [2, 5],
      [],
    ]);
    expect(Object.keys(Object.prototype)).toEqual([]);
  });

  describe('C10 with 32,000', () => {
    const ASKED = 'csv-thousands-or-decimals warning';
    it('between quotes asks once for each column, and uses none as a number until told', async () => {
      const text = 'id,rate,price,v\n1,"32,000","1,250",1\n2,"34,500","950",2\n3,"31,000","1,100",3\n';
      const source = await read(text);
      expect(codes(source)).toEqual([ASKED, ASKED]);
      expect(source.issues.map(({ where, found }) => [where, found])).toEqual([
        ['a.csv › rate', 'numbers such as 32,000'],
        ['a.csv › price', 'numbers such as 1,250'],
      ]);
      expect(column(source, 'rate')).toEqual(['32,000', '34,500', '31,000']);
      const thousands = await read(text, { commas: { rate: 'thousands', price: 'decimals' } });
      expect([column(thousands, 'rate'), column(thousands, 'price'), codes(thousands)]).toEqual([
        [32000, 34500, 31000],
        [1.25, 950, 1.1],
        [],
      ]);
    });
    it('beside 1,234,567 or 32,000.5 is in thousands, told', async () => {
      const source = await read('a,b\n"1,234,567","32,000.5"\n"32,000","1,000"\n950,7\n');
      expect([column(source, 'a'), column(source, 'b'), codes(source)]).toEqual([
        [1234567, 32000, 950],
        [32000.5, 1000, 7],
        ['csv-thousands note', 'csv-thousands note'],
      ]);
    });
    it('between semicolons asks where nothing else proves decimal commas', async () => {
      const text = 'id;rate\n1;32,000\n2;34,500\n';
      const source = await read(text);
      expect([codes(source), column(source, 'rate')]).toEqual([[ASKED], ['32,000', '34,500']]);
      expect(column(await read(text, { commas: { rate: 'thousands' } }), 'rate')).toEqual([32000, 34500]);
      expect(column(await read(text, { commas: { rate: 'decimals' } }), 'rate')).toEqual([32, 34.5]);
    });
    it('beside proven decimal commas is taken for decimals, and asked about', async () => {
      const source = await read('lon;lat;rate;v\n-93,512;42,125;32,000;1,5\n-93,513;42,126;34,500;2\n');
      expect([[...source.x], column(source, 'rate'), codes(source)]).toEqual([
        [-93.512, -93.513],
        [32, 34.5],
        ['csv-decimal-comma note', ASKED],
      ]);
    });
    it('of a whole column is judged by its last row too', async () => {
      const rows = Array.from({ length: 200 }, (_, i) => `${i};32,${100 + i};1,5`);
      rows.push('200;32,25;2');
      expect(codes(await read(`id;rate;v\n${rows.join('\n')}\n`))).toEqual(['csv-decimal-comma note']);
    });
  });

  it('C11 keeps ids as text: 007, 1e5 and 0x1F among words', async () => {
    const source = await read('id,mark,n\n007,A1,1\n8,1e5,2\n9,0x1F,3\n');
    expect([column(source, 'id'), column(source, 'mark'), column(source, 'n')]).toEqual([
      ['007', '8', '9'],
      ['A1', '1e5', '0x1F'],
      [1, 2, 3],
    ]);
  });

  it('C12 with blanks and words for nothing has them not known, never 0', async () => {
    const words = ['', ' ', 'NA', 'N/A', 'NaN', '-', 'null', '#N/A'];
    const source = await read(`id,v\n0,5\n${words.map((word, i) => `${i},${word}`).join('\n')}\n9,0\n`);
    expect(column(source, 'v')).toEqual([5, ...words.map(() => null), 0]);
  });

  it('C13 that is binary is refused and named where it can be', async () => {
    await refused(latin1('lon,lat\n-93.5,42\0\n'), 'csv-binary', 'a.csv › byte 16');
    expect((await refused(latin1('\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1'), 'file-foreign')).found).toBe(
      'an old spreadsheet or office document',
    );
    expect((await refused(latin1('PAR1\x15\x04'), 'file-foreign')).found).toBe(
      'a Parquet or FlatGeobuf file',
    );
  });

  it('C14 with a row of units has them as the units of its columns', async () => {
    const source = await read('lon,lat,Yield,Name\ndeg,deg,bu/ac,\n-93.5,42,180,A\n-93.6,42,175,B\n');
    expect(source.records).toBe(2);
    expect(source.columns.map((own) => [own.name, own.kind === 'number' ? own.unit : null])).toEqual([
      ['lon', 'deg'],
      ['lat', 'deg'],
      ['Yield', 'bu/ac'],
      ['Name', null],
    ]);
    expect(codes(source)).toEqual(['csv-units-row note']);
    const plain = await read('lon,lat,Yield\n-93.5,42,180\n');
    expect(plain.columns.map((own) => 'unit' in own)).toEqual([false, false, false]);
  });

  it('C15 of one line of 60 MB is refused without taking much more memory', async () => {
    const bytes = new Uint8Array(60 * 2 ** 20).fill(0x41);
    const before = process.memoryUsage();
    const issue = await refused({ name: 'a.csv', bytes }, 'csv-row-too-long', 'a.csv › line 1');
    expect(issue.found).toBe(`a row of ${bytes.length} bytes`);
    const cells = bytes.fill(0x2c);
    await refused({ name: 'a.csv', bytes: cells }, 'csv-row-too-long', 'a.csv › line 1');
    const after = process.memoryUsage();
    expect(after.arrayBuffers + after.heapUsed - before.arrayBuffers - before.heapUsed).toBeLessThan(
      60 * 2 ** 20,
    );
  });

  describe('C16 with positions', () => {
    // 42°3.5′ = 42 + 3.5/60; 93°30′15.5″ = 93 + 30/60 + 15.5/3600.
    it.each([
      ['N42 03.5', 'lat', 42 + 3.5 / 60],
      ['42 03.5 N', 'lat', 42 + 3.5 / 60],
      ["42°03.5'S", 'lat', -(42 + 3.5 / 60)],
      ['42º 3′ 30″ N', 'lat', 42 + 3.5 / 60],
      ['42d03m30N', 'lat', 42 + 3.5 / 60],
      ['42:03:30', 'lat', 42 + 3.5 / 60],
      ['42 3,5 N', 'lat', 42 + 3.5 / 60],
      ['42.05N', 'lat', 42.05],
      ['W093 30 15.5', 'lon', -(93 + 30 / 60 + 15.5 / 3600)],
      ['93°30\'15.5" W', 'lon', -(93 + 30 / 60 + 15.5 / 3600)],
      ["93°30'15.5'' E", 'lon', 93 + 30 / 60 + 15.5 / 3600],
      ['-93 30 15.5', 'lon', -(93 + 30 / 60 + 15.5 / 3600)],
      ['−93 30.25', 'lon', -(93 + 30.25 / 60)],
    ] as const)('such as %s', (text, axis, degrees) => {
      expect(Math.abs(degreesFromText(text, axis) - degrees)).toBeLessThan(1e-12);
    });
    it.each([
      ['42 60 N', 'lat'],
      ['42 03 60 N', 'lat'],
      ['91 00 N', 'lat'],
      ['42 03.5 W', 'lat'],
      ['N42 03.5 N', 'lat'],
      ['-42 03.5 N', 'lat'],
      ['42.5 03 N', 'lat'],
      ['42 03.5 10 N', 'lat'],
      ['4203.5N', 'lat'],
      ['181 00 E', 'lon'],
      ['north', 'lat'],
      ['', 'lat'],
    ] as const)('not such as %j', (text, axis) => expect(degreesFromText(text, axis)).toBeNaN());

    it('in degrees and minutes reads them, told', async () => {
      const source = await read('Latitude,Longitude,v\nN42 03.5,W93 30.25,1\nN42 03.6,W93 30.2,2\n,,3\n');
      expect(source).toMatchObject({ shape: 'points', crs: { code: 'EPSG:4326' } });
      expect(source.y[0]).toBeCloseTo(42 + 3.5 / 60, 12);
      expect(source.x[1]).toBeCloseTo(-(93 + 30.2 / 60), 12);
      expect(source.ledger.setAside).toEqual({ 'no-geometry': 1 });
      expect(codes(source)).toEqual([
        'position-notation note',
        'position-notation note',
        'no-geometry warning',
      ]);
    });
    it('in words that cannot be read says so and gives a plain table', async () => {
      const source = await read('lat,lon,v\nhere,there,1\nhere,there,2\n');
      expect([source.shape, codes(source)]).toEqual([
        'table',
        ['positions-unreadable warning', 'positions-unreadable warning'],
      ]);
    });
    it.each([
      ['longitud,latitud'],
      ['Longitude,Latitude'],
      ['x,y'],
      ['Längengrad,Breitengrad'],
      ['geogr. Länge,geogr. Breite'],
      ['Coordenada X,Coordenada Y'],
    ])('in columns named %s', async (names) => {
      const source = await read(`${names},v\n-93.5,42.25,1\n`);
      expect([source.shape, source.x[0], source.y[0]]).toEqual(['points', -93.5, 42.25]);
    });
    it.each([['Este,Norte'], ['Leste,Norte'], ['Est,Nord'], ['Rechtswert,Hochwert'], ['UTM_E,UTM_N']])(
      'in metres named %s asks for their system',
      async (names) => {
        const source = await read(`${names},v\n455000.5,4650000.25,1\n`);
        expect([source.shape, source.crs, codes(source)]).toEqual(['points', null, ['crs-missing warning']]);
      },
    );

    it.each([
      ['Easting,Northing,Zone\n455000,4650000,15N\n455010,4650010,15N\n', 'EPSG:32615'],
      ['Easting,Northing,UTM zone\n455000,4650000,UTM 15T\n455010,4650010,15 T\n', 'EPSG:32615'],
      ['Este,Norte,Huso\n455000,6150000,20H\n455010,6150010,20H\n', 'EPSG:32720'],
      ['Easting_15N,Northing_15N\n455000,4650000\n455010,4650010\n', 'EPSG:32615'],
      ['UTM 22S Easting,UTM 22S Northing\n455000,7450000\n455010,7450010\n', 'EPSG:32722'],
    ])('in a UTM zone the table names: %j', async (text, code) => {
      const source = await read(text);
      expect([source.crs?.code, source.x[0]]).toEqual([code, 455000]);
      expect(codes(source)).toContain('utm-datum-assumed warning');
    });
    it('in two UTM zones brings them to longitude and latitude', async () => {
      // A zone's central meridian has easting 500,000 m; the equator northing 0: zone 15 lies about 93° west, zone 16 about 87°.
      const source = await read('easting,northing,zone\n500000,0,15N\n500000,0,16N\n,,\n');
      expect(source.crs?.code).toBe('EPSG:4326');
      expect([source.x[0], source.y[0], source.x[1]].map((v) => Math.round(v * 1e9) / 1e9 + 0)).toEqual([
        -93, 0, -87,
      ]);
    });
    it('in a UTM zone without a hemisphere asks, and takes the system given', async () => {
      const text = 'UTM 15 Easting,UTM 15 Northing\n455000,4650000\n455010,4650010\n';
      const asked = await read(text);
      expect([asked.crs, codes(asked)]).toEqual([null, ['crs-missing warning']]);
      expect(asked.issues[0].found).toContain('does not tell the hemisphere');
      const crs = crsFromEpsg(26915);
      if (!crs) throw new Error('no EPSG:26915');
      expect((await read(text, { crs })).crs?.code).toBe('EPSG:26915');
      // An S may be the south or the band from 32 to 40 degrees north.
      expect((await read('easting,northing,zone\n455000,4000000,15S\n')).crs).toBeNull();
      // Numbers under `zone` may be management zones.
      expect((await read('easting,northing,zone\n455000,4650000,3\n')).crs).toBeNull();
    });
    it('keeps dates and times as text', async () => {
      const source = await read(
        'lon,lat,date,time\n-93.5,42,2026-11-24,10:31:05\n-93.6,42,2026-11-24,10:31:06\n',
      );
      expect([column(source, 'date')[0], column(source, 'time')[1]]).toEqual(['2026-11-24', '10:31:06']);
    });
  });
});

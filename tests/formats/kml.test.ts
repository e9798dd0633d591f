import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { strToU8, zipSync } from 'fflate';
import type { Gdal } from 'gdal3.js/node.js';
import { beforeAll, describe, expect, it } from 'vitest';
import { type Column, cellValue } from '../../src/engine/layers/source.ts';
import { random } from '../../src/engine/math/random.ts';
import type { FileBytes } from '../../src/formats/file-bytes.ts';
import { readFiles } from '../../src/formats/registry.ts';
import { asShapefile, openGdal } from '../real/open-fields.ts';
import { textFile } from './small-files.ts';
import { HOLE, kmlFile, kmlPoint, kmlPolygon, kmlSeed, kmzSeed, placemark, SQUARE } from './xml-seeds.ts';

const codes = (issues: readonly { code: string }[]) => issues.map(({ code }) => code);

/** The only layer of a file that reads without a word outside it. */
async function layer(...files: FileBytes[]) {
  const { sources, issues } = await readFiles(files);
  expect(issues).toEqual([]);
  expect(sources.length).toBe(1);
  return sources[0];
}

/** The only issue of a file that gives no layer. */
async function refused(...files: FileBytes[]) {
  const { sources, issues } = await readFiles(files);
  expect(sources).toEqual([]);
  expect(issues.length).toBe(1);
  for (const part of Object.values(issues[0])) expect(part).not.toBe('');
  return issues[0];
}

const column = (columns: readonly Column[], name: string) => {
  const found = columns.find((own) => own.name === name);
  if (!found) throw new Error(`no column ${name}`);
  return Array.from({ length: found.kind === 'text' ? found.codes.length : found.values.length }, (_, row) =>
    cellValue(found, row),
  );
};

const POINT = placemark(kmlPoint('-93.5,42'));

describe('KML', () => {
  it('a polygon with a hole: rings as drawn, the repeated corner left out, WGS 84', async () => {
    const source = await layer(kmlFile(placemark('<name>North</name>', kmlPolygon(SQUARE, HOLE))));
    expect(source).toMatchObject({ file: 'a.kml', format: 'kml', shape: 'polygons', records: 1 });
    expect(source.crs?.code).toBe('EPSG:4326');
    expect(source.rings[0]?.map((ring) => [...ring])).toEqual([
      SQUARE.slice(0, 4).flat(),
      HOLE.slice(0, 4).flat(),
    ]);
    expect(column(source.columns, 'name')).toEqual(['North']);
    expect(source.ledger).toEqual({ read: 1, used: 1, repaired: 0, setAside: {} });
    expect(source.issues).toEqual([]);
  });

  it('polygons and points in one file are two layers, each accounted for', async () => {
    const { sources, issues } = await readFiles([kmlSeed()]);
    expect(issues).toEqual([]);
    expect(sources.map(({ file, shape, records }) => [file, shape, records])).toEqual([
      ['a.kml › polygons', 'polygons', 1],
      ['a.kml › points', 'points', 2],
    ]);
    expect(sources[0].ledger).toEqual({
      read: 2,
      used: 1,
      repaired: 0,
      setAside: { 'geometry-not-used': 1 },
    });
    expect(sources[1].ledger).toEqual({ read: 2, used: 2, repaired: 0, setAside: {} });
    expect([[...sources[1].x], [...sources[1].y]]).toEqual([
      [-93.5, -93.4],
      [42, 42.1],
    ]);
    expect(column(sources[0].columns, 'YIELD')).toEqual([182.5]);
    expect(column(sources[0].columns, 'CODE')).toEqual(['007']);
    expect(column(sources[0].columns, 'description')).toEqual(['<b>80</b> acres']);
    expect(column(sources[1].columns, 'name')).toEqual(['Gate & well', null]);
    expect(column(sources[1].columns, 'depth')).toEqual([null, 1.5]);
  });

  it('nested MultiGeometry: all polygons of a placemark are one record', async () => {
    const nested = `<MultiGeometry>${kmlPolygon(SQUARE)}<MultiGeometry>${kmlPolygon(HOLE)}</MultiGeometry></MultiGeometry>`;
    const source = await layer(kmlFile(placemark(nested)));
    expect(source.rings[0]?.length).toBe(2);
  });

  it('every placemark, in folders in folders, under any prefix and any namespace', async () => {
    const text = `<k:kml xmlns:k="http://earth.google.com/kml/2.1"><k:Folder><k:Folder>${POINT.replace(/<(\/?)/g, '<$1k:')}</k:Folder></k:Folder></k:kml>`;
    expect((await layer(textFile(text, 'b.kml'))).records).toBe(1);
    expect((await layer(textFile(`<kml>${POINT}</kml>`, 'c.kml'))).records).toBe(1);
  });

  it('numbers are numbers when all are, ids stay text, blanks are not zero', async () => {
    const data = (a: string, b: string) =>
      placemark(
        `<ExtendedData><Data name="v"><value>${a}</value></Data><Data name="id"><value>${b}</value></Data></ExtendedData>`,
        kmlPoint('1,2'),
      );
    const { columns } = await layer(kmlFile(data('1.5', '007') + data('', '12') + data('-3e2', '8')));
    expect(column(columns, 'v')).toEqual([1.5, null, -300]);
    expect(column(columns, 'id')).toEqual(['007', '12', '8']);
  });

  it('columns of awkward names are kept', async () => {
    const names = ['__proto__', 'constructor', 'name', 'length'];
    const data = names.map((name) => `<Data name="${name}"><value>x</value></Data>`).join('');
    const source = await layer(
      kmlFile(placemark(`<name>N</name><ExtendedData>${data}</ExtendedData>`, kmlPoint('1,2'))),
    );
    expect(source.columns.map(({ name }) => name)).toEqual([
      'name',
      '__proto__',
      'constructor',
      'name_2',
      'length',
    ]);
    expect(codes(source.issues)).toEqual(['column-renamed']);
  });

  it.each([
    ['-93.5,42', -93.5, 42],
    ['\n\t -93.5, 42\n', -93.5, 42],
    ['135.2, 35.4, 0.', 135.2, 35.4],
    ['-93.5 , 42 , 0', -93.5, 42],
    ['+1e1,-.5', 10, -0.5],
  ])('coordinates %j', async (text, lon, lat) => {
    const source = await layer(kmlFile(placemark(kmlPoint(text))));
    expect([source.x[0], source.y[0]]).toEqual([lon, lat]);
    expect(source.issues).toEqual([]);
  });

  it('blanks after commas all along a ring', async () => {
    const text = SQUARE.map(([lon, lat]) => `${lon}, ${lat}, 0.`).join(' ');
    const ring = kmlPolygon(SQUARE).replace(
      /<coordinates>.*<\/coordinates>/,
      `<coordinates>${text}</coordinates>`,
    );
    const source = await layer(kmlFile(placemark(ring)));
    expect([...(source.rings[0]?.[0] ?? [])]).toEqual(SQUARE.slice(0, 4).flat());
  });

  it('an open ring is closed and told; a hole of two corners is left out and told', async () => {
    const open = placemark(kmlPolygon(SQUARE.slice(0, 4)));
    const short = placemark(kmlPolygon(SQUARE, [HOLE[0], HOLE[1], HOLE[0]]));
    const source = await layer(kmlFile(open + short));
    expect(source.ledger).toEqual({ read: 2, used: 0, repaired: 2, setAside: {} });
    expect(source.rings.map((rings) => rings?.length)).toEqual([1, 1]);
    expect(source.issues).toMatchObject([{ code: 'geometry-repaired', severity: 'warning' }]);
    expect(source.issues[0].found).toBe(
      'placemarks 1 (1 open ring closed), 2 (1 ring of under three corners left out)',
    );
  });

  it('an outer ring without area takes its holes along: they are no land', async () => {
    const bad = placemark(kmlPolygon([SQUARE[0], SQUARE[1], SQUARE[0]], HOLE));
    const source = await layer(kmlFile(placemark(kmlPolygon(SQUARE)) + bad));
    expect(source.ledger).toEqual({ read: 2, used: 1, repaired: 0, setAside: { 'ring-too-short': 1 } });
  });

  it('several points in one placemark are set aside, lines beside a polygon told', async () => {
    const several = placemark(`<MultiGeometry>${kmlPoint('1,2')}${kmlPoint('3,4')}</MultiGeometry>`);
    const line = '<LineString><coordinates>1,2 3,4</coordinates></LineString>';
    const source = await layer(
      kmlFile(several + placemark(`<MultiGeometry>${kmlPolygon(SQUARE)}${line}</MultiGeometry>`)),
    );
    expect(source.ledger).toEqual({ read: 2, used: 0, repaired: 1, setAside: { 'geometry-not-used': 1 } });
    expect(source.issues.map(({ found }) => found)).toEqual([
      'placemarks 1 (2 points in one)',
      'placemarks 2 (1 parts of another kind left out)',
    ]);
  });

  it('reads Latin-1 as declared, UTF-16 by its mark, and warns where nothing fits', async () => {
    const text = `<kml><Placemark><name>Maïs</name>${kmlPoint('1,2')}</Placemark></kml>`;
    const latin1 = (head: string) => Uint8Array.from(head + text, (letter) => letter.charCodeAt(0));
    const utf16 = new Uint8Array(
      new Uint16Array([0xfeff, ...Array.from(text, (c) => c.charCodeAt(0))]).buffer,
    );
    const declared = await layer({
      name: 'a.kml',
      bytes: latin1('<?xml version="1.0" encoding="ISO-8859-1"?>'),
    });
    expect(column(declared.columns, 'name')).toEqual(['Maïs']);
    expect(column((await layer({ name: 'a.kml', bytes: utf16 })).columns, 'name')).toEqual(['Maïs']);
    const wrong = await layer({ name: 'a.kml', bytes: latin1('<?xml version="1.0" encoding="UTF-8"?>') });
    expect(column(wrong.columns, 'name')).toEqual(['Maïs']);
    expect(codes(wrong.issues)).toEqual(['code-page-guessed']);
  });
});

describe('bad KML', () => {
  const ENTITY = '<!DOCTYPE kml [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;">]>';
  it.each([
    ['before the root', `<?xml version="1.0"?>\n${ENTITY}\n<kml>${placemark('<name>&b;</name>')}</kml>`],
    ['that loads a file', `<!DOCTYPE kml SYSTEM "file:///etc/passwd"><kml>${POINT}</kml>`],
    ['after a comment', `<!-- <kml> --><?pi x?>${ENTITY}<kml/>`],
    ['in small letters', `<!doctype kml><kml>${POINT}</kml>`],
  ])('K01 E a document type %s', async (_, text) => {
    expect(await refused(textFile(text, 'a.kml'))).toMatchObject({ code: 'xml-doctype', severity: 'error' });
  });
  it('K01 E an entity that is not defined', async () => {
    const issue = await refused(kmlFile(placemark('<name>&xxe;</name>', kmlPoint('1,2'))));
    expect(issue).toMatchObject({ code: 'xml-syntax', severity: 'error' });
    expect(issue.where).toMatch(/^a\.kml › line 4:\d+$/);
    expect(issue.found).toContain('entity');
  });
  it('K01 words of a document type in a description are only words', async () => {
    const source = await layer(
      kmlFile(placemark('<description><![CDATA[<!DOCTYPE html><p>x</p>]]></description>', kmlPoint('1,2'))),
    );
    expect(column(source.columns, 'description')).toEqual(['<!DOCTYPE html><p>x</p>']);
  });

  it.each([
    ['nan ,42', "'nan,42'"],
    ['', 'no coordinates'],
    ['-93.5', "'-93.5'"],
    ['-93.5,', "'-93.5'"],
    [',42', "',42'"],
    ['-93.5,,42', "'-93.5,,42'"],
    ['1,2,3,4', "'1,2,3,4'"],
    ['458000,4649030', "'458000,4649030'"],
    ['-93.5,Infinity', "'-93.5,Infinity'"],
    ['0x10,42', "'0x10,42'"],
    ['1,2 3,4', '2 positions in a point'],
  ])('K02 W coordinates %j among sound ones: set aside by number', async (text, found) => {
    const source = await layer(kmlFile(POINT + placemark(kmlPoint(text)) + POINT));
    expect(source.records).toBe(2);
    expect(source.ledger).toEqual({ read: 3, used: 2, repaired: 0, setAside: { 'kml-coordinates': 1 } });
    expect(source.issues).toMatchObject([
      { code: 'kml-coordinates', severity: 'warning', found: `placemarks 2 (${found})` },
    ]);
  });
  it('K02 W one unsound corner sets the whole polygon aside', async () => {
    const bad = kmlPolygon(SQUARE, HOLE).replace('-93.494,42.006', 'nan ,42');
    const source = await layer(kmlFile(placemark(kmlPolygon(SQUARE)) + placemark(bad)));
    expect(source.ledger.setAside).toEqual({ 'kml-coordinates': 1 });
  });
  it('K02 E where nothing is left', async () => {
    const issue = await refused(kmlFile(placemark(kmlPoint('nan ,42')) + placemark(kmlPoint(''))));
    expect(issue).toMatchObject({ code: 'kml-coordinates', severity: 'error' });
    expect(issue.found).toBe("placemarks 1 ('nan,42'), 2 (no coordinates)");
  });
  it('K02 E only lines', async () => {
    const line = placemark('<LineString><coordinates>1,2 3,4</coordinates></LineString>');
    expect(await refused(kmlFile(line))).toMatchObject({ code: 'kml-no-shapes', severity: 'error' });
  });
  it('K02 more than twenty are counted', async () => {
    const source = await layer(kmlFile(POINT + placemark(kmlPoint('x')).repeat(30)));
    expect(source.issues[0].found).toMatch(/\(30 in all\)$/);
  });

  it('K03 W only addresses', async () => {
    const issue = await refused(kmlFile(placemark('<address>1 Nowhere Lane</address>')));
    expect(issue).toMatchObject({ code: 'kml-no-geometry', severity: 'warning' });
    expect(issue.found).toBe('no geometry inside: placemarks 1 (only an address)');
  });
  it('K03 W only a link to another file', async () => {
    const link = '<NetworkLink><Link><href>http://nowhere.example/x.kml</href></Link></NetworkLink>';
    const issue = await refused(kmlFile(link));
    expect(issue).toMatchObject({ code: 'kml-no-geometry', severity: 'warning' });
    expect(issue.found).toBe('no geometry inside: 1 links to other files');
    const beside = await layer(kmlFile(link + POINT));
    expect(codes(beside.issues)).toEqual(['kml-network-link']);
  });
  it('K03 W nothing at all', async () => {
    expect(await refused(kmlFile(''))).toMatchObject({ code: 'kml-no-geometry', severity: 'warning' });
  });

  it('K04 markup in a name or description is text', async () => {
    const attack = '<img src=x onerror=alert(1)>';
    const source = await layer(
      kmlFile(
        placemark(
          `<name><![CDATA[${attack}]]></name><description>${attack.replaceAll('<', '&lt;')}</description>`,
          kmlPoint('1,2'),
        ),
      ),
    );
    expect(column(source.columns, 'name')).toEqual([attack]);
    expect(column(source.columns, 'description')).toEqual([attack]);
  });

  it('K05 R a prefix that is not declared', async () => {
    const text = `<kml xsi:schemaLocation="x y"><Document>${POINT}</Document></kml>`;
    const source = await layer(textFile(text, 'a.kml'));
    expect(source.records).toBe(1);
    expect(source.issues).toMatchObject([{ code: 'xml-prefix-undeclared', severity: 'note' }]);
    expect(source.issues[0].found).toBe('xsi, not declared');
  });

  it('K06 W altitudes are dropped and told; those of zero are none', async () => {
    const source = await layer(kmlFile(placemark(kmlPoint('1,2,310')) + placemark(kmlPoint('1,2,0'))));
    expect(source.issues).toMatchObject([{ code: 'altitude-dropped', severity: 'note' }]);
    expect(source.issues[0].found).toBe('altitudes in placemarks 1');
  });

  it('K07 A a KMZ of several documents', async () => {
    const bytes = zipSync({ 'doc.kml': kmlFile(POINT).bytes, 'more/b.kml': kmlFile(POINT).bytes });
    const { sources, issues } = await readFiles([{ name: 'a.kmz', bytes }]);
    expect(sources.map(({ file }) => file)).toEqual(['a.kmz › doc.kml', 'a.kmz › more/b.kml']);
    expect(issues).toMatchObject([{ code: 'kmz-several-documents', severity: 'warning', where: 'a.kmz' }]);
  });

  it('a KMZ of one document with its pictures', async () => {
    const { sources, issues } = await readFiles([kmzSeed()]);
    expect(sources.map(({ file }) => file)).toEqual([
      'a.kmz › doc.kml › polygons',
      'a.kmz › doc.kml › points',
    ]);
    expect(issues).toEqual([]);
  });
  it('Z01 E a KMZ cut short at any byte', async () => {
    const { bytes } = kmzSeed();
    for (let end = 4; end < bytes.length; end += 7) {
      const { sources, issues } = await readFiles([{ name: 'a.kmz', bytes: bytes.subarray(0, end) }]);
      expect([end, sources.length, codes(issues)]).toEqual([end, 0, ['zip-damaged']]);
    }
  });
  it('Z02 E a web page called KML', async () => {
    const page = textFile('<!DOCTYPE html><html><body>404</body></html>', 'a.kml');
    expect(await refused(page)).toMatchObject({ code: 'file-foreign' });
    expect((await refused(page)).found).toContain('web page');
  });

  it('E cut short, with the line', async () => {
    const { bytes } = kmlSeed();
    const text = new TextDecoder().decode(bytes);
    for (const end of [text.indexOf('<Document'), text.indexOf('North'), text.indexOf('</kml>')]) {
      const issue = await refused({ name: 'a.kml', bytes: bytes.subarray(0, end) });
      expect(issue.code).toBe('xml-syntax');
      expect(issue.where).toMatch(/^a\.kml › line \d+:\d+$/);
    }
  });
  it.each([
    ['tags that do not match', '<kml><Document></kml>'],
    ['an attribute twice', '<kml a="1" a="2"/>'],
    ['a bare ampersand', '<kml><name>A & B</name></kml>'],
    ['a control letter', '<kml>\u0001</kml>'],
    ['two roots', '<kml/><kml/>'],
    ['a declaration and no more', '<?xml version="1.0"?>'],
  ])('E %s', async (_, text) => {
    expect((await refused(textFile(text, 'a.kml'))).code).toBe('xml-syntax');
  });
  it('E another kind of XML: by name a wrong root, else no kind that is read', async () => {
    const text = '<?xml version="1.0"?><gpx><wpt/></gpx>';
    expect((await refused(textFile(text, 'a.kml'))).code).toBe('kml-root');
    expect((await refused(textFile(text, 'a.gpx'))).code).toBe('file-foreign');
  });
  it('E nested deeper than 256, at once and at 100,000 levels', async () => {
    for (const depth of [300, 100_000]) {
      const text = `<kml>${'<Folder>'.repeat(depth)}${'</Folder>'.repeat(depth)}</kml>`;
      expect((await refused(textFile(text, 'a.kml'))).code).toBe('xml-depth');
    }
    const fits = `<kml>${'<Folder>'.repeat(250)}${POINT}${'</Folder>'.repeat(250)}</kml>`;
    expect((await layer(textFile(fits, 'a.kml'))).records).toBe(1);
  });
  it('E larger than 64 MB, before it is looked through', async () => {
    const bytes = new Uint8Array(64 * 2 ** 20 + 1).fill(32);
    bytes.set(strToU8('<kml>'));
    expect((await refused({ name: 'a.kml', bytes })).code).toBe('xml-size');
  });
  it('E more than 5 million elements and attributes', async () => {
    const text = `<kml>${'<a/>'.repeat(5_000_000)}</kml>`;
    expect((await refused(textFile(text, 'a.kml'))).code).toBe('xml-nodes');
  }, 30_000);
  it('E a different attribute in every placemark would fill any memory', async () => {
    const marks = Array.from({ length: 8000 }, (_, i) =>
      placemark(`<ExtendedData><Data name="c${i}"><value>1</value></Data></ExtendedData>`, kmlPoint('1,2')),
    );
    expect((await refused(kmlFile(marks.join('')))).code).toBe('kml-attributes');
  });
  it.each([
    ['blanks', kmlPoint(' '.repeat(200_000))],
    ['commas', kmlPoint(','.repeat(200_000))],
    ['digits', kmlPoint('1'.repeat(200_000))],
    ['character references', `<name>${'&#65;'.repeat(200_000)}</name>`],
  ])('looks through 200,000 %s in good time', async (_, part) => {
    const started = performance.now();
    await readFiles([kmlFile(POINT + placemark(part))]);
    expect(performance.now() - started).toBeLessThan(2000);
  });
});

describe('KML as GDAL reads it', () => {
  let gdal: Gdal;
  const folder = mkdtempSync(join(tmpdir(), 'eachacre-kml-'));
  beforeAll(async () => {
    gdal = await openGdal();
    return () => rmSync(folder, { recursive: true });
  });

  it('200 polygons, some with holes and parts: the same rings and names', async () => {
    const dice = random(11);
    const marks = Array.from({ length: 200 }, (_, i) => {
      const [lon, lat] = [-93 + dice.uniform(), 42 + dice.uniform()];
      const square = (x: number, y: number, side: number) =>
        [
          [x, y],
          [x + side, y],
          [x + side, y + side * (0.5 + dice.uniform())],
          [x, y + side],
          [x, y],
        ].map(([a, b]) => [Number(a.toFixed(9)), Number(b.toFixed(9))] as const);
      const whole = kmlPolygon(
        square(lon, lat, 0.01),
        ...(i % 3 === 0 ? [square(lon + 0.002, lat + 0.002, 0.001)] : []),
      );
      const second = i % 5 === 0 ? kmlPolygon(square(lon + 0.05, lat, 0.01)) : '';
      return placemark(`<name>field ${i}</name>`, `<MultiGeometry>${whole}${second}</MultiGeometry>`);
    });
    const file = kmlFile(marks.join('\n'));
    const path = join(folder, 'a.kml');
    writeFileSync(path, file.bytes);
    const ours = await layer(file);
    const theirs = await layer(...(await asShapefile(gdal, path)));
    expect(theirs.records).toBe(200);
    expect(ours.records).toBe(200);
    expect(column(ours.columns, 'name')).toEqual(column(theirs.columns, 'Name'));
    for (let record = 0; record < 200; record++) {
      expect(corners(ours.rings[record])).toEqual(corners(theirs.rings[record]));
    }
  });

  /** Rings begin and turn as each format likes: their corners, sorted; nine decimals are 0.1 mm. */
  function corners(rings: readonly Float64Array[] | null): string[] {
    return (rings ?? [])
      .map((ring) =>
        Array.from(
          { length: ring.length / 2 },
          (_, k) => `${ring[2 * k].toFixed(9)} ${ring[2 * k + 1].toFixed(9)}`,
        )
          .sort()
          .join(';'),
      )
      .sort();
  }
});

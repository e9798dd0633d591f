import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { strToU8, zipSync } from 'fflate';
import { beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { reportSchema } from '../../src/cli/report.ts';
import { random } from '../../src/engine/math/random.ts';
import { type Answer, buildCli, eachacre, freshFolder, tree } from './built.ts';
import {
  boundaryText,
  geojson,
  LINEUP,
  layFiles,
  PLAN,
  ring,
  SQUARE,
  soilsText,
  yieldText,
} from './small-field.ts';

let cwd = '';
beforeAll(buildCli);
beforeEach(() => {
  cwd = freshFolder();
  layFiles(cwd);
  return () => rmSync(cwd, { recursive: true, force: true });
});

const put = (name: string, content: string | Uint8Array) => writeFileSync(join(cwd, name), content);
const readJson = (name: string) => JSON.parse(readFileSync(join(cwd, name), 'utf8'));

/** Every refusal is told in words: an exit code of 1, a code in brackets, no stack trace, in good time, nothing written. */
function expectRefused(answer: Answer, code: string): void {
  expect(answer.err).toContain(`[${code}]`);
  expect(answer.code).toBe(1);
  expect(answer.err).not.toMatch(/^\s+at .*:\d+/m);
}

/** `plan` with some files changed; it must be refused. */
function planRefused(code: string, ...more: string[]): void {
  const before = tree(cwd);
  expectRefused(eachacre([...PLAN, ...more], { cwd }), code);
  expect(tree(cwd)).toEqual(before);
  const json = eachacre([...PLAN, ...more, '--json'], { cwd });
  expect(json.code).toBe(1);
  expect(JSON.parse(json.out).issues.map((issue: { code: string }) => issue.code)).toContain(code);
}

/** `plan` goes through; the `run` of it must be refused. */
function runRefused(code: string, ...more: string[]): void {
  const planned = eachacre([...PLAN, ...more], { cwd });
  expect([planned.code, planned.err]).toEqual([0, expect.any(String)]);
  expectRunRefused(code);
}

function expectRunRefused(code: string): void {
  const before = tree(cwd);
  expectRefused(eachacre(['run', 'a.plan.json', '--out', 'out'], { cwd }), code);
  expect(tree(cwd)).toEqual(before);
}

/** Plan and run go through; the report. */
function report(...more: string[]) {
  const planned = eachacre([...PLAN, ...more], { cwd });
  expect([planned.code, planned.err]).toEqual([0, expect.any(String)]);
  const ran = eachacre(['run', 'a.plan.json', '--out', 'out', '--json'], { cwd });
  expect([ran.code, ran.err]).toEqual([0, expect.any(String)]);
  return reportSchema.parse(JSON.parse(ran.out));
}

const dice = random(7);
const RANDOM = Uint8Array.from({ length: 4096 }, () => dice.integer(256));
const FOREIGN: [string, string, string | Uint8Array][] = [
  ['a PDF', 'file-foreign', '%PDF-1.7\n%\xe2\xe3\n1 0 obj\n<< /Type /Catalog >>\nendobj\n'],
  ['a PNG', 'file-foreign', Uint8Array.of(0x89, 80, 78, 71, 13, 10, 26, 10, 0, 0, 0, 13, 73, 72, 68, 82)],
  ['a web page', 'file-foreign', '<!DOCTYPE html>\n<html><body>404 Not Found</body></html>'],
  [
    'a spreadsheet',
    'file-foreign',
    zipSync({ '[Content_Types].xml': strToU8('<Types/>'), 'xl/workbook.xml': strToU8('<workbook/>') }),
  ],
  ['a GeoPackage', 'file-foreign', strToU8(`SQLite format 3\0${'\0'.repeat(200)}`)],
  ['an empty file', 'file-empty', ''],
];
const LAYERS = [
  ['--boundary', 'boundary.geojson'],
  ['--soils', 'soils.geojson'],
  ['--yield', 'yield-2025.csv'],
] as const;

describe.each(LAYERS)('%s', (option, name) => {
  it('that is missing', () => planRefused('file-missing', option, 'nowhere.geojson'));
  it('that is a folder', () => planRefused('file-missing', option, '.'));
  it.each(FOREIGN)('that is %s', (_, code, bytes) => {
    put(name, bytes);
    planRefused(code);
  });
  it('that is random bytes, under any name', () => {
    for (const own of ['x.geojson', 'x.csv', 'x.shp', 'x.zip', 'x.dbf']) {
      put(own, RANDOM);
      const before = tree(cwd);
      const answer = eachacre([...PLAN, option, own], { cwd });
      expect([own, answer.code]).toEqual([own, 1]);
      expect(answer.err).toMatch(/^error: .*\[[a-z-]+\]$/m);
      expect(answer.err).not.toMatch(/^\s+at .*:\d+/m);
      expect(tree(cwd)).toEqual(before);
    }
  });
  it('that is a zip cut short', () => {
    const zip = zipSync({ [name]: strToU8(readFileSync(join(cwd, name), 'utf8')) });
    put('cut.zip', zip.subarray(0, zip.length - 30));
    planRefused('zip-damaged', option, 'cut.zip');
  });
});

describe('GeoJSON cut short', () => {
  it('as boundary', () => {
    put('boundary.geojson', boundaryText().slice(0, -40));
    planRefused('json-truncated');
  });
  it('as soils', () => {
    put('soils.geojson', soilsText().slice(0, 200));
    planRefused('json-truncated');
  });
});

describe('lineup', () => {
  it('that is missing', () => planRefused('file-missing', '--lineup', 'nowhere.json'));
  it.each(FOREIGN)('that is %s', (_, _code, bytes) => {
    put('lineup.json', bytes);
    planRefused('lineup-unreadable', '--lineup', 'lineup.json');
  });
  it('that is cut short', () => {
    put('lineup.json', readFileSync(LINEUP).subarray(0, 900));
    planRefused('lineup-unreadable', '--lineup', 'lineup.json');
  });
  it('that is a plan', () => {
    eachacre([...PLAN, '--out', 'b.plan.json'], { cwd });
    planRefused('document-foreign', '--lineup', 'b.plan.json');
  });
  it('of a newer version', () => {
    put('lineup.json', JSON.stringify({ ...JSON.parse(readFileSync(LINEUP, 'utf8')), version: 2 }));
    planRefused('document-newer', '--lineup', 'lineup.json');
  });
  it('with a unit of no seeds', () => {
    const lineup = JSON.parse(readFileSync(LINEUP, 'utf8'));
    lineup.products[0].seedsPerUnit = 0;
    put('lineup.json', JSON.stringify(lineup));
    planRefused('document-not-valid', '--lineup', 'lineup.json');
  });
  it('with a product twice', () => {
    const lineup = JSON.parse(readFileSync(LINEUP, 'utf8'));
    lineup.products.push(lineup.products[0]);
    put('lineup.json', JSON.stringify(lineup));
    planRefused('lineup-duplicate-product', '--lineup', 'lineup.json');
  });
  it('without any product', () => {
    const lineup = { ...JSON.parse(readFileSync(LINEUP, 'utf8')), products: [] };
    put('lineup.json', JSON.stringify(lineup));
    planRefused('lineup-no-usable-product', '--lineup', 'lineup.json');
  });
  it('without a product of the crop', () => planRefused('lineup-no-usable-product', '--crop', 'sorghum'));
  it('with every product left out by the plan', () => {
    eachacre(PLAN, { cwd });
    const plan = readJson('a.plan.json');
    const ids = JSON.parse(readFileSync(LINEUP, 'utf8')).products.map(
      (product: { id: string }) => product.id,
    );
    put('a.plan.json', JSON.stringify({ ...plan, lineup: { ...plan.lineup, leaveOut: ids } }));
    expectRunRefused('lineup-no-usable-product');
  });
});

describe('plan document', () => {
  const edited = (change: (plan: Record<string, unknown>) => void) => {
    eachacre(PLAN, { cwd });
    const plan = readJson('a.plan.json');
    change(plan);
    put('a.plan.json', JSON.stringify(plan));
  };
  it('that is missing', () => expectRunRefused('file-missing'));
  it('that is empty', () => {
    put('a.plan.json', '');
    expectRunRefused('plan-unreadable');
  });
  it.each(FOREIGN)('that is %s', (_, _code, bytes) => {
    put('a.plan.json', bytes);
    expectRunRefused('plan-unreadable');
  });
  it('that is no JSON', () => {
    put('a.plan.json', '{ "document": "eachacre-plan", ');
    expectRunRefused('plan-unreadable');
  });
  it.each(['null', '[]', '3', '"eachacre-plan"', '{}', '{"document":"eachacre-lineup","version":1}'])(
    'that is only %s',
    (text) => {
      put('a.plan.json', text);
      expectRunRefused('document-foreign');
    },
  );
  it('of a newer version', () => {
    edited((plan) => {
      plan.version = 2;
    });
    expectRunRefused('document-newer');
  });
  it.each([0, -1, 1.5, '1', null])('of version %s', (version) => {
    edited((plan) => {
      plan.version = version;
    });
    expectRunRefused('document-version');
  });
  it('with a key it does not have', () => {
    edited((plan) => {
      plan.pesticide = true;
    });
    expectRunRefused('document-not-valid');
  });
  it('with a source named that is not listed', () => {
    edited((plan) => {
      plan.field = { boundary: 'outline' };
    });
    expectRunRefused('plan-source-missing');
  });
  it('with a hand-off name that leads out of the folder', () => {
    edited((plan) => {
      plan.handoff = { name: '../../gone' };
    });
    expectRunRefused('document-not-valid');
  });
  it.each(['boundary.geojson', 'soils.geojson', 'yield-2025.csv'])('whose %s changed since', (name) => {
    eachacre(PLAN, { cwd });
    put(name, `${readFileSync(join(cwd, name), 'utf8')} `);
    expectRunRefused('source-changed');
  });
  it.each(['boundary.geojson', 'soils.geojson', 'yield-2025.csv'])('whose %s is gone', (name) => {
    eachacre(PLAN, { cwd });
    rmSync(join(cwd, name));
    expectRunRefused('source-missing');
  });
  it('with a grain price no higher than drying', () => planRefused('price-not-positive', '--drying', '4.2'));
  it.each([
    ['--grain-price', '-1'],
    ['--emergence', '0'],
    ['--emergence', '95'],
    ['--hoppers', '0'],
    ['--zones', '0'],
    ['--zones', '2.5'],
    ['--zones', '9'],
    ['--heading', '180'],
    ['--cell', '0'],
    ['--season', '27'],
    ['--record', '0'],
    ['--expected-yield', '-5'],
  ])('with %s %s', (option, value) => planRefused('document-not-valid', option, value));
  it('with a coordinate system that is not verified', () =>
    planRefused('crs-not-supported', '--crs', 'yield-2025.csv=EPSG:27700'));
  it('on the datum of 1927, which is asked for', () =>
    planRefused('crs-nad27', '--crs', 'yield-2025.csv=EPSG:4267'));
});

describe('boundary', () => {
  const bowTie = geojson({
    type: 'Polygon',
    coordinates: [
      [
        [-93.5, 42],
        [-93.495, 42.0036],
        [-93.495, 42],
        [-93.5, 42.0036],
        [-93.5, 42],
      ],
    ],
  });
  it('that crosses itself: refused', () => {
    put('boundary.geojson', bowTie);
    planRefused('boundary-crosses-itself');
  });
  it('that crosses itself: split when told to, both lobes kept', () => {
    put('boundary.geojson', bowTie);
    const { field, proof } = report('--split-crossing');
    // Two triangles on the square's sides: half of a rectangle of 0.005 by 0.0036 degrees, on a sphere of the ellipsoid's mean radius (0.5 %).
    const rectangle =
      0.005 * 0.0036 * (Math.PI / 180) ** 2 * 6371008.8 ** 2 * Math.cos((42.0018 * Math.PI) / 180);
    expect((field?.area_m2 ?? NaN) / (rectangle / 2)).toBeCloseTo(1, 2);
    expect(field?.parts).toBe(2);
    expect(proof?.ok).toBe(true);
    expect(field?.changes.join()).toMatch(/cross|split/);
    const told = eachacre(['run', 'a.plan.json', '--out', 'again'], { cwd });
    expect(told.out).toContain(`Mended in the boundary: ${field?.changes[0]}`);
  });
  it('of points', () => {
    put('boundary.geojson', geojson({ type: 'Point', coordinates: [-93.5, 42] }));
    planRefused('boundary-not-polygons');
  });
  it('of lines', () => {
    put('boundary.geojson', geojson({ type: 'LineString', coordinates: ring(SQUARE) }));
    const planned = eachacre(PLAN, { cwd });
    expect(planned.code).toBe(1);
  });
  it('that is a table', () => {
    put('boundary.csv', 'name,acres\nHome,80\n');
    planRefused('boundary-not-polygons', '--boundary', 'boundary.csv');
  });
  it('of 100 fields without --record', () => {
    put('boundary.geojson', hundred());
    planRefused('boundary-many-fields');
  });
  it('of 100 fields with one chosen', () => {
    put('boundary.geojson', hundred());
    const { field, sources } = report('--record', '1');
    expect(field?.acres).toBeCloseTo(39.656, 2);
    expect(sources[0]).toMatchObject({ read: 100, used: 1, setAside: { 'not-chosen': 99 } });
  });
  it('with a record it does not have', () => planRefused('boundary-record-missing', '--record', '999'));
  it('with no feature', () => {
    put('boundary.geojson', geojson());
    planRefused('boundary-not-polygons');
  });
  it('with null shapes alone', () => {
    put(
      'boundary.geojson',
      '{"type":"FeatureCollection","features":[{"type":"Feature","properties":{},"geometry":null}]}',
    );
    planRefused('boundary-not-polygons');
  });
  it('without area', () => {
    put(
      'boundary.geojson',
      geojson({
        type: 'Polygon',
        coordinates: [
          [
            [-93.5, 42],
            [-93.49, 42],
            [-93.48, 42],
            [-93.5, 42],
          ],
        ],
      }),
    );
    const planned = eachacre(PLAN, { cwd });
    expect(
      planned.code === 0 ? eachacre(['run', 'a.plan.json', '--out', 'out'], { cwd }).code : planned.code,
    ).toBe(1);
  });
  it('with NaN for a vertex', () => {
    put('boundary.geojson', boundaryText().replace('42.0036', 'NaN'));
    planRefused('json-number');
  });
  it('with text or nothing for a vertex', () => {
    for (const bad of ['"42"', 'null']) {
      put('boundary.geojson', boundaryText().replace('42.0036', bad));
      const planned = eachacre(PLAN, { cwd });
      const answer = planned.code === 0 ? eachacre(['run', 'a.plan.json', '--out', 'out'], { cwd }) : planned;
      expect([bad, answer.code]).toEqual([bad, 1]);
      expect(answer.err).toMatch(/^error: /m);
    }
  });
  it('with latitude and longitude swapped', () => {
    const swapped = ring(SQUARE).map(([lon, lat]) => [lat, lon]);
    put('boundary.geojson', geojson({ type: 'Polygon', coordinates: [swapped] }));
    const planned = eachacre(PLAN, { cwd });
    const answer = planned.code === 0 ? eachacre(['run', 'a.plan.json', '--out', 'out'], { cwd }) : planned;
    expect(answer.code).toBe(1);
    expect(answer.err).toMatch(/^error: /m);
  });
  it('in projected metres without a word of it', () => {
    put(
      'boundary.geojson',
      geojson({
        type: 'Polygon',
        coordinates: [
          [
            [500000, 4650000],
            [500400, 4650000],
            [500400, 4650400],
            [500000, 4650400],
            [500000, 4650000],
          ],
        ],
      }),
    );
    const planned = eachacre(PLAN, { cwd });
    expect(planned.code).toBe(1);
    expect(planned.err).toMatch(/^error: /m);
  });

  function hundred(): string {
    return geojson(
      ...Array.from({ length: 100 }, (_, k) => ({
        type: 'Polygon',
        coordinates: [ring({ ...SQUARE, lon: SQUARE.lon + 0.02 * k })],
      })),
    );
  }
});

describe('yield maps', () => {
  it('with no point inside the field', () => {
    put('yield-2025.csv', yieldText({ ...SQUARE, lon: SQUARE.lon + 0.1 }));
    runRefused('yield-no-points-inside');
  });
  it('in another county', () => {
    put('yield-2025.csv', yieldText({ ...SQUARE, lon: -92 }));
    runRefused('layers-apart');
  });
  it('with a column of yield that is text', () => {
    put(
      'yield-2025.csv',
      yieldText(SQUARE, () => 'good'),
    );
    planRefused('yield-column-not-found');
  });
  it('with a column of text named outright', () => {
    put(
      'yield-2025.csv',
      yieldText(SQUARE, () => 'good'),
    );
    planRefused('yield-column-not-found', '--yield-column', 'yield bu/ac');
  });
  it('with a column named that is not there', () =>
    planRefused('yield-column-not-found', '--yield-column', 'moisture'));
  it('with no rows', () => {
    put('yield-2025.csv', 'lon,lat,yield bu/ac\n');
    const planned = eachacre(PLAN, { cwd });
    if (planned.code === 0) expectRunRefused('yield-no-points-inside');
    else expect(planned.err).toMatch(/^error: /m);
  });
  it('that is the boundary', () =>
    planRefused('yield-not-points', '--yield', 'boundary.geojson', '--yield-column', 'x'));
  it('with latitude and longitude swapped', () => {
    put('yield-2025.csv', yieldText().replace('lon,lat', 'lat,lon'));
    const planned = eachacre(PLAN, { cwd });
    if (planned.code === 0) expectRunRefused('yield-no-points-inside');
    else expect(planned.err).toMatch(/^error: /m);
  });
  it('all yields equal: fewer zones, told', () => {
    put(
      'yield-2025.csv',
      yieldText(SQUARE, () => '180'),
    );
    const { zones, issues } = report();
    expect(zones.length).toBe(1);
    expect(issues.map(({ code }) => code)).toContain('zones-fewer');
  });
  it('with zero, negative and missing yields: set aside and counted', () => {
    put(
      'yield-2025.csv',
      yieldText(SQUARE, (u, v) => (v < 0.03 ? '0' : v < 0.06 ? '-5' : v < 0.1 ? '' : String(150 + 60 * u))),
    );
    const source = report().sources.find(({ role }) => role === 'yield');
    expect(source?.read).toBe(900);
    const { 'no-value': none, 'header-up': idle } = source?.setAside ?? {};
    expect(none + idle).toBe(90);
  });
});

describe('soils', () => {
  it('that are points', () =>
    planRefused('soils-not-polygons', '--soils', 'yield-2025.csv', '--soil-value', 'yield bu/ac'));
  it('with a value column that is not there: left out and told by plan', () => {
    const planned = eachacre([...PLAN, '--soil-value', 'nccpi'], { cwd });
    expect(planned.code).toBe(0);
    expect(planned.err).toContain('[soil-value-not-found]');
  });
  it('elsewhere than the field', () => {
    put('soils.geojson', soilsText({ ...SQUARE, lon: SQUARE.lon + 0.1 }));
    runRefused('soils-outside-field');
  });
  it('in another county', () => {
    put('soils.geojson', soilsText({ ...SQUARE, lon: -90 }));
    runRefused('layers-apart');
  });
});

describe('loose shapefiles', () => {
  const lay = (keep: readonly string[]) => {
    expect(eachacre(PLAN, { cwd }).code).toBe(0);
    expect(eachacre(['run', 'a.plan.json', '--out', 'made'], { cwd }).code).toBe(0);
    for (const ending of ['shp', 'shx', 'dbf', 'prj', 'cpg'].filter((own) => keep.includes(own)))
      put(`old.${ending}`, readFileSync(join(cwd, `made/planter/PRESC.${ending}`)));
    rmSync(join(cwd, 'made'), { recursive: true });
    rmSync(join(cwd, 'a.plan.json'));
  };
  it('without .prj: degrees are taken as WGS 84, with a warning', () => {
    lay(['shp', 'shx', 'dbf']);
    const { issues, field } = report('--boundary', 'old.shp');
    expect(issues.map(({ code }) => code)).toContain('crs-assumed');
    expect(field?.acres).toBeCloseTo(39.656, 2);
  });
  it('without .dbf as boundary: served, and told', () => {
    lay(['shp', 'shx', 'prj']);
    const planned = eachacre([...PLAN, '--boundary', 'old.shp'], { cwd });
    expect(planned.code).toBe(0);
    expect(planned.err).toContain('[dbf-missing]');
  });
  it('without .dbf as soils: nothing to choose from', () => {
    lay(['shp', 'shx', 'prj']);
    const planned = eachacre([...PLAN, '--soils', 'old.shp'], { cwd });
    expect(planned.err).toContain('[soil-value-not-found]');
  });
  it('named for the boundary and for the soils: read once for both', () => {
    lay(['shp', 'shx', 'dbf', 'prj', 'cpg']);
    const { sources, proof } = report(
      '--boundary',
      'old.shp',
      '--soils',
      'old.shp',
      '--soil-value',
      'SEEDS_AC',
    );
    expect(sources.map(({ role, file }) => [role, file]).slice(0, 2)).toEqual([
      ['boundary', 'old.shp'],
      ['soils', 'old.shp'],
    ]);
    expect(proof?.ok).toBe(true);
  });
  it('without .shp', () => {
    lay(['shx', 'dbf', 'prj']);
    planRefused('file-missing', '--boundary', 'old.shp');
  });
  it('cut short: what is whole is used, the loss told', () => {
    lay(['shp', 'shx', 'dbf', 'prj']);
    const bytes = readFileSync(join(cwd, 'old.shp'));
    put('old.shp', bytes.subarray(0, bytes.length - 20));
    const { issues, sources } = report('--boundary', 'old.shp');
    expect(issues.map(({ code, severity }) => [code, severity])).toContainEqual(['shp-truncated', 'warning']);
    const { read, used, repaired, setAside } = sources[0];
    expect(setAside['cut-short']).toBe(1);
    expect(used + repaired + Object.values(setAside).reduce((sum, n) => sum + n, 0)).toBe(read);
  });
  it('cut in the first record', () => {
    lay(['shp', 'shx', 'dbf', 'prj']);
    put('old.shp', readFileSync(join(cwd, 'old.shp')).subarray(0, 150));
    planRefused('shp-truncated', '--boundary', 'old.shp');
  });
});

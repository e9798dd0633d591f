import { describe, expect, it, vi } from 'vitest';
import type { FileBytes } from '../../src/formats/file-bytes.ts';
import { readTogether } from '../../src/formats/registry.ts';
import { createDesk } from '../../src/jobs/desk.ts';
import { remembering } from '../../src/jobs/remembering.ts';
import { sortFiles } from '../../src/jobs/sort-files.ts';
import { geojson, ring, SQUARE, soilsText, yieldText } from '../cli/small-field.ts';
import { smallTif } from '../formats/tif-seeds.ts';
import { fieldAt, fields, harvest, LINEUP, samples, soils, text } from './farm.ts';

const sort = (files: readonly FileBytes[], crop = 'corn') => sortFiles(files, crop, undefined);
const outline = (k: number) => ({ type: 'Polygon', coordinates: [ring(fieldAt(k))] });
const roleOf = async (files: readonly FileBytes[]) =>
  Object.fromEntries(
    (await sort(files)).files.map(({ file, role, why }) => [file, why === '' ? role : `${role}: ${why}`]),
  );

describe('the field among many', () => {
  it('is the one the yield points lie in', async () => {
    const { roles } = await sort([fields('farm.geojson', 6), harvest('y.csv', 3)]);
    expect(roles).toMatchObject({ boundary: 'farm.geojson', records: [4], yields: ['y.csv'] });
  });

  it('is every record that holds a good part of them; a few points beyond the fence make no second field', async () => {
    const lines = yieldText(fieldAt(1)).trimEnd().split('\n');
    const beside = yieldText(fieldAt(2)).trimEnd().split('\n').slice(1, 61);
    const own = await sort([fields('farm.geojson', 6), text('y.csv', [...lines, ...beside].join('\n'))]);
    // 60 of 960 points.
    expect(own.roles.records).toEqual([2]);
    const both = await sort([
      fields('farm.geojson', 6),
      text('y.csv', [...lines, ...yieldText(fieldAt(2)).split('\n').slice(1)].join('\n')),
    ]);
    expect(both.roles.records).toEqual([2, 3]);
  });

  it('is found though a boundary beside it crosses itself', async () => {
    const [a, b, c, d] = ring(fieldAt(0));
    const bow = { type: 'Polygon', coordinates: [[a, c, b, d, a]] };
    const right = { type: 'Polygon', coordinates: [ring(fieldAt(1))] };
    const { roles } = await sort([text('farm.geojson', geojson(bow, right)), harvest('y.csv', 1)]);
    expect(roles).toMatchObject({ boundary: 'farm.geojson', records: [2] });
  });

  it('is the one said, though yields of the folder lie in another; what is not of it is left out', async () => {
    const [said] = (await readTogether([text('b.geojson', geojson(outline(4)))], {})).sources;
    const already = { boundary: said, records: null, yields: [], soils: false, lineup: false };
    const files = [fields('farm.geojson', 3), harvest('there.csv', 1), harvest('here.csv', 4)];
    const sorted = await sortFiles(files, 'corn', undefined, {}, undefined, already);
    expect(sorted.roles).toMatchObject({ boundary: 'b.geojson', records: null, yields: ['here.csv'] });
    expect(sorted.files).toContainEqual(
      expect.objectContaining({ file: 'there.csv', role: 'not used', why: 'it lies outside the field' }),
    );
    expect(sorted.files).toContainEqual(expect.objectContaining({ file: 'farm.geojson', role: 'not used' }));
  });

  it('is told by a record said, or by a yield map said', async () => {
    const files = [fields('farm.geojson', 6), harvest('second.csv', 1), samples('soil-tests.csv', 4)];
    const nothing = { boundary: null, records: null, yields: [], soils: false, lineup: false };
    const byRecord = await sortFiles(files, 'corn', undefined, {}, undefined, { ...nothing, records: [5] });
    expect(byRecord.roles).toMatchObject({ records: [5], yields: [], layers: ['soil-tests.csv'] });
    const [fifth] = (await readTogether([harvest('fifth.csv', 4)], {})).sources;
    const loose = [fields('farm.geojson', 6), samples('soil-tests.csv', 4)];
    const byYield = await sortFiles(loose, 'corn', undefined, {}, undefined, { ...nothing, yields: [fifth] });
    expect(byYield.roles).toMatchObject({ records: [5], yields: [], layers: ['soil-tests.csv'] });
    expect(byYield.issues).toEqual([]);
  });

  it('takes all records where points lie in all, and any order of files', async () => {
    const { roles } = await sort([harvest('y.csv', 0), fields('one.geojson', 1)]);
    expect(roles).toMatchObject({ boundary: 'one.geojson', records: null });
  });

  it('is that of the file most points lie in, whatever its name', async () => {
    const other = text('a-boundary.geojson', geojson({ type: 'Polygon', coordinates: [ring(fieldAt(5))] }));
    const right = text('z.geojson', geojson({ type: 'Polygon', coordinates: [ring(fieldAt(2))] }));
    expect(await roleOf([other, right, harvest('y.csv', 2)])).toEqual({
      'a-boundary.geojson': 'not used: it lies outside the field',
      'z.geojson': 'boundary',
      'y.csv': 'yield',
    });
  });

  it('is kept beside a log of which nobody says where it lies', async () => {
    // Metres of some system: the run asks for it.
    const rows = Array.from({ length: 50 }, (_, i) => `${500_000 + i},${4_650_000 + 2 * i},180`);
    const utm = text('utm.csv', ['easting,northing,yield bu/ac', ...rows].join('\n'));
    const { issues, roles } = await sort([fields('farm.geojson', 2), utm]);
    expect(roles).toMatchObject({ boundary: 'farm.geojson', records: null, yields: ['utm.csv'] });
    expect(issues.filter(({ severity }) => severity === 'error')).toEqual([]);
  });

  it('taken of several polygons is told, unless points say it is one of them', async () => {
    const codes = async (count: number, ...more: FileBytes[]) =>
      (await sort([fields('farm.geojson', count), ...more])).issues.map(({ code }) => code);
    expect(await codes(1)).toEqual([]);
    expect(await codes(3)).toEqual(['boundary-parts']);
    expect(await codes(21)).toEqual(['boundary-farm']);
    expect(await codes(21, harvest('y.csv', 3))).toEqual([]);
    expect(await codes(21, harvest('y.csv', 3), harvest('z.csv', 4))).toEqual(['boundary-parts']);
  });

  it('without points is the first boundary, whole', async () => {
    const { roles } = await sort([fields('farm.geojson', 3), fields('again.geojson', 2)]);
    expect(roles).toMatchObject({ boundary: 'farm.geojson', records: null });
  });
});

describe('files near the field and others', () => {
  it('soils, layers and yield maps of another field are left out, each with its reason', async () => {
    const outside = 'not used: it lies outside the field';
    expect(
      await roleOf([
        fields('field.geojson', 1),
        harvest('own.csv', 0),
        harvest('theirs.csv', 9),
        soils('soils-far.geojson', 9),
        soils('soils.geojson', 0),
        samples('soil-tests.csv', 0),
        samples('soil-tests-far.csv', 9),
        smallTif([1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12], [], { name: 'far.tif' }),
        LINEUP,
      ]),
    ).toEqual({
      'field.geojson': 'boundary',
      'own.csv': 'yield',
      'theirs.csv': outside,
      'soils-far.geojson': outside,
      'soils.geojson': 'soils',
      'soil-tests.csv': 'layer',
      'soil-tests-far.csv': outside,
      'far.tif': outside,
      'lineup.json': 'lineup',
    });
  });

  it('a log of the field next door whose box laps over the fence is left out', async () => {
    // Next door goes round the corner: its box covers a strip of this field, its points none of it.
    const { lon, lat, side_deg } = SQUARE;
    const rows = Array.from({ length: 400 }, (_, i) => {
      const t = i / 400;
      const [x, y] =
        i % 2 === 0 ? [lon + t * side_deg, lat - 0.0005] : [lon - 0.0005, lat - 0.0005 + t * side_deg * 0.5];
      return `${x},${y},${150 + (i % 7)}`;
    });
    expect(
      await roleOf([
        text('field.geojson', geojson({ type: 'Polygon', coordinates: [ring(SQUARE)] })),
        text('own.csv', yieldText(SQUARE)),
        text('next-door.csv', ['lon,lat,yield bu/ac', ...rows].join('\n')),
      ]),
    ).toEqual({
      'field.geojson': 'boundary',
      'own.csv': 'yield',
      'next-door.csv': 'not used: it lies outside the field',
    });
  });

  it('one stray position draws no log into the field', async () => {
    const theirs = `${yieldText(fieldAt(-5))}0,0,150\n`;
    const told = await roleOf([
      fields('field.geojson', 1),
      harvest('own.csv', 0),
      text('theirs.csv', theirs),
    ]);
    expect(told['theirs.csv']).toBe('not used: it lies outside the field');
    const own = await roleOf([
      fields('field.geojson', 1),
      text('own.csv', `${yieldText(fieldAt(0))}0,0,150\n`),
    ]);
    expect(own['own.csv']).toBe('yield');
  });

  it('a second lineup and second soils are told to be so; plans are passed over', async () => {
    const sorted = await sort([
      fields('field.geojson', 1),
      soils('a.geojson', 0),
      text('b.geojson', soilsText({ ...fieldAt(0), side_deg: 0.003 })),
      LINEUP,
      { ...LINEUP, name: 'old/lineup.json' },
      text('field.plan.json', '{"document": "eachacre-plan", "version": 1}'),
    ]);
    expect(sorted.roles).toMatchObject({ soils: 'a.geojson', lineup: 'lineup.json' });
    expect(sorted.files.map(({ file, role, why }) => [file, role, why])).toEqual([
      ['field.geojson', 'boundary', ''],
      ['a.geojson', 'soils', ''],
      ['b.geojson', 'not used', 'other soils are used'],
      ['lineup.json', 'lineup', ''],
      ['old/lineup.json', 'not used', 'another lineup is used'],
    ]);
    expect(sorted.issues).toEqual([]);
  });

  it('a copy under another name is told to be one, and counts once', async () => {
    const log = yieldText(fieldAt(0));
    const told = await roleOf([
      fields('field.geojson', 1),
      text('Copy of y.txt', log),
      text('y.csv', log),
      text('z.csv', log.replace('150.01', '150.02')),
    ]);
    expect(told).toEqual({
      'field.geojson': 'boundary',
      'y.csv': 'yield',
      'Copy of y.txt': 'not used: the same records as y.csv',
      'z.csv': 'yield',
    });
  });

  it('what a letter could not say as a table is no trouble of the plan', async () => {
    const { files, issues } = await sort([
      fields('field.geojson', 1),
      text('readme.txt', 'Hi,\nhere are the maps,\nthanks\n'),
    ]);
    expect(files[1]).toMatchObject({ file: 'readme.txt', role: 'not used' });
    expect(issues).toEqual([]);
  });

  it('points in words nobody knows are told with their columns, and how to say which is yield', async () => {
    const told = await roleOf([
      fields('field.geojson', 1),
      text('y.csv', yieldText(fieldAt(0)).replace('yield bu/ac', 'hozam')),
    ]);
    expect(told['y.csv']).toContain('hozam');
    expect(told['y.csv']).toContain('--yield-column');
  });

  it('a log that has longitude and latitude in each other’s place is left out, and told', async () => {
    const swapped = text('y.csv', yieldText(fieldAt(0)).replace('lon,lat', 'lat,lon'));
    const { files, issues, roles } = await sort([fields('field.geojson', 1), swapped]);
    expect(roles.yields).toEqual([]);
    expect(files[1].why).toBe('it cannot be placed as it is');
    expect(issues.map(({ code }) => code)).toContain('lon-lat-swapped');
  });

  it('are read as is said of them', async () => {
    const points = yieldText(fieldAt(0))
      .trimEnd()
      .split('\n')
      .slice(1)
      .map((line) => line.split(',').map(Number));
    const swapped = geojson(
      ...points.map(([lon, lat, value]) => ({
        type: 'Point',
        coordinates: [lat, lon],
        properties: { 'yield bu/ac': value },
      })),
    );
    const files = [fields('field.geojson', 2), text('y.geojson', swapped)];
    expect((await sort(files)).issues.map(({ code }) => code)).toContain('lon-lat-swapped');
    const said = await sortFiles(files, 'corn', undefined, {}, (file) =>
      file === 'y.geojson' ? { swapLonLat: true } : {},
    );
    expect(said.issues).toEqual([]);
    expect(said.roles).toMatchObject({ records: [1], yields: ['y.geojson'] });
  });

  it('soil tables come along only where there are soils', async () => {
    const table = text('component.csv', 'mukey,cokey,comppct_r,cornyield\n1,10,60,150\n2,20,40,210\n');
    const alone = await roleOf([fields('field.geojson', 1), table]);
    expect(alone['component.csv']).toBe('not used: there are no soil polygons it belongs to');
    const together = await roleOf([fields('field.geojson', 1), table, soils('soils.geojson', 0)]);
    expect(together['component.csv']).toBe('soil table');
  });

  it('answers for every file that became a layer, once', async () => {
    const files = [
      fields('f.geojson', 1),
      harvest('y.csv', 0),
      soils('s.geojson', 0),
      samples('t.csv', 0),
      LINEUP,
    ];
    const sorted = await sort(files);
    expect(sorted.files.map(({ file }) => file).sort()).toEqual(files.map(({ name }) => name).sort());
    for (const { because, role, why } of sorted.files) {
      expect(because).not.toBe('');
      expect(why === '').toBe(role !== 'not used');
    }
  });
});

describe('a plan from loose files', () => {
  const words = { name: 'Farm', season: 2027, crop: 'corn' };
  const draft = (files: readonly FileBytes[]) => createDesk().call('draft', { files, ...words });
  const codes = (issues: readonly { code: string; severity: string }[]) =>
    issues.map(({ code, severity }) => `${severity} ${code}`);

  it('is made of what was found, and runs', async () => {
    const files = [fields('farm.geojson', 4), harvest('y-2025.csv', 2), soils('soils.geojson', 2), LINEUP];
    const desk = createDesk();
    const { plan, issues } = await desk.call('draft', { files, ...words });
    expect(issues.filter(({ severity }) => severity === 'error')).toEqual([]);
    expect(plan?.field.records).toEqual([3]);
    expect(plan?.sources.map(({ file }) => file)).toEqual([
      'farm.geojson',
      'soils.geojson',
      'y-2025.csv',
      'lineup.json',
    ]);
    if (!plan) return;
    const results = await desk.call('run', {
      plan: { ...plan, money: { ...plan.money, grainPrice_perBu: 4 } },
    });
    expect(results.issues.filter(({ severity }) => severity === 'error')).toEqual([]);
    expect(results.prescription?.length).toBeGreaterThan(0);
    // One field of four; 400 m a side.
    expect(results.field?.area_m2).toBeGreaterThan(150_000);
    expect(results.field?.area_m2).toBeLessThan(170_000);
  });

  it.each<[string, FileBytes, string]>([
    ['a PDF under another name', text('report.csv', '%PDF-1.7\n'), 'file-foreign'],
    ['an empty file', text('empty.csv', ''), 'file-empty'],
    [
      'a GeoJSON cut short',
      text('cut.geojson', '{"type": "FeatureCollection", "features": ['),
      'json-truncated',
    ],
  ])('goes without %s, and tells', async (_, broken, code) => {
    const { plan, issues } = await draft([broken, fields('field.geojson', 1), harvest('y.csv', 0)]);
    expect(plan?.sources.map(({ file }) => file)).toEqual(['field.geojson', 'y.csv']);
    // A picture beside the files may be worth a note only.
    expect([`warning ${code}`, `note ${code}`]).toContain(
      codes(issues.filter((own) => own.code === code))[0],
    );
    expect(codes(issues).filter((own) => own.startsWith('error'))).toEqual([]);
    expect(issues.find(({ where }) => where.startsWith(broken.name))?.effect).toContain(
      'the plan goes without it',
    );
  });

  it('is none without a boundary; every file is still told', async () => {
    const { plan, issues, files } = await draft([
      harvest('y.csv', 0),
      text('broken.pdf', '%PDF-1.7\n'),
      LINEUP,
    ]);
    expect(plan).toBeNull();
    expect(issues.map(({ code }) => code)).toEqual(['file-foreign', 'boundary-not-found']);
    expect(codes(issues).filter((own) => own.startsWith('error'))).toEqual(['error boundary-not-found']);
    expect(files.map(({ file }) => file)).toEqual(['y.csv', 'lineup.json']);
  });

  it('is none of nothing', async () => {
    expect(codes((await draft([])).issues)).toEqual(['error boundary-not-found']);
  });

  it('says what is wrong with a file once, though it is read to be sorted and to be drafted', async () => {
    const odd = text('y.csv', `${yieldText(fieldAt(0))}-93.4,,150\n`);
    const { issues } = await draft([fields('field.geojson', 1), odd]);
    const said = issues.map((issue) => JSON.stringify([issue.code, issue.where, issue.found]));
    expect(said).toEqual([...new Set(said)]);
    expect(said.length).toBeGreaterThan(0);
  });
});

describe('remembering', () => {
  const words = { name: 'Farm', season: 2027, crop: 'corn' };
  const files = [
    fields('farm.geojson', 3),
    harvest('y.csv', 1),
    soils('soils.geojson', 1),
    samples('t.csv', 1),
  ];

  it('reads each file once, from sorting to the run', async () => {
    const read = vi.fn(readTogether);
    const desk = createDesk(read);
    const { plan } = await desk.call('draft', { files, ...words });
    expect(read.mock.calls.map(([[first]]) => first.name).sort()).toEqual(
      files.map(({ name }) => name).sort(),
    );
    if (!plan) throw new Error('no plan');
    const results = await desk.call('run', { plan });
    expect(results.environment).not.toBeNull();
    expect(read).toHaveBeenCalledTimes(files.length);
  });

  it('forgets with the files: others of the same names are read anew', async () => {
    const read = vi.fn(readTogether);
    const desk = createDesk(read);
    await desk.call('draft', { files: [fields('farm.geojson', 3), harvest('y.csv', 1)], ...words });
    const { plan } = await desk.call('draft', {
      files: [fields('farm.geojson', 3), harvest('y.csv', 2)],
      ...words,
    });
    expect(plan?.field.records).toEqual([3]);
    expect(read).toHaveBeenCalledTimes(4);
  });

  it('reads a file again when something else is said of it', async () => {
    const read = vi.fn(readTogether);
    const own = remembering(read);
    const [file] = files;
    const [once, again] = await Promise.all([own([file], {}), own([file], {})]);
    expect(again).toBe(once);
    expect(read).toHaveBeenCalledTimes(1);
    await own([file], { swapLonLat: true });
    await own([{ ...file, name: 'other.geojson' }], {});
    expect(read).toHaveBeenCalledTimes(3);
  });
});

import { rmSync } from 'node:fs';
import { join } from 'node:path';
import geodesic from 'geographiclib-geodesic';
import { beforeAll, describe, expect, it } from 'vitest';
import { reportSchema } from '../../src/cli/report.ts';
import { joinTables } from '../../src/engine/layers/join-tables.ts';
import { soilChains } from '../../src/engine/layers/soil-chains.ts';
import { cellValue, type Source } from '../../src/engine/layers/source.ts';
import type { FileBytes } from '../../src/formats/file-bytes.ts';
import { readFiles } from '../../src/formats/registry.ts';
import { draftPlan } from '../../src/plan/draft.ts';
import { readPlan } from '../../src/plan/validate.ts';
import { layField } from '../../src/run/stages/lay-field.ts';
import { readSoils } from '../../src/run/stages/read-soils.ts';
import { buildCli, eachacre, freshFolder, SAMPLES } from '../cli/built.ts';
import { missing, openData } from '../formats/open-data.ts';
import { dataPath } from './open-fields.ts';

const AREAS = ['boone', 'washington'] as const;
type Area = (typeof AREAS)[number];
const TABLES = ['mapunit', 'muaggatt', 'comp', 'chorizon'];

const layer = (area: Area, base: string): FileBytes[] =>
  ['shp', 'shx', 'dbf', 'prj'].map((ending) => {
    const { bytes } = openData(`iowa_soils/${area}/${base}.${ending}`);
    return { name: `${base}.${ending}`, bytes };
  });
const textFile = (area: Area, name: string): FileBytes => ({
  name: `${name}.txt`,
  bytes: openData(`iowa_soils/${area}/${name}.txt`).bytes,
});

async function only(files: readonly FileBytes[]): Promise<Source> {
  const { sources, issues } = await readFiles(files);
  expect([sources.length, issues]).toEqual([1, []]);
  return sources[0];
}

/** Of the one ring of a layer in degrees, on the WGS 84 ellipsoid by geographiclib-geodesic (Karney 2013); NAD 83 differs by less than any digit here. */
function geodesicArea_m2({ rings }: Source): number {
  const polygon = geodesic.Geodesic.WGS84.Polygon(false);
  const [ring] = rings[0] ?? [];
  for (let i = 0; i + 1 < ring.length; i += 2) polygon.AddPoint(ring[i + 1], ring[i]);
  return Math.abs(polygon.Compute(false, true).area ?? NaN);
}

const without = (source: Source, drop: readonly string[]): Source => ({
  ...source,
  columns: source.columns.filter(({ name }) => !drop.includes(name)),
});

/** Rows of a table by the column names of the open files beside it, parted by hand: nothing of ours reads them. */
function rowsOf(area: Area, name: string, names: string): Record<string, string>[] {
  const decode = (path: string) => new TextDecoder().decode(openData(path).bytes);
  const heads = decode(`iowa_soils/SSURGO_${names}-colnames.csv`).split(/\r?\n/)[0].split(',');
  return decode(`iowa_soils/${area}/${name}.txt`)
    .split(/\r?\n/)
    .filter((line) => line !== '')
    .map((line) => {
      const cells = line.split('|').map((cell) => cell.replaceAll('"', ''));
      return Object.fromEntries(heads.map((head, k) => [head, cells[k]]));
    });
}

/** Component percent weighting of what `ofComponent` gives, NaN for none. */
function byComponents(area: Area, mukey: string, ofComponent: (cokey: string) => number): number {
  let [sum, weight] = [0, 0];
  for (const part of rowsOf(area, 'comp', 'component')) {
    const value = part.mukey === mukey ? ofComponent(part.cokey) : NaN;
    if (Number.isNaN(value)) continue;
    sum += Number(part['comppct.r']) * value;
    weight += Number(part['comppct.r']);
  }
  return sum / weight;
}

/** Σ column × thickness over the horizons of a component down to a depth, and the thickness. */
function overHorizons(area: Area, cokey: string, column: string, to_cm: number) {
  let [sum, thickness] = [0, 0];
  for (const horizon of rowsOf(area, 'chorizon', 'chorizon')) {
    const deep = Math.min(Number(horizon['hzdepb.r']), to_cm) - Number(horizon['hzdept.r']);
    if (horizon.cokey !== cokey || deep <= 0) continue;
    sum += deep * Number(horizon[column]);
    thickness += deep;
  }
  return { sum, mean: sum / thickness };
}

// SSURGO of USDA-NRCS, public domain, as kept in PFIswhc (MIT).
describe.skipIf(missing('iowa_soils/boone/comp.txt'))('iowa_soils: polygons and headerless tables', () => {
  /** Boundary, soils and tables as files, drafted for a crop, and run up to the soils. */
  async function soilsOf(area: Area, crop: string, names: readonly string[], drop: readonly string[] = []) {
    const boundary = await only(layer(area, 'aoi_a_aoi'));
    const whole = await only(layer(area, 'soilmu_a_aoi'));
    const polygons = without(whole, drop);
    const tables = await Promise.all(
      names.map(async (name) => without(await only([textFile(area, name)]), drop)),
    );
    const entry = (id: string, k = 0) => ({ id, file: id, sha256: String(k).padStart(64, '0') });
    const draft = draftPlan(
      {
        boundary: { entry: entry('boundary'), source: boundary },
        soils: { entry: entry('soils'), source: polygons },
        soilTables: tables.map((source, k) => ({ entry: entry(names[k], k + 1), source })),
        yields: [],
        layers: [],
        lineup: null,
      },
      { name: area, season: 2027, crop, soilValue: null, yieldColumn: {}, yieldUnit: {}, yieldCrop: {} },
    );
    const plan = readPlan(draft.plan, area).value;
    const soils = plan?.evidence.soils;
    if (!plan || !soils) throw new Error('no soils drafted');
    const chosen = soils.join.map(({ source }) => tables[names.indexOf(source)]);
    const field = layField(boundary, plan.field);
    return {
      boundary,
      polygons: whole,
      soils,
      field,
      layer: readSoils(polygons, chosen, field, soils),
      issues: draft.issues,
    };
  }

  const mukeys = (source: Source) => {
    const column = source.columns.find(({ name }) => name === 'MUKEY');
    if (!column) throw new Error('no MUKEY');
    return Array.from({ length: source.records }, (_, k) => String(cellValue(column, k)));
  };

  it.each([
    // Acres of the areas of interest as measured apart, and their polygons.
    ['boone', 3.65, 4],
    ['washington', 44.84, 9],
  ] as const)('%s: %d ac, %i polygons, by the crop’s index of the map unit', async (area, acres, count) => {
    const { boundary, polygons, soils, field, layer: read, issues } = await soilsOf(area, 'corn', TABLES);
    // Stated to the hundredth as areas on the plane of UTM 15N, which are up to 7e-4 smaller here.
    expect(Math.abs(field.acres - acres)).toBeLessThan(0.005 + 7e-4 * acres);
    expect(Math.abs(field.area_m2 / geodesicArea_m2(boundary) - 1)).toBeLessThan(1e-7);
    expect([polygons.records, read.mapUnits.length]).toEqual([count, count]);
    expect(read.covered_m2 / field.area_m2).toBeCloseTo(1, 4);
    expect(soils).toMatchObject({ column: 'iacornsr', join: [{ source: 'mapunit', toKey: 'mukey' }] });
    const units = rowsOf(area, 'mapunit', 'mapunit');
    expect(read.mapUnits.map(({ value }) => value)).toEqual(
      mukeys(polygons).map((key) => Number(units.find(({ mukey }) => mukey === key)?.iacornsr)),
    );
    expect(issues.map(({ code }) => code)).toEqual(['soil-value-guessed']);
  });

  it.each(AREAS)('%s without mukey and index: water held of map units, in cm', async (area) => {
    const { polygons, soils, layer: read } = await soilsOf(area, 'corn', ['muaggatt', 'chorizon'], ['MUKEY']);
    expect(soils).toMatchObject({ column: 'aws0150wta', join: [{ source: 'muaggatt', fromKey: 'MUSYM' }] });
    expect(read.unit).toBe('cm');
    const sums = rowsOf(area, 'muaggatt', 'muaggatt');
    expect(read.mapUnits.map(({ value }) => value)).toEqual(
      mukeys(polygons).map((key) => Number(sums.find(({ mukey }) => mukey === key)?.aws0150wta)),
    );
  });

  it.each(AREAS)('%s by horizons: as parted by hand, and as the survey’s own sums', async (area) => {
    const {
      polygons,
      soils,
      layer: read,
    } = await soilsOf(area, 'corn', ['chorizon', 'comp'], ['cropprodindex']);
    expect(soils).toMatchObject({
      column: 'awc_r',
      join: [
        { source: 'comp', fromKey: 'MUKEY', toKey: 'mukey', weight: 'comppct_r' },
        { source: 'chorizon', fromKey: 'cokey', toKey: 'cokey', depth: { to_cm: 150, how: 'sum' } },
      ],
    });
    expect(read.unit).toBe('cm');
    const sums = rowsOf(area, 'muaggatt', 'muaggatt');
    for (const [k, key] of mukeys(polygons).entries()) {
      const own = byComponents(area, key, (cokey) => overHorizons(area, cokey, 'awc.r', 150).sum);
      expect(read.mapUnits[k].value).toBeCloseTo(own, 9);
      // Published to the hundredth of a centimetre.
      const published = Number(sums.find(({ mukey }) => mukey === key)?.aws0150wta);
      expect(Math.abs(read.mapUnits[k].value - published)).toBeLessThan(0.0051);
    }
  });

  it('Boone by the productivity of components, weighed by their percent; not known where no component has one', async () => {
    const polygons = await only(layer('boone', 'soilmu_a_aoi'));
    const comp = await only([textFile('boone', 'comp')]);
    const [best] = soilChains(polygons, [comp], 'corn');
    expect(best).toMatchObject({ column: 'cropprodindex', measure: 'productivity', covered: 2 });
    const { values } = joinTables(polygons, [{ ...best.steps[0], table: comp }], best.column, 'none');
    const of = new Map(mukeys(polygons).map((key, k) => [key, values[k]]));
    expect(of.get('2550234')).toBeCloseTo(0.9 * 83 + 0.1 * 91, 12);
    expect(of.get('2550271')).toBeCloseTo(0.1 * 83 + 0.9 * 91, 12);
    expect([of.get('2765522'), of.get('2834849')]).toEqual([NaN, NaN]);
  });

  it('symbol 135 of Boone, by hand', async () => {
    const { layer: read } = await soilsOf('boone', 'corn', ['chorizon', 'comp'], ['cropprodindex']);
    // Coland, 90 %: .18 throughout. Spillville, 10 %: .21 to 23 cm, .18 below.
    const byHand = 0.9 * (150 * 0.18) + 0.1 * (23 * 0.21 + 127 * 0.18);
    expect(byHand).toBeCloseTo(27.069, 12);
    expect(read.mapUnits.find(({ name }) => name === '135')?.value).toBeCloseTo(byHand, 12);
  });

  it.each([
    ['awc_r', 'awc.r', 'sum', 25, 'aws025wta'],
    ['awc_r', 'awc.r', 'sum', 100, 'aws0100wta'],
    ['om_r', 'om.r', 'mean', 30, null],
    ['om_r', 'om.r', 'mean', 100, null],
    ['claytotal_r', 'claytotal.r', 'mean', 30, null],
    ['ph1to1h2o_r', 'ph1to1h2o.r', 'mean', 100, null],
  ] as const)(
    '%s through musym, mukey and cokey: %3$s to %4$i cm',
    async (column, named, how, to_cm, published) => {
      for (const area of AREAS) {
        const polygons = await only(layer(area, 'soilmu_a_aoi'));
        const bare = without(polygons, ['MUKEY']);
        const tables = await Promise.all(
          ['mapunit', 'comp', 'chorizon'].map((name) => only([textFile(area, name)])),
        );
        const [best] = soilChains(bare, tables, 'corn', column);
        expect(best.steps.map(({ table, toKey }) => [table, toKey])).toEqual([
          [0, 'musym'],
          [1, 'mukey'],
          [2, 'cokey'],
        ]);
        const steps = best.steps.map((step) => ({
          ...step,
          table: tables[step.table],
          depth: step.depth && { ...step.depth, to_cm, how },
        }));
        const { values } = joinTables(bare, steps, column, 'none');
        const sums = rowsOf(area, 'muaggatt', 'muaggatt');
        for (const [k, key] of mukeys(polygons).entries()) {
          expect(values[k]).toBeCloseTo(
            byComponents(area, key, (cokey) => overHorizons(area, cokey, named, to_cm)[how]),
            9,
          );
          const stated = published && Number(sums.find(({ mukey }) => mukey === key)?.[published]);
          if (stated) expect(Math.abs(values[k] - stated)).toBeLessThan(0.0051);
        }
      }
    },
  );
});

describe.skipIf(missing('iowa_soils/boone/comp.txt'))('iowa_soils through the command line', () => {
  let cwd = '';
  beforeAll(async () => {
    await buildCli();
    cwd = freshFolder();
    return () => rmSync(cwd, { recursive: true, force: true });
  });

  it.each(AREAS)('%s handed over as a folder, with column names of other map units beside it', (area) => {
    const files = [...TABLES.map((name) => `${name}.txt`), 'aoi_a_aoi.shp', 'soilmu_a_aoi.shp'];
    const paths = [
      ...files.map((name) => dataPath(`iowa_soils/${area}/${name}`)),
      ...['mapunit', 'component'].map((name) => dataPath(`iowa_soils/SSURGO_${name}-colnames.csv`)),
    ];
    const said = ['--season', '2027', '--lineup', join(SAMPLES, 'lineup.json'), '--grain-price', '4'];
    const planned = eachacre(['plan', ...paths, ...said, '--out', `${area}.plan.json`], { cwd });
    expect([planned.code, planned.err]).toEqual([0, expect.stringContaining('[csv-survey-names]')]);
    const ran = eachacre(['run', `${area}.plan.json`, '--out', area, '--json'], { cwd });
    expect([ran.code, ran.err]).toEqual([0, expect.any(String)]);
    const { sources, soils, field, proof } = reportSchema.parse(JSON.parse(ran.out));
    expect(sources.filter(({ role }) => role === 'soil table')).toMatchObject([
      { file: expect.stringContaining(`${area}/mapunit.txt`), used: area === 'boone' ? 4 : 3 },
    ]);
    expect((soils?.coveredAcres ?? NaN) / (field?.acres ?? NaN)).toBeCloseTo(1, 4);
    expect(proof?.ok).toBe(true);
  });
});

// Data Carpentry for Agriculture trial lesson, CC BY 4.0; SSURGO of USDA-NRCS, public domain.
describe.skipIf(missing('ohio_trial/ssurgo.geojson'))('ohio_trial: tables with headers', () => {
  const tableNamed = (name: string) =>
    only([openData(`ohio_trial/ssurgo_tabular/samplefield_SSURGO_${name}.csv`)]);

  it.each([
    ['corn', 'mucropyld'],
    ['soybean', 'mucropyld'],
    ['corn', 'cocropyld'],
  ])('%s by %s', async (crop, yields) => {
    const polygons = await only([openData('ohio_trial/ssurgo.geojson')]);
    const names = ['chorizon', 'component', 'mapunit', 'muaggatt', yields];
    const tables = await Promise.all(names.map(tableNamed));
    const [best] = soilChains(polygons, tables, crop);
    const expected = yields === 'mucropyld' ? [yields] : ['component', yields];
    expect([best.column, best.measure, ...best.steps.map(({ table }) => names[table])]).toEqual([
      'nonirryield.r',
      'crop yield',
      ...expected,
    ]);
    expect(best.steps.at(-1)?.where).toEqual({
      column: 'cropname',
      equals: crop === 'corn' ? 'Corn' : 'Soybeans',
    });
    // One of 14 polygons, of steep ground, has no rating of either crop.
    expect([best.covered, polygons.records]).toEqual([13, 14]);
  });
});

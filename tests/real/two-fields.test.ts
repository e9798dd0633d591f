import { rmSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { type Report, reportSchema } from '../../src/cli/report.ts';
import { readFiles } from '../../src/formats/registry.ts';
import { planSchema } from '../../src/plan/schema.ts';
import { layField } from '../../src/run/stages/lay-field.ts';
import { buildCli, eachacre, freshFolder, SAMPLES } from '../cli/built.ts';
import { missing } from '../formats/open-data.ts';
import { asShapefile, dataPath, openGdal } from './open-fields.ts';

let cwd = '';
beforeAll(buildCli);
beforeEach(() => {
  cwd = freshFolder();
  return () => rmSync(cwd, { recursive: true, force: true });
});

function reportOf(...args: string[]): Report {
  const planned = eachacre(['plan', ...args, '--out', 'a.plan.json'], { cwd });
  expect([planned.code, planned.err]).toEqual([0, expect.any(String)]);
  const ran = eachacre(['run', 'a.plan.json', '--out', 'out', '--json'], { cwd });
  expect([ran.code, ran.err]).toEqual([0, expect.any(String)]);
  const report = reportSchema.parse(JSON.parse(ran.out));
  for (const { read, used, repaired, setAside } of report.sources)
    expect(used + repaired + Object.values(setAside).reduce((sum, n) => sum + n, 0)).toBe(read);
  return report;
}

// Data Carpentry for Agriculture trial lesson, CC BY 4.0; SSURGO of USDA-NRCS, public domain.
describe.skipIf(missing('ohio_trial/boundary.geojson'))(
  'ohio_trial: an 85 ac corn field with SSURGO soils',
  () => {
    const field = [
      '--boundary',
      dataPath('ohio_trial/boundary.geojson'),
      '--lineup',
      join(SAMPLES, 'lineup.json'),
      '--grain-price',
      '4.2',
    ];
    it.each([
      ['GeoJSON joined to crop yields by mukey', 'ssurgo.geojson', 'mucropyld', 'soil ratings'],
      ['a shapefile joined to map unit sums by musym', 'ssurgo_shp/ssurgo.shp', 'muaggatt', 'soil index'],
    ])('with %s', (_, soils, table, from) => {
      const report = reportOf(
        ...field,
        ...[
          '--soils',
          dataPath(`ohio_trial/${soils}`),
          '--soil-table',
          dataPath(`ohio_trial/ssurgo_tabular/samplefield_SSURGO_${table}.csv`),
        ],
      );
      // 343,974.57 m² on the ellipsoid of the full coordinates; these are rounded to 1e-7 degrees (1 cm), which moved it by 0.58 m².
      expect(Math.abs((report.field?.area_m2 ?? NaN) - 343_974.57)).toBeLessThan(1);
      // 62.128 of 84.982 ac were measured in UTM 17N on the plane, whose areas are 1.8e-4 smaller here; 0.02 ac is that on the field.
      expect(Math.abs((report.soils?.coveredAcres ?? NaN) - 62.128)).toBeLessThan(0.02);
      expect(Math.abs((report.field?.acres ?? NaN) - 84.982)).toBeLessThan(0.02);
      expect(Math.abs((report.field?.cellArea_m2 ?? NaN) / (report.field?.area_m2 ?? NaN) - 1)).toBeLessThan(
        1e-9,
      );
      expect(report.environment?.from).toBe(from);
      expect(report.zones.reduce((sum, zone) => sum + zone.acres, 0)).toBeCloseTo(
        report.field?.acres ?? NaN,
        7,
      );
      const seeds = report.zones.reduce((sum, zone) => sum + zone.acres * (zone.seedsPerAc ?? NaN), 0);
      expect(Math.abs((report.ledger?.total.seeds ?? NaN) - seeds)).toBeLessThanOrEqual(
        0.5 * report.zones.length,
      );
      expect(report.proof?.ok).toBe(true);
      expect(eachacre(['verify', 'out'], { cwd }).code).toBe(0);
    });
  },
);

describe.skipIf(missing('ohio_trial/boundary.gpkg'))('ohio_trial: the boundary in full coordinates', () => {
  it('has its area on the ellipsoid', async () => {
    const files = await asShapefile(await openGdal(), dataPath('ohio_trial/boundary.gpkg'));
    const { area_m2 } = layField(
      (await readFiles(files)).sources[0],
      planSchema.shape.field.parse({ boundary: 'boundary' }),
    );
    // Given to the hundredth of a square metre.
    expect(Math.abs(area_m2 - 343_974.57)).toBeLessThan(0.01);
  });
});

// Hegedus & Maxwell, OFPEDATA, MIT, Montana State University.
describe.skipIf(missing('montana_barley_2015/yield_2015.zip'))(
  'montana_barley_2015: 31,062 points in a UTM 12N of its own words',
  () => {
    it('reads every point, closes the account, and keeps what the owner kept, nearly', () => {
      const report = reportOf(
        ...[
          '--boundary',
          dataPath('montana_barley_2015/boundary.zip'),
          '--yield',
          dataPath('montana_barley_2015/yield_2015.zip'),
        ],
        ...['--crop', 'barley', '--season', '2016'],
      );
      const source = report.sources.find(({ role }) => role === 'yield');
      const surface = report.surfaces.find(({ kind }) => kind === 'yield');
      expect(source?.read).toBe(31_062);
      // The owner kept 28,458 points of mean 33.999 and sd 8.816 by 2,604 flags; here 27,476 are kept (ends of passes, overlap and local outliers were not asked
      // by the owner), and the mean is of cells by area: 33.87 and 8.44 are seen. What nothing was cut on is `no-value` once grain is moved, else `header-up`.
      expect(source?.setAside).toMatchObject({ 'outside-field': 62 });
      expect(source?.used).toBeGreaterThan(27_000);
      expect(source?.used).toBeLessThan(28_458);
      const [log] = report.evidence.yields;
      expect(log.cleaning.find(({ id }) => id === 'no-value')?.setAside).toBeGreaterThan(2000);
      expect(log.kept).toBe(source?.used);
      expect(Math.abs((surface?.mean ?? NaN) - 33.999)).toBeLessThan(0.2);
      expect(Math.abs((surface?.sd ?? NaN) - 8.816)).toBeLessThan(0.4);
    });
  },
);

import { readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { reportSchema } from '../../src/cli/report.ts';
import { Refusal } from '../../src/engine/issue.ts';
import { cellValue, type Source } from '../../src/engine/layers/source.ts';
import type { FileBytes } from '../../src/formats/file-bytes.ts';
import { readFiles } from '../../src/formats/registry.ts';
import { planSchema } from '../../src/plan/schema.ts';
import { layField } from '../../src/run/stages/lay-field.ts';
import { buildCli, eachacre, freshFolder } from '../cli/built.ts';
import { missing, openData } from '../formats/open-data.ts';
import { asShapefile, dataPath, openGdal } from './open-fields.ts';

const M2_PER_ACRE = 4046.8564224;

/** The field part of a plan that says nothing but the record. */
const fieldOf = (record: number) => planSchema.shape.field.parse({ boundary: 'boundary', records: [record] });

interface Laid {
  readonly record: number;
  readonly acres: number;
  readonly cellShare: number;
}

/** Every record laid out by itself: a grid, or a refusal in words. Anything else thrown fails the test. */
function layEach(source: Source): { laid: Laid[]; refused: { record: number; code: string }[] } {
  const laid: Laid[] = [];
  const refused: { record: number; code: string }[] = [];
  for (let record = 1; record <= source.records; record++) {
    try {
      const field = layField(source, fieldOf(record));
      const cells = field.grid.area.reduce((sum, area) => sum + area, 0);
      laid.push({ record, acres: field.acres, cellShare: cells / field.area_m2 });
    } catch (thrown) {
      if (!(thrown instanceof Refusal)) throw thrown;
      const { code, found, expected, effect, remedy } = thrown.issue;
      expect([found, expected, effect, remedy].every((words) => words.length > 0)).toBe(true);
      refused.push({ record, code });
    }
  }
  return { laid, refused };
}

async function only(files: readonly FileBytes[]): Promise<Source> {
  const { sources, issues } = await readFiles(files);
  expect(issues.filter((issue) => issue.severity === 'error')).toEqual([]);
  expect(sources.length).toBe(1);
  return sources[0];
}

function expectAll(name: string, source: Source) {
  expect(source.records).toBe(100);
  const { laid, refused } = layEach(source);
  console.log(
    `${name}: ${laid.length} laid out, ${refused.length} refused ${JSON.stringify(refused)}, ${laid.reduce((sum, own) => sum + own.acres, 0).toFixed(2)} ac`,
  );
  expect(laid.length + refused.length).toBe(100);
  for (const { record, cellShare } of laid)
    expect([record, Math.abs(cellShare - 1) < 1e-9]).toEqual([record, true]);
  return { laid, refused };
}

// 100 field polygons each, from the national sets of fiboa's test data (US: USDA-NASS crop sequence boundaries; DK, NL: CC0).
describe.skipIf(missing('boundaries/us_csb_100.geojson'))(
  '100 US boundaries (boundaries/us_csb_100.geojson)',
  () => {
    it('each a grid whose cells add up, or words; areas as CSBACRES says', async () => {
      const source = await only([openData('boundaries/us_csb_100.geojson')]);
      const { laid } = expectAll('US', source);
      const stated = source.columns.find((column) => column.name === 'CSBACRES');
      if (!stated) throw new Error('no CSBACRES');
      const off = laid.map(({ record, acres }) =>
        Math.abs(acres / Number(cellValue(stated, record - 1)) - 1),
      );
      console.log(`US: largest difference from CSBACRES ${Math.max(...off).toExponential(2)}`);
      // Coordinates are rounded to 1e-7 degrees (about 1 cm) there, which moves the area of the smallest fields most.
      expect(Math.max(...off)).toBeLessThan(1e-3);
      const all = laid.map(({ record }) => Number(cellValue(stated, record - 1)) * M2_PER_ACRE);
      expect(
        laid.reduce((sum, { acres }) => sum + acres * M2_PER_ACRE, 0) /
          all.reduce((sum, own) => sum + own, 0),
      ).toBeCloseTo(1, 5);
    });
  },
);

describe.skipIf(missing('boundaries/dk_100_epsg25832.zip'))(
  '100 Danish boundaries (boundaries/dk_100_epsg25832.zip)',
  () => {
    it('each a grid whose cells add up, or words', async () => {
      expectAll('DK', await only([openData('boundaries/dk_100_epsg25832.zip')]));
    });
  },
);

describe.skipIf(missing('boundaries/nl_100_epsg28992.gpkg'))(
  '100 Dutch boundaries (boundaries/nl_100_epsg28992.gpkg)',
  () => {
    it('each a grid whose cells add up, or words, from a shapefile in RD coordinates made by GDAL', async () => {
      const files = await asShapefile(await openGdal(), dataPath('boundaries/nl_100_epsg28992.gpkg'));
      const source = await only(files);
      expect(source.crs?.code).toBe('EPSG:28992');
      const { laid } = expectAll('NL', source);
      // RD is conformal with scale 0.9999079 at its centre to 1.0001 at the rims: planar areas are within 2.5e-4 of the ellipsoid's.
      for (const { record, acres } of laid) {
        const planar = planarArea(source, record);
        expect([record, Math.abs((acres * M2_PER_ACRE) / planar - 1) < 2.5e-4]).toEqual([record, true]);
      }
    });
  },
);

/** Shoelace over a record's rings in its own coordinates: rings wind outers one way and holes the other. */
function planarArea(source: Source, record: number): number {
  const rings = source.rings[record - 1] ?? [];
  return Math.abs(
    rings.reduce((sum, ring) => {
      let twice = 0;
      for (let i = 0, n = ring.length; i < n; i += 2) {
        const [x1, y1] = [ring[i] - ring[0], ring[i + 1] - ring[1]];
        const [x2, y2] = [ring[(i + 2) % n] - ring[0], ring[(i + 3) % n] - ring[1]];
        twice += x1 * y2 - x2 * y1;
      }
      return sum + twice / 2;
    }, 0),
  );
}

describe.skipIf(missing('boundaries/us_csb_100.geojson'))(
  'one record of each through the command line',
  () => {
    let folder = '';
    beforeAll(async () => {
      await buildCli();
      folder = freshFolder();
      return () => rmSync(folder, { recursive: true, force: true });
    });
    it.each([
      ['us_csb_100.geojson', '3'],
      ['us_csb_100.geojson', '50'],
      ['dk_100_epsg25832.zip', '7'],
    ])('%s --record %s', (file, record) => {
      const plan = join(folder, `${file}-${record}.plan.json`);
      expect(
        eachacre(['plan', '--boundary', dataPath(`boundaries/${file}`), '--record', record, '--out', plan])
          .code,
      ).toBe(0);
      expect(JSON.parse(readFileSync(plan, 'utf8')).field.records).toEqual([Number(record)]);
      const ran = eachacre(['run', plan, '--out', join(folder, `${file}-${record}`), '--json']);
      const { field, sources } = reportSchema.parse(JSON.parse(ran.out));
      expect(ran.code).toBe(0);
      expect(sources[0]).toMatchObject({ read: 100, used: 1, setAside: { 'not-chosen': 99 } });
      expect(Math.abs((field?.cellArea_m2 ?? NaN) / (field?.area_m2 ?? NaN) - 1)).toBeLessThan(1e-9);
    });
  },
);

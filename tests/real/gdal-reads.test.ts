import { cpSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Gdal } from 'gdal3.js/node.js';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Report, reportSchema } from '../../src/cli/report.ts';
import type { FileBytes } from '../../src/formats/file-bytes.ts';
import { buildCli, eachacre, freshFolder, SAMPLES } from '../cli/built.ts';
import { missing } from '../formats/open-data.ts';
import { dataPath, openGdal, query } from './open-fields.ts';

let home = '';
let gdal: Gdal;
beforeAll(async () => {
  await buildCli();
  gdal = await openGdal();
  home = freshFolder();
});
afterAll(() => rmSync(home, { recursive: true, force: true }));

const M2_PER_ACRE = 4046.8564224;

interface Row {
  ZONE: number;
  PRODUCT: string;
  SEEDS_AC: number;
  polygons: number;
  valid: number;
  m2: number;
  stated: number;
  united: number;
}

/** By zone: polygons, whether each is valid (GEOS, through ST_IsValid), area in Albers equal-area (EPSG:5070), area stated, and the area of their union. */
const BY_ZONE = (layer: string) =>
  `select ZONE, PRODUCT, SEEDS_AC, count(*) polygons, min(ST_IsValid(geometry)) valid,
     sum(ST_Area(ST_Transform(geometry, 5070))) m2, sum(AREA_AC) stated,
     ST_Area(ST_Union(ST_Transform(geometry, 5070))) united from "${layer}" group by ZONE, PRODUCT, SEEDS_AC`;

/** Area of everything as one, EPSG:5070, m². */
const WHOLE = (layer: string) =>
  `select ST_Area(ST_Union(ST_Transform(geometry, 5070))) united from "${layer}"`;

function runOf(plan: string, out: string): Report {
  const { code, out: text, err } = eachacre(['run', plan, '--out', out, '--json']);
  expect([code, err]).toEqual([0, expect.any(String)]);
  return reportSchema.parse(JSON.parse(text));
}

/** The sample fields copied, with another shape of polygons in the plan of one. */
function withShape(name: string, shape: string): string {
  const folder = join(home, shape, 'samples');
  cpSync(SAMPLES, folder, { recursive: true });
  const plan = join(folder, name, `${name}.plan.json`);
  const json = JSON.parse(readFileSync(plan, 'utf8'));
  writeFileSync(plan, JSON.stringify({ ...json, handoff: { ...json.handoff, shape } }));
  return plan;
}

async function expectAgreement(report: Report, folder: string): Promise<void> {
  const read = (name: string): FileBytes => ({
    name: name.slice(name.lastIndexOf('/') + 1),
    bytes: new Uint8Array(readFileSync(join(folder, name))),
  });
  const shapefile = readdirSync(join(folder, 'planter'))
    .sort((a, b) => Number(b.endsWith('.shp')) - Number(a.endsWith('.shp')))
    .map((name) => read(`planter/${name}`));
  const geojson = readdirSync(folder)
    .filter((name) => name.endsWith('.geojson'))
    .map(read);
  const manifest = JSON.parse(readFileSync(join(folder, 'handoff.json'), 'utf8'));
  for (const [k, files] of [shapefile, geojson].entries()) {
    const place = join(folder, `../gdal-${k}`);
    mkdirSync(place, { recursive: true });
    const rows = (await query(gdal, place, files, BY_ZONE)) as unknown as Row[];
    expect(rows.reduce((sum, row) => sum + row.polygons, 0)).toBe(manifest.features);
    expect(rows.length).toBe(report.zones.length);
    let seeds = 0;
    for (const zone of report.zones) {
      const row = rows.find((own) => own.ZONE === zone.id);
      expect(row).toMatchObject({ PRODUCT: zone.product, SEEDS_AC: zone.seedsPerAc, valid: 1 });
      if (!row) continue;
      seeds += (row.m2 / M2_PER_ACRE) * row.SEEDS_AC;
      // Written degrees have nine decimals at least (0.1 mm), edges are straight in Albers here and in the field frame there: 1e-6 of a zone is seen.
      expect(Math.abs(row.m2 / M2_PER_ACRE / zone.acres - 1)).toBeLessThan(3e-6);
      // No polygon lies on another: the union is as large as the sum.
      expect(Math.abs(row.united / row.m2 - 1)).toBeLessThan(1e-6);
    }
    const [{ united }] = await query(gdal, place, files, WHOLE);
    expect(Math.abs(Number(united) / (report.field?.area_m2 ?? NaN) - 1)).toBeLessThan(1e-6);
    expect(Math.abs(seeds / (report.ledger?.total.seeds ?? NaN) - 1)).toBeLessThan(2e-6);
  }
}

describe.each(['cells', 'zones'])('GDAL reads the hand-off as %s', (shape) => {
  it.each(['heron-flat', 'marl-hollow'])(
    'of %s: counts, areas, rates, products, seeds, validity, no overlap',
    async (name) => {
      const plan = withShape(name, shape);
      const out = join(home, shape, name, 'out');
      await expectAgreement(runOf(plan, out), out);
    },
  );
  it.skipIf(missing('ohio_trial/boundary.geojson'))('of ohio_trial, an open 85 ac field', async () => {
    const plan = join(home, `ohio-${shape}.plan.json`);
    const planned = eachacre([
      ...[
        'plan',
        '--boundary',
        dataPath('ohio_trial/boundary.geojson'),
        '--soils',
        dataPath('ohio_trial/ssurgo.geojson'),
      ],
      ...['--soil-table', dataPath('ohio_trial/ssurgo_tabular/samplefield_SSURGO_mucropyld.csv')],
      ...['--lineup', join(SAMPLES, 'lineup.json'), '--grain-price', '4.2', '--shape', shape, '--out', plan],
    ]);
    expect([planned.code, planned.err]).toEqual([0, expect.any(String)]);
    const out = join(home, shape, 'ohio', 'out');
    await expectAgreement(runOf(plan, out), out);
  });
});

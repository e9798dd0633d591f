import { createHash } from 'node:crypto';
import type { FileBytes } from '../../src/formats/file-bytes.ts';
import { writeZip } from '../../src/formats/zip/write.ts';
import type { FieldDesign, HarvestDesign } from './design.ts';
import { boundaryGeoJson, soilsGeoJson } from './geojson.ts';
import { heronFlat } from './heron-flat.ts';
import { lineupOf } from './lineup.ts';
import { marlHollow } from './marl-hollow.ts';
import { yieldRecords } from './monitor.ts';
import { boundaryUtmShapefile, soilsShapefile } from './shapefile.ts';
import { soilPolygons } from './soils.ts';
import { trialPlots, trialsCsv } from './trials.ts';
import { TRUE_PRODUCTS } from './true-products.ts';
import { fieldTruth } from './truth.ts';
import { withReadings } from './with-readings.ts';
import { yieldCsv } from './yield-log.ts';

/** The one seed; every stream starts a stated step from it. */
const SEED = 20_270_415;
const STREAM = { trials: 1, soils: 100, harvest: 1000 };

export const FIELDS = [marlHollow, heronFlat];

/** All files of sample-fields by path, the same bytes on every call; the last digits of the lineup are as the fit leaves them. */
export function generateSampleFields(): Map<string, Uint8Array> {
  const trials = text('trials.csv', trialsCsv(trialPlots(SEED + STREAM.trials)));
  const lineup = json('lineup.json', lineupOf(trials));
  const files = [trials, lineup, json('truth.json', truth())];
  for (const [i, field] of FIELDS.entries()) {
    const own = fieldFiles(field, SEED + STREAM.soils + i, SEED + STREAM.harvest * (i + 1));
    const plan = withReadings(
      field.plan([
        ...own.map(({ name, bytes }) => ({ id: name.split('.')[0], file: name, sha256: sha256(bytes) })),
        { id: 'lineup', file: '../lineup.json', sha256: sha256(lineup.bytes) },
      ]),
      own,
    );
    for (const { name, bytes } of [...own, json(`${field.folder}.plan.json`, plan)]) {
      files.push({ name: `${field.folder}/${name}`, bytes });
    }
  }
  return new Map(files.map(({ name, bytes }) => [name, bytes]));
}

/** The files of a field, named for what they are in its plan. */
function fieldFiles(field: FieldDesign, soilSeed: number, harvestSeed: number): FileBytes[] {
  const soils = soilPolygons(field, soilSeed);
  return [
    field.boundaryAs === 'geojson'
      ? json('boundary.geojson', boundaryGeoJson(field, field.name))
      : writeZip('boundary.zip', boundaryUtmShapefile(field, field.name)),
    field.soilsAs === 'geojson'
      ? json('soils.geojson', soilsGeoJson(field, soils))
      : writeZip('soils.zip', soilsShapefile(field, soils)),
    ...field.harvests.map((harvest) => yieldFile(field, harvest, harvestSeed + 10 * harvest.year)),
  ];
}

function yieldFile(field: FieldDesign, harvest: HarvestDesign, seed: number): FileBytes {
  const name = `yield-${harvest.year}`;
  const csv = yieldCsv(yieldRecords(field, harvest, seed), harvest.log, field.crop);
  return writeZip(`${name}.zip`, [text(`${name}.csv`, csv)]);
}

function truth(): object {
  return {
    about: 'What is so, whatever the files say. Everything here is invented.',
    seed: SEED,
    fields: Object.fromEntries(FIELDS.map((field) => [field.folder, fieldTruth(field)])),
    products: TRUE_PRODUCTS,
  };
}

function text(name: string, value: string): FileBytes {
  return { name, bytes: new TextEncoder().encode(value) };
}

/** Indented by two, rows of numbers on one line: to be read by people, and by git. */
function json(name: string, value: object): FileBytes {
  const indented = JSON.stringify(value, null, 2);
  const rows = indented.replace(
    /\[\s+(-?[\d.]+(?:e-?\d+)?(?:,\s+-?[\d.]+(?:e-?\d+)?)+)\s+\]/g,
    (_, row: string) => `[${row.replace(/\s+/g, ' ')}]`,
  );
  return text(name, `${rows}\n`);
}

function sha256(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex');
}

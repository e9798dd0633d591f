import { createHash } from 'node:crypto';
import { writeZip } from '../../src/formats/zip/write.ts';
import type { FieldDesign } from './design.ts';
import { boundaryGeoJson, soilsGeoJson } from './geojson.ts';
import { heronFlat } from './heron-flat.ts';
import { lineupOf } from './lineup.ts';
import { marlHollow } from './marl-hollow.ts';
import { yieldRecords } from './monitor.ts';
import { soilPolygons } from './soils.ts';
import { trialPlots, trialsCsv } from './trials.ts';
import { TRUE_PRODUCTS } from './true-products.ts';
import { fieldTruth } from './truth.ts';
import { yieldCsv } from './yield-log.ts';

/** The one seed; every stream starts a stated step from it. */
const SEED = 20_270_415;
const STREAM = { trials: 1, soils: 100, harvest: 1000 };

export const FIELDS = [marlHollow, heronFlat];

/** All files of sample-fields by path, the same bytes on every call. */
export function generateSampleFields(): Map<string, Uint8Array> {
  const plots = trialPlots(SEED + STREAM.trials);
  const files = new Map<string, Uint8Array>();
  files.set('trials.csv', text(trialsCsv(plots)));
  files.set('lineup.json', json(lineupOf(plots)));
  for (const [i, field] of FIELDS.entries()) writeField(files, field, i);
  files.set(
    'truth.json',
    json({
      about: 'What is so, whatever the files say. Everything here is invented.',
      seed: SEED,
      fields: Object.fromEntries(FIELDS.map((field) => [field.folder, fieldTruth(field)])),
      products: TRUE_PRODUCTS,
    }),
  );
  return files;
}

function writeField(files: Map<string, Uint8Array>, field: FieldDesign, index: number): void {
  const own = new Map<string, { file: string; bytes: Uint8Array }>();
  const put = (id: string, file: string, bytes: Uint8Array) => own.set(id, { file, bytes });
  put('boundary', 'boundary.geojson', json(boundaryGeoJson(field, field.folder)));
  put('soils', 'soils.geojson', json(soilsGeoJson(field, soilPolygons(field, SEED + STREAM.soils + index))));
  for (const harvest of field.harvests) {
    const records = yieldRecords(field, harvest, SEED + STREAM.harvest * (index + 1) + 10 * harvest.year);
    const csv = text(yieldCsv(records, harvest.log, field.crop));
    const name = `yield-${harvest.year}`;
    put(name, `${name}.zip`, writeZip(`${name}.zip`, [{ name: `${name}.csv`, bytes: csv }]).bytes);
  }
  own.set('lineup', { file: '../lineup.json', bytes: files.get('lineup.json')! });
  const sources = Array.from(own, ([id, { file, bytes }]) => ({ id, file, sha256: sha256(bytes) }));
  for (const { file, bytes } of own.values()) {
    if (!file.startsWith('../')) files.set(`${field.folder}/${file}`, bytes);
  }
  files.set(`${field.folder}/${field.folder}.plan.json`, json(field.plan(sources)));
}

function text(value: string): Uint8Array {
  return new TextEncoder().encode(value);
}

/** Indented by two, short arrays of numbers on one line: to be read by people, and by git. */
function json(value: object): Uint8Array {
  const indented = JSON.stringify(value, null, 2);
  return text(`${indented.replace(/\[\s+(-?[\d.]+),\s+(-?[\d.]+)\s+\]/g, '[$1, $2]')}\n`);
}

function sha256(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex');
}

import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { strFromU8, unzipSync } from 'fflate';
import Papa from 'papaparse';
import { fieldFrame, toFrame } from '../../../src/engine/geodesy/field-frame.ts';
import type { HarvestLog } from '../../../src/engine/harvest/harvest-log.ts';

const FOLDER = join(import.meta.dirname, '../../../sample-fields');
const METRES: readonly (readonly [RegExp, number])[] = [
  [/ft$/i, 0.3048],
  [/in$/i, 0.0254],
  [/m$/i, 1],
];

/** A yield file of the sample fields as a log, its columns found by name. */
export function sampleLog(field: string, year: number): HarvestLog {
  const members = unzipSync(new Uint8Array(readFileSync(join(FOLDER, field, `yield-${year}.zip`))));
  const rows = Papa.parse<Record<string, number>>(strFromU8(members[`yield-${year}.csv`]), {
    header: true,
    dynamicTyping: true,
    skipEmptyLines: true,
  }).data;
  const named = (pattern: RegExp) => Object.keys(rows[0]).find((name) => pattern.test(name)) ?? null;
  const column = (pattern: RegExp, scale = 1) => {
    const name = named(pattern);
    return name === null ? null : Float64Array.from(rows, (row) => row[name] * scale);
  };
  const metres = (pattern: RegExp) => METRES.find(([unit]) => unit.test(named(pattern)!))![1];
  const [lon, lat] = [column(/^lon/i)!, column(/^lat/i)!];
  // 0, 0 is what the receiver writes when it is lost.
  const placed = (degrees: number) => (degrees === 0 ? NaN : degrees);
  const frame = fieldFrame(lon.at(-1)!, lat.at(-1)!);
  const { x, y } = toFrame(frame, lon.map(placed), lat.map(placed));
  return {
    records: rows.length,
    x_m: x,
    y_m: y,
    inside: Uint8Array.from(x, (place) => (Number.isNaN(place) ? 0 : 1)),
    value: column(/yield/i)!,
    buPerAcPerValue: null,
    crop: null,
    time_s: column(/time|second/i),
    flow_kgPerS: column(/flow/i),
    moisture_pct: column(/moist/i),
    speed_mPerS: column(/speed/i, /mph/i.test(named(/speed/i)!) ? 0.44704 : 1 / 3.6),
    distance_m: column(/dist/i, metres(/dist/i)),
    swath_m: column(/swath/i, metres(/swath/i)),
    heading_deg: column(/^heading|track|travel/i),
    header: column(/header/i),
    passNumber: column(/^pass/i),
  };
}

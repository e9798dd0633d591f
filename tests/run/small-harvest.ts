import { WGS84 } from '../../src/engine/geodesy/crs.ts';
import { fieldFrame, ringToLonLat } from '../../src/engine/geodesy/field-frame.ts';
import type { Source } from '../../src/engine/layers/source.ts';
import { columnsOf } from '../engine/layers/small-source.ts';

const LB = 0.45359237;
const ACRE_M2 = 4046.8564224;
/** 30 ft. */
const SWATH_M = 9.144;
const SPEED_M_PER_S = 2;

/** A record of the invented harvest: where and when, in metres of the small field and seconds. */
export interface Cut {
  readonly x: number;
  readonly y: number;
  readonly time_s: number;
  readonly pass: number;
}

/** Passes up and down the small field, 30 ft wide, a record a second at 2 m/s; a turn takes 20 s. `until` leaves the east off. */
export function cuts(until = 200): Cut[] {
  const rows: Cut[] = [];
  let time_s = 1000;
  for (let pass = 0; -195 + pass * SWATH_M < until; pass++) {
    for (let k = 0; k < 148; k++) {
      const y = -147 + SPEED_M_PER_S * k;
      rows.push({ x: -195 + pass * SWATH_M, y: pass % 2 === 0 ? y : -y, time_s: time_s++, pass: pass + 1 });
    }
    time_s += 20;
  }
  return rows;
}

/** Better toward the east and in waves to the north: a pattern a delay would smear. */
export const waves = ({ x, y }: Pick<Cut, 'x' | 'y'>): number => 170 + 0.1 * x + 30 * Math.sin(y / 20);

/** Corn as a machine weighs it: yields in bu/ac of 56 lb dry at 15.5 %, flow with the water of the moisture. */
export function grain(dry_buPerAc: number, moisture_pct: number) {
  const dry_kgPerM2 = (dry_buPerAc * 56 * LB) / ACRE_M2;
  const wet_kgPerM2 = (dry_kgPerM2 * (100 - 15.5)) / (100 - moisture_pct);
  return {
    wet_kgPerHa: wet_kgPerM2 * 1e4,
    wet_buPerAc: (wet_kgPerM2 * ACRE_M2) / (56 * LB),
    flow_lbPerS: (wet_kgPerM2 * SPEED_M_PER_S * SWATH_M) / LB,
  };
}

/** Columns of width, distance and time of those records, in US units. */
export const ground = (rows: readonly Cut[]) => ({
  Swath: rows.map(() => 30),
  Distance: rows.map(() => SPEED_M_PER_S / 0.3048),
  Seconds: rows.map(({ time_s }) => time_s),
});

const frame = fieldFrame(-90.5, 41.5);

/** Points in metres of the small field with any columns. */
export function pointFile(
  file: string,
  rows: readonly Pick<Cut, 'x' | 'y'>[],
  columns: Parameters<typeof columnsOf>[0],
): Source {
  const lonLat = ringToLonLat(frame, Float64Array.from(rows.flatMap(({ x, y }) => [x, y])));
  return {
    file,
    format: 'csv',
    shape: 'points',
    crs: WGS84,
    records: rows.length,
    x: lonLat.filter((_, i) => i % 2 === 0),
    y: lonLat.filter((_, i) => i % 2 === 1),
    rings: [],
    columns: columnsOf(columns),
    ledger: { read: rows.length, used: rows.length, repaired: 0, setAside: {} },
    issues: [],
  };
}

/** A raster over the whole small field, `columns` by `rows` pixels from the north-west, each worth what it is given. */
export function rasterFile(file: string, columns: number, rows: number, values: readonly number[]): Source {
  const [west, south, east, north] = ringToLonLat(frame, Float64Array.of(-200, -150, 200, 150));
  return {
    ...pointFile(file, [], {}),
    format: 'geotiff',
    shape: 'raster',
    records: values.length,
    raster: {
      width: columns,
      height: rows,
      transform: [(east - west) / columns, 0, west, 0, (south - north) / rows, north],
    },
    columns: columnsOf({ 'Band 1': values }),
    ledger: { read: values.length, used: values.length, repaired: 0, setAside: {} },
  };
}

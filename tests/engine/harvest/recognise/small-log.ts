import type { Column, Source } from '../../../../src/engine/layers/source.ts';

/** A made-up harvest, by record, in SI units: up and down a field at 45 N, a record a second, grain of one crop. */
export interface Drive {
  readonly crop: 'corn' | 'soybean' | 'wheat';
  readonly yield_buPerAc: number;
  readonly moisture_pct: number;
  readonly swath_m: number;
  readonly records?: number;
}

// Weights of a bushel and base moistures: University of Wisconsin Extension, Harvest Math 101.
const BUSHEL = { corn: [56, 15.5], soybean: [60, 13], wheat: [60, 13.5] } as const;
const LB = 0.45359237;
const ACRE = 4046.8564224;
const FT = 0.3048;

type Record_ = Readonly<Record<Quantity, number>>;
export type Quantity =
  | 'lon'
  | 'lat'
  | 'dry_kgPerM2'
  | 'wet_kgPerM2'
  | 'flow_kgPerS'
  | 'mass_kg'
  | 'distance_m'
  | 'swath_m'
  | 'interval_s'
  | 'moisture_pct'
  | 'speed_mPerS'
  | 'heading_deg'
  | 'time_s'
  | 'pass'
  | 'down'
  | 'elevation_m'
  | 'lbPerBu';

export function drive({ crop, yield_buPerAc, moisture_pct, swath_m, records = 600 }: Drive): Record_[] {
  const [lbPerBu, base] = BUSHEL[crop];
  return Array.from({ length: records }, (_, i) => {
    const pass = Math.floor(i / 150);
    const along = i % 150;
    const north = pass % 2 === 0 ? along : 149 - along;
    const speed_mPerS = 2 + 0.1 * Math.sin(i / 7);
    const moisture = moisture_pct + 1.5 * Math.sin(i / 23);
    const dry_kgPerM2 = (yield_buPerAc * (1 + 0.25 * Math.sin(i / 31)) * lbPerBu * LB) / ACRE;
    const wet_kgPerM2 = (dry_kgPerM2 * (100 - base)) / (100 - moisture);
    const mass_kg = wet_kgPerM2 * speed_mPerS * swath_m;
    return {
      lon: -93 + (pass * swath_m) / 78_850,
      lat: 45 + (2 * north) / 111_130,
      dry_kgPerM2,
      wet_kgPerM2,
      flow_kgPerS: mass_kg,
      mass_kg,
      distance_m: speed_mPerS,
      swath_m,
      interval_s: 1,
      moisture_pct: moisture,
      speed_mPerS,
      heading_deg: pass % 2 === 0 ? 0.4 : 180.4,
      time_s: i,
      pass: pass + 1,
      down: along < 3 ? 0 : 1,
      elevation_m: 300 + 3 * Math.sin(i / 50),
      lbPerBu,
    };
  });
}

/** How exports write things: quantity, and what one of the unit is in SI. */
export const WRITTEN = {
  'bu/ac dry': (r: Record_) => r.dry_kgPerM2 / ((r.lbPerBu * LB) / ACRE),
  'bu/ac wet': (r: Record_) => r.wet_kgPerM2 / ((r.lbPerBu * LB) / ACRE),
  'lb/ac dry': (r: Record_) => r.dry_kgPerM2 / (LB / ACRE),
  'kg/ha dry': (r: Record_) => r.dry_kgPerM2 * 1e4,
  'kg/ha wet': (r: Record_) => r.wet_kgPerM2 * 1e4,
  't/ha dry': (r: Record_) => r.dry_kgPerM2 * 10,
  't/ha wet': (r: Record_) => r.wet_kgPerM2 * 10,
  'q/ha dry': (r: Record_) => r.dry_kgPerM2 * 100,
  'g/m2 dry': (r: Record_) => r.dry_kgPerM2 * 1000,
  'ton/ac dry': (r: Record_) => r.dry_kgPerM2 / ((2000 * LB) / ACRE),
  'lb/s': (r: Record_) => r.flow_kgPerS / LB,
  'kg/s': (r: Record_) => r.flow_kgPerS,
  't/h': (r: Record_) => r.flow_kgPerS * 3.6,
  'lb mass': (r: Record_) => r.mass_kg / LB,
  'kg mass': (r: Record_) => r.mass_kg,
  'ft dist': (r: Record_) => r.distance_m / FT,
  'in dist': (r: Record_) => (r.distance_m / FT) * 12,
  'm dist': (r: Record_) => r.distance_m,
  'cm dist': (r: Record_) => r.distance_m * 100,
  'ft swath': (r: Record_) => r.swath_m / FT,
  'in swath': (r: Record_) => (r.swath_m / FT) * 12,
  'm swath': (r: Record_) => r.swath_m,
  s: (r: Record_) => r.interval_s,
  ms: (r: Record_) => r.interval_s * 1000,
  '%': (r: Record_) => r.moisture_pct,
  fraction: (r: Record_) => r.moisture_pct / 100,
  'tenths %': (r: Record_) => r.moisture_pct * 10,
  mph: (r: Record_) => (r.speed_mPerS / FT) * (3600 / 5280),
  'km/h': (r: Record_) => r.speed_mPerS * 3.6,
  'm/s': (r: Record_) => r.speed_mPerS,
  deg: (r: Record_) => r.heading_deg,
  'gps s': (r: Record_) => 1_410_000_000 + r.time_s,
  'day s': (r: Record_) => r.time_s,
  'serial d': (r: Record_) => 45_540.5 + r.time_s / 86_400,
  pass: (r: Record_) => r.pass,
  down: (r: Record_) => r.down,
  up: (r: Record_) => 1 - r.down,
  'm elev': (r: Record_) => r.elevation_m,
  'ft elev': (r: Record_) => r.elevation_m / FT,
  lon: (r: Record_) => r.lon,
  lat: (r: Record_) => r.lat,
  flag: () => 0,
} as const;

export type Written = keyof typeof WRITTEN;

/** Columns by name, as an export writes them, or text made of each record. */
export type Header = Readonly<Record<string, Written | ((record: Record_) => string)>>;

export function pointFile(records: readonly Record_[], header: Header, file = 'small.csv'): Source {
  const columns = Object.entries(header).map(([name, how]): Column => {
    if (typeof how !== 'function')
      return {
        name,
        kind: 'number',
        // Exports round: four figures behind the point do no harm.
        values: Float64Array.from(records, (record) =>
          Number(WRITTEN[how](record).toFixed(how === 'serial d' ? 7 : 4)),
        ),
      };
    const texts = records.map((record) => how(record));
    const levels = [...new Set(texts)];
    return { name, kind: 'text', codes: Int32Array.from(texts, (text) => levels.indexOf(text)), levels };
  });
  return {
    file,
    format: 'csv',
    shape: 'points',
    crs: null,
    records: records.length,
    x: Float64Array.from(records, ({ lon }) => lon),
    y: Float64Array.from(records, ({ lat }) => lat),
    rings: [],
    columns,
    ledger: { read: records.length, used: records.length, repaired: 0, setAside: {} },
    issues: [],
  };
}

/** 13:00:00 and on, in text. */
export function clock(record: Record_, start_s = 46_800): string {
  const s = (start_s + record.time_s) % 86_400;
  return [s / 3600, (s / 60) % 60, s % 60].map((own) => String(Math.floor(own)).padStart(2, '0')).join(':');
}

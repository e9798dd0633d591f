import { WGS84 } from '../../src/engine/geodesy/crs.ts';
import { fieldFrame, ringToLonLat } from '../../src/engine/geodesy/field-frame.ts';
import type { Source } from '../../src/engine/layers/source.ts';
import type { Lineup } from '../../src/plan/lineup-schema.ts';
import type { PlanInput } from '../../src/plan/schema.ts';
import type { Inputs } from '../../src/run/run.ts';
import { box } from '../engine/grid/shapes.ts';
import { columnsOf } from '../engine/layers/small-source.ts';
import { product } from '../engine/lineup/small-lineup.ts';

/** An invented field of 400 by 300 m: the west half yields 150, the east half 200 bu/ac, soils to match; three products. */
const frame = fieldFrame(-90.5, 41.5);

const ledger = (read: number) => ({ read, used: read, repaired: 0, setAside: {} });

/** Polygons from rings in metres of the field. */
export function polygons(
  file: string,
  rings: readonly (readonly number[])[],
  columns: Readonly<Record<string, readonly (number | string | null)[]>> = {},
): Source {
  return {
    file,
    format: 'geojson',
    shape: 'polygons',
    crs: WGS84,
    records: rings.length,
    x: new Float64Array(0),
    y: new Float64Array(0),
    rings: rings.map((ring) => [ringToLonLat(frame, Float64Array.from(ring))]),
    columns: columnsOf(columns),
    ledger: ledger(rings.length),
    issues: [],
  };
}

/** Points of x, y and a value, metres of the field. */
export function points(
  file: string,
  rows: readonly (readonly [x: number, y: number, value: number | null])[],
): Source {
  const metres = new Float64Array(2 * rows.length);
  rows.forEach(([x, y], k) => {
    metres[2 * k] = x;
    metres[2 * k + 1] = y;
  });
  const lonLat = ringToLonLat(frame, metres);
  return {
    file,
    format: 'csv',
    shape: 'points',
    crs: WGS84,
    records: rows.length,
    x: lonLat.filter((_, i) => i % 2 === 0),
    y: lonLat.filter((_, i) => i % 2 === 1),
    rings: [],
    columns: columnsOf({ yield: rows.map((row) => row[2]) }),
    ledger: ledger(rows.length),
    issues: [],
  };
}

const passes: [number, number, number][] = [];
for (let x = -195; x < 200; x += 5)
  for (let y = -145; y < 150; y += 5) passes.push([x, y, x < 0 ? 150 : 200]);

export const lineup = {
  document: 'eachacre-lineup' as const,
  version: 1 as const,
  name: 'Small lineup',
  scales: [],
  sites: [],
  products: [
    product({ response: { standPerEnvironment_plantsPerAc: 40 } }),
    product({ id: 'b', name: 'B', response: { level_buPerAc: 196, levelPerEnvironment: 0.6 } }),
    product({ id: 's', name: 'S', crop: 'soybean', seedsPerUnit: 140_000, pricePerUnit: 60 }),
  ],
} satisfies Lineup;

export const sources: ReadonlyMap<string, Source> = new Map([
  ['boundary', polygons('boundary.geojson', [box(-200, -150, 400, 300)])],
  [
    'soils',
    polygons('soils.geojson', [box(-200, -150, 200, 300), box(0, -150, 200, 300)], {
      MUSYM: ['Hill', 'Bottom'],
      CORN_BU: [150, 200],
    }),
  ],
  ['yield', points('yield.csv', passes)],
]);

export const inputs: Inputs = { sources, lineup };

/** What the plan of the field says beyond its defaults. */
export const answers: Partial<PlanInput> = {
  field: { boundary: 'boundary', heading_deg: 0, cell_m: 20 },
  evidence: {
    soils: { source: 'soils', label: 'MUSYM', column: 'CORN_BU', meaning: 'yield' },
    yields: [{ source: 'yield', column: 'yield', unit: 'bu/ac', year: 2024, crop: 'corn' }],
  },
  zones: { count: 2, smooth_m: 0 },
  lineup: { source: 'lineup' },
  money: { grainPrice_perBu: 4 },
  rates: { emergence: 1, step_seedsPerAc: 250 },
};

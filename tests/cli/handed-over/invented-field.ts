import type { FieldDesign, Point } from '../../../sample-fields/generator/design.ts';
import { environmentOf } from '../../../sample-fields/generator/ground.ts';
import { GRAIN, type YieldRecord, yieldRecords } from '../../../sample-fields/generator/monitor.ts';
import { smoothed } from '../../../sample-fields/generator/outline.ts';
import { contourUnit } from '../../../sample-fields/generator/soils.ts';
import { fieldFrame, toFrame } from '../../../src/engine/geodesy/field-frame.ts';
import { random } from '../../../src/engine/math/random.ts';

/** A field of about 40 acres nobody farms, one season of it, and what is so whatever the files say. */
export interface InventedField {
  readonly design: FieldDesign;
  readonly records: readonly YieldRecord[];
  readonly interval_s: number;
  readonly year: number;
  readonly delay_s: number;
  /** Grain past the sensor, dry, over the acres of the field. */
  readonly meanYield_buPerAc: number;
  /** Yield environment at places in degrees, bu/ac. */
  readonly environmentAt: (lon: Float64Array, lat: Float64Array) => Float64Array;
}

/** Places of the public grid systems the files come in; nothing there has to do with any of it. */
const PLACES = { iowa: [-93.61, 42.31], indiana: [-85.4, 40.2] } as const;
export type Place = keyof typeof PLACES;

const OUTER: readonly Point[] = [
  [-205, -200],
  [198, -204],
  [206, 96],
  [120, 204],
  [-208, 198],
];
const POND: readonly Point[] = [
  [60, -20],
  [92, -10],
  [104, -44],
  [78, -66],
  [52, -50],
];

export interface FieldWanted {
  readonly seed: number;
  readonly crop: 'corn' | 'soybean';
  readonly place: Place;
  readonly delay_s: number;
  /** Moved by so many times 0.02 degrees of latitude: the field next door. */
  readonly neighbour?: number;
  /** So many harvests on: another season of the same ground. */
  readonly later?: number;
}

export function inventedField({
  seed,
  crop,
  place,
  delay_s,
  neighbour = 0,
  later = 0,
}: FieldWanted): InventedField {
  const heading_deg = Math.floor(180 * random(seed + 7).uniform());
  const { uniform } = random(seed + 5000 * later);
  const base = crop === 'corn' ? 190 : 56;
  const [lon0, lat0] = PLACES[place];
  // One machine, one pace of recording.
  const interval_s = random(seed + 9).uniform() < 0.7 ? 1 : 2;
  const year = 2021 + Math.floor(4 * random(seed + 8).uniform()) + later;
  const season = {
    shift: base * (0.16 * uniform() - 0.08),
    stretch: 0.85 + 0.3 * uniform(),
    texture: { seed: seed + 5 + 5000 * later, sd: 0.02 * base, shortest_m: 120, longest_m: 300 },
    drowned: [],
  };
  // A sensor that reports early: the season is driven with a delay, then the readings are moved.
  const early = delay_s < 3 ? Math.ceil((3 - delay_s) / interval_s) : 0;
  const machine = {
    header_ft: [25, 30, 35, 40][Math.floor(4 * uniform())],
    speed_mph: 3.8 + 1.4 * uniform(),
    delay_s: delay_s + early * interval_s,
    smear_s: 1.5,
    offset: uniform(),
    moisture_pct: crop === 'corn' ? 15.5 + 5 * uniform() : 10 + 4 * uniform(),
  };
  const harvest = { year, season, machine, log: { interval_s, columns: [] } };
  const design: FieldDesign = {
    folder: 'invented',
    name: 'Invented field',
    crop,
    centre: fieldFrame(lon0, lat0 + 0.02 * neighbour),
    heading_deg,
    parts: [{ outer: OUTER, holes: [smoothed(POND, 2)] }],
    boundaryAs: 'geojson',
    soilsAs: 'geojson',
    ground: {
      base_buPerAc: base,
      swells: [
        { at: [-110, 90], radius_m: [110, 70], turn_deg: 30, height: -0.36 * base },
        { at: [120, -120], radius_m: [90, 110], turn_deg: 0, height: 0.22 * base },
      ],
      valleys: [
        {
          path: [
            [-220, -150],
            [0, -60],
            [210, 120],
          ],
          width_m: 60,
          height: 0.1 * base,
        },
      ],
      texture: { seed: seed + 3, sd: 0.02 * base, shortest_m: 80, longest_m: 240 },
    },
    soils: [
      contourUnit('5B', 'Sandpiece loamy sand', 0.75 * base, 4.2, 3, -Infinity),
      contourUnit('9B', 'Larkinsby sandy loam', 0.92 * base, 6.8, 2, 0.86 * base),
      contourUnit('16A', 'Merrowick loam', 1.03 * base, 9.9, 1, 0.99 * base),
      contourUnit('27A', 'Heronlea silty clay loam', 1.15 * base, 11.8, 0.5, 1.09 * base),
    ],
    harvests: [harvest],
    plan: () => {
      throw new Error('the plan is what is asked for');
    },
    truthClasses: [0],
  };
  const driven = yieldRecords(design, harvest, seed + 11 + 5000 * later);
  const records = driven.slice(0, driven.length - early).map((record, i) => ({
    ...record,
    flow_lbPerS: driven[i + early].flow_lbPerS,
  }));
  const environment = environmentOf(design.ground);
  return {
    design,
    records,
    interval_s,
    year,
    delay_s,
    meanYield_buPerAc: harvested(design, records, interval_s),
    environmentAt: (lon, lat) => {
      const { x, y } = toFrame(design.centre, lon, lat);
      const turn = (design.heading_deg * Math.PI) / 180;
      return Float64Array.from(x, (_, i) =>
        environment(
          x[i] * Math.cos(turn) - y[i] * Math.sin(turn),
          x[i] * Math.sin(turn) + y[i] * Math.cos(turn),
        ),
      );
    },
  };
}

/** Grain at base moisture that went past the sensor over the acres it stood on: the squares the invented ground is cut in give 1 to 3 % less than stood. */
function harvested(design: FieldDesign, records: readonly YieldRecord[], interval_s: number): number {
  const { lbPerBu, base_pct } = GRAIN[design.crop];
  const dry_lb = records.reduce(
    (sum, { flow_lbPerS, moisture_pct }) =>
      sum + (flow_lbPerS * interval_s * (100 - moisture_pct)) / (100 - base_pct),
    0,
  );
  return dry_lb / lbPerBu / acresOf(design);
}

/** On the design's own plane, which keeps areas. */
export function acresOf({ parts: [{ outer, holes }] }: FieldDesign): number {
  const area = (ring: readonly Point[]) =>
    Math.abs(
      ring.reduce((sum, [u, v], k) => {
        const [un, vn] = ring[(k + 1) % ring.length];
        return sum + (u * vn - un * v) / 2;
      }, 0),
    );
  return (area(outer) - holes.reduce((sum, hole) => sum + area(hole), 0)) / 4046.8564224;
}

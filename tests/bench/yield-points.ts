import { toLonLat } from '../../src/engine/geodesy/field-frame.ts';
import { type Random, random } from '../../src/engine/math/random.ts';
import { KG_PER_LB, M2_PER_ACRE } from '../../src/engine/math/units.ts';
import { FRAME, HALF_SIDE_M, PASSES, POINTS_A_PASS } from './field.ts';
import { cutEvenly, spread } from './harvester.ts';
import { groundYield } from './true-yield.ts';

/** Seed of the whole file: the same bytes on every machine. */
const SEED = 20261102;
const FIRST_SECOND = Date.UTC(2026, 9, 3, 13, 0, 0) / 1000;
const TURN_S = 20;

/** Grain is recorded so many seconds after it was cut. */
export const DELAY_S = 12;
export const SWATH_M = 6;
const KG_PER_BU = 56 * KG_PER_LB;
/** Noise of the flow sensor, of its reading. */
const FLOW_NOISE = 0.04;

/** What goes wrong, by record: a plugged or blind sensor, a moisture no grain has, a lost fix, a record written twice. */
const SPIKE = 0.003;
const WET = 0.0005;
const LEAP = 0.0005;
const TWICE = 0.0005;
const LEAP_M = 40;
/** Every so many passes one was driven this far into the ground of the pass before, the swath still recorded as full. */
const OVERLAPPING = 25;
const OVERLAP_M = 2.4;

/** One row a point, as strings of the width both files carry. */
export interface YieldPoint {
  readonly lon: number;
  readonly lat: number;
  /** Yield bu/ac, moisture %, speed m/s, heading degrees, time of the clock, pass from 1, distance m, swath m, flow kg/s. */
  readonly cells: readonly string[];
}

/**
 * A harvester up and down the field, one point a second, a pass at a time. It slows down now and then, records grain twelve seconds late and mixed with the seconds about it,
 * begins each pass empty, and errs as logs do.
 */
export function* yieldPasses(): Generator<YieldPoint[]> {
  const chance = random(SEED);
  let second = FIRST_SECOND;
  for (let pass = 0; pass < PASSES; pass++) {
    yield onePass(pass, second, chance);
    // Turning at the end of the field.
    second += POINTS_A_PASS + TURN_S;
  }
}

function onePass(pass: number, start_s: number, chance: Random): YieldPoint[] {
  const way = cutEvenly(2 * HALF_SIDE_M, POINTS_A_PASS, chance);
  const north = pass % 2 === 0;
  const overlap_m = pass % OVERLAPPING === OVERLAPPING - 1 ? OVERLAP_M : 0;
  const x = new Float64Array(POINTS_A_PASS);
  const y = new Float64Array(POINTS_A_PASS);
  const cut_kg = new Float64Array(POINTS_A_PASS);
  for (let k = 0; k < POINTS_A_PASS; k++) {
    const east = -HALF_SIDE_M + (pass + 0.5) * SWATH_M - overlap_m;
    const along = way.middle_m[k] - HALF_SIDE_M;
    const ground_ac = (way.step_m[k] * (SWATH_M - overlap_m)) / M2_PER_ACRE;
    // Uneven by a few centimetres, as positions are: no two points stand equally far from a cell's centre.
    x[k] = east + 0.05 * chance.normal();
    y[k] = (north ? along : -along) + 0.05 * chance.normal();
    cut_kg[k] = groundYield(east, north ? along : -along) * KG_PER_BU * ground_ac;
  }
  const late_kg = spread(cut_kg, DELAY_S);
  const again = new Uint8Array(POINTS_A_PASS);
  const sensed = late_kg.map((kg, k) => {
    again[k] = k > 0 && chance.uniform() < TWICE ? 1 : 0;
    const spike = chance.uniform() < SPIKE ? (chance.uniform() < 0.5 ? 2.5 : 0.2) : 1;
    if (chance.uniform() < LEAP) {
      const bearing = 2 * Math.PI * chance.uniform();
      x[k] = inside(x[k] + LEAP_M * Math.cos(bearing));
      y[k] = inside(y[k] + LEAP_M * Math.sin(bearing));
    }
    return kg * spike * (1 + FLOW_NOISE * chance.normal());
  });
  const { lon, lat } = toLonLat(FRAME, x, y);
  const point = (k: number): YieldPoint => ({
    lon: Number(lon[k].toFixed(8)),
    lat: Number(lat[k].toFixed(8)),
    cells: [
      (sensed[k] / KG_PER_BU / ((way.step_m[k] * SWATH_M) / M2_PER_ACRE)).toFixed(2),
      (chance.uniform() < WET ? 60 : 17 + 0.8 * chance.normal()).toFixed(1),
      way.step_m[k].toFixed(2),
      north ? '0.0' : '180.0',
      new Date(1000 * (start_s + k)).toISOString().slice(0, 19),
      String(pass + 1),
      way.step_m[k].toFixed(2),
      SWATH_M.toFixed(1),
      sensed[k].toFixed(2),
    ],
  });
  const points = Array.from({ length: POINTS_A_PASS }, (_, k) => point(k));
  return points.map((own, k) => (again[k] ? points[k - 1] : own));
}

function inside(along_m: number): number {
  return Math.min(HALF_SIDE_M, Math.max(-HALF_SIDE_M, along_m));
}

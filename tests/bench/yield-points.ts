import { toLonLat } from '../../src/engine/geodesy/field-frame.ts';
import { random } from '../../src/engine/math/random.ts';
import { FRAME, HALF_SIDE_M, PASSES, POINTS_A_PASS } from './field.ts';

/** Seed of the whole file: the same bytes on every machine. */
const SEED = 20261102;
const FIRST_SECOND = Date.UTC(2026, 9, 3, 13, 0, 0) / 1000;

/** One row a point, as strings of the width both files carry. */
export interface YieldPoint {
  readonly lon: number;
  readonly lat: number;
  /** Yield bu/ac, moisture %, speed m/s, heading degrees, time of the clock, pass from 1. */
  readonly cells: readonly [
    yield_: string,
    moisture: string,
    speed: string,
    heading: string,
    time: string,
    pass: string,
  ];
}

/** A harvester up and down the field, one point a second; yield is smooth ground plus noise. A pass at a time. */
export function* yieldPasses(): Generator<YieldPoint[]> {
  const chance = random(SEED);
  let second = FIRST_SECOND;
  for (let pass = 0; pass < PASSES; pass++) {
    const north = pass % 2 === 0;
    const x = new Float64Array(POINTS_A_PASS);
    const y = new Float64Array(POINTS_A_PASS);
    for (let k = 0; k < POINTS_A_PASS; k++) {
      // Uneven by a few centimetres, as positions are: no two points stand equally far from a cell's centre.
      x[k] = -HALF_SIDE_M + (pass + 0.5) * 6 + 0.05 * chance.normal();
      y[k] = (north ? 1 : -1) * (-HALF_SIDE_M + (k + 0.5) * 1.5) + 0.05 * chance.normal();
    }
    const { lon, lat } = toLonLat(FRAME, x, y);
    yield Array.from({ length: POINTS_A_PASS }, (_, k) => ({
      lon: Number(lon[k].toFixed(8)),
      lat: Number(lat[k].toFixed(8)),
      cells: [
        (ground(x[k], y[k]) + 8 * chance.normal()).toFixed(2),
        (17 + 0.8 * chance.normal()).toFixed(1),
        (1.5 + 0.05 * chance.normal()).toFixed(2),
        north ? '0.0' : '180.0',
        new Date(1000 * second++).toISOString().slice(0, 19),
        String(pass + 1),
      ],
    }));
    // Turning at the end of the field.
    second += 20;
  }
}

function ground(x: number, y: number): number {
  return 190 + 25 * Math.sin(x / 210) * Math.cos(y / 330) + 15 * Math.sin((x + 2 * y) / 900);
}

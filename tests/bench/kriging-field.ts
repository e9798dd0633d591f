import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { random } from '../../src/engine/math/random.ts';
import { DATA } from './field.ts';

/** An invented field of 160 ha, 100,000 cells of 4 m, with 20,000 points anywhere in it. */
export const WIDTH_M = 1600;
export const HEIGHT_M = 1000;
export const CELL_M = 4;
export const POINTS = 20_000;

/** The like-for-like rule, in the terms of both programs. */
export const MODEL = { family: 'spherical', nugget: 40, psill: 260, range_m: 250 } as const;
export const NEAR = { radius_m: 60, most: 24, least: 4 } as const;

const SEED = 20261125;

/** Writes the points as bare doubles, all x, then all y, then all values, bu/ac; gives the file's path. */
export function writeKrigingPoints(): string {
  const chance = random(SEED);
  const columns = new Float64Array(3 * POINTS);
  for (let i = 0; i < POINTS; i++) {
    const x = WIDTH_M * chance.uniform();
    const y = HEIGHT_M * chance.uniform();
    const ground = 190 + 20 * Math.sin(x / 70) * Math.cos(y / 110) + 10 * Math.sin((x + 2 * y) / 300);
    columns.set([x], i);
    columns.set([y], POINTS + i);
    columns.set([ground + 6 * chance.normal()], 2 * POINTS + i);
  }
  mkdirSync(DATA, { recursive: true });
  const path = join(DATA, 'kriging.points');
  writeFileSync(path, columns);
  return path;
}

import { readFileSync, writeFileSync } from 'node:fs';
import { layOutGrid } from '../../src/engine/grid/lay-out-grid.ts';
import { type Kriged, krigeOnGrid } from '../../src/engine/layers/kriging.ts';
import { CELL_M, HEIGHT_M, MODEL, NEAR, POINTS, WIDTH_M } from './kriging-field.ts';

/**
 * Our contestant, a process of its own: `kriging KIND POINTS OUT`, KIND `points` or `blocks`. Bare doubles from disk to bare doubles on disk: all estimates,
 * row by row from the south-west, then all standard errors; prints the milliseconds of each step as JSON.
 */
const [kind, points, out] = process.argv.slice(2);
const steps: Record<string, number> = {};

const columns = timed('read', () => {
  const bytes = new Uint8Array(readFileSync(points));
  return new Float64Array(bytes.buffer);
});
const [x, y, value] = [0, 1, 2].map((k) => columns.subarray(k * POINTS, (k + 1) * POINTS));
const kriged = timed('krige', () => {
  const outer = Float64Array.of(0, 0, WIDTH_M, 0, WIDTH_M, HEIGHT_M, 0, HEIGHT_M);
  const grid = layOutGrid([{ outer, holes: [] }], CELL_M, 0);
  return krigeOnGrid(grid, x, y, value, MODEL, { ...NEAR, block: kind === 'blocks' });
});
timed('write', () => writeFileSync(out, both(kriged)));
console.log(JSON.stringify({ steps }));

function both({ values, se }: Kriged): Float64Array {
  const joined = new Float64Array(values.length + se.length);
  joined.set(values);
  joined.set(se, values.length);
  return joined;
}

function timed<T>(step: string, work: () => T): T {
  const from = performance.now();
  const result = work();
  steps[step] = performance.now() - from;
  return result;
}

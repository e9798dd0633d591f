import { layOutGrid } from '../../src/engine/grid/lay-out-grid.ts';
import { blockMeans } from '../../src/engine/layers/block-mean.ts';
import { blockMedians } from '../../src/engine/layers/block-median.ts';
import { fitVariogram } from '../../src/engine/layers/fit-variogram.ts';
import { empiricalVariogram } from '../../src/engine/layers/variogram.ts';
import { random } from '../../src/engine/math/random.ts';

/** A process of its own: a million points over 900 ha to figures of 360,000 cells; prints the milliseconds of each as JSON. */
const SIDE_M = 3000;
const POINTS = 1_000_000;
const steps: Record<string, number> = {};

const chance = random(3);
const x = Float64Array.from({ length: POINTS }, () => SIDE_M * chance.uniform());
const y = Float64Array.from({ length: POINTS }, () => SIDE_M * chance.uniform());
const value = x.map((each) => 190 + 20 * Math.sin(each / 210) + 8 * chance.normal());
const outer = Float64Array.of(0, 0, SIDE_M, 0, SIDE_M, SIDE_M, 0, SIDE_M);
const grid = layOutGrid([{ outer, holes: [] }], 5, 0);
timed('cell means with standard errors', () => blockMeans(grid, x, y, value));
timed('cell medians', () => blockMedians(grid, x, y, value));
const empirical = timed('variogram of a sample of 5,000', () => empiricalVariogram(x, y, value));
timed('its models', () => fitVariogram(empirical));
console.log(JSON.stringify({ steps }));

function timed<T>(step: string, work: () => T): T {
  const from = performance.now();
  const result = work();
  steps[step] = performance.now() - from;
  return result;
}

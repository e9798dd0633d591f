import { readFileSync, writeFileSync } from 'node:fs';
import { basename } from 'node:path';
import { crsToLonLat } from '../../src/engine/geodesy/crs.ts';
import { toFrame } from '../../src/engine/geodesy/field-frame.ts';
import type { FieldGrid, Surface } from '../../src/engine/grid/field-grid.ts';
import { layOutGrid } from '../../src/engine/grid/lay-out-grid.ts';
import { blockMeans } from '../../src/engine/layers/block-mean.ts';
import { inverseDistance } from '../../src/engine/layers/inverse-distance.ts';
import { numberColumn } from '../../src/engine/layers/number-column.ts';
import { readFiles } from '../../src/formats/registry.ts';
import { CELL_M, FRAME, HALF_SIDE_M, LIKE, square } from './field.ts';
import { steps, timed, timedLater } from './steps.ts';

/**
 * Our contestant, a process of its own: `ours METHOD OUT COLUMN FILE…`. Bytes from disk to a surface of doubles on disk, row by row
 * from the south; prints the milliseconds of each step as JSON.
 */
const [method, out, column, ...paths] = process.argv.slice(2);

const files = timed('read file', () =>
  paths.map((path) => ({ name: basename(path), bytes: readFileSync(path) })),
);
const source = await timedLater('parse', async () => (await readFiles(files)).sources[0]);
const { x, y } = timed('project', () => {
  if (!source.crs) throw new Error('the bench file states its coordinate system');
  const { lon, lat } = crsToLonLat(source.crs, source.x, source.y);
  return toFrame(FRAME, lon, lat);
});
const value = numberColumn(source, column, 'No bench');
const grid = timed('lay out grid', () => layOutGrid([{ outer: square(HALF_SIDE_M), holes: [] }], CELL_M, 0));
const surface = timed('bin and interpolate', () => {
  if (method === 'inverse-distance') return inverseDistance(grid, x, y, value, LIKE);
  return cellMeansFilled(grid);
});
timed('write', () => writeFileSync(out, surface));
console.log(JSON.stringify({ steps, records: source.ledger.read, used: source.ledger.used }));

/** As the yield stage of a run does it: cell means, gaps of up to two cells filled from the 12 nearest points. */
function cellMeansFilled(grid: FieldGrid): Surface {
  const { values, support } = blockMeans(grid, x, y, value);
  const gaps = Uint8Array.from(support, (points) => (points === 0 ? 1 : 0));
  const reach = { radius_m: 2 * grid.cell_m, most: 12, power: 2 };
  const filled = inverseDistance(grid, x, y, value, reach, gaps);
  return values.map((own, cell) => (gaps[cell] ? filled[cell] : own));
}

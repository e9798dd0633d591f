import { readFileSync, writeFileSync } from 'node:fs';
import { basename } from 'node:path';
import { crsToLonLat } from '../../src/engine/geodesy/crs.ts';
import { toFrame } from '../../src/engine/geodesy/field-frame.ts';
import { pointsInside } from '../../src/engine/geometry/point-in-region.ts';
import { layOutGrid } from '../../src/engine/grid/lay-out-grid.ts';
import { cleanHarvest } from '../../src/engine/harvest/clean-harvest.ts';
import { estimateDelay } from '../../src/engine/harvest/flow-delay.ts';
import { grainRate } from '../../src/engine/harvest/grain-rate.ts';
import { findPasses } from '../../src/engine/harvest/passes.ts';
import { shiftByDelay } from '../../src/engine/harvest/shift-by-delay.ts';
import { readFiles } from '../../src/formats/registry.ts';
import { sourceCrs } from '../../src/run/stages/place-source.ts';
import { pointsToSurface } from '../../src/run/stages/points-to-surface.ts';
import { keptValues, readYield } from '../../src/run/stages/read-yield.ts';
import { takeLog } from '../../src/run/stages/take-log.ts';
import { CELL_M, FRAME, HALF_SIDE_M, square } from './field.ts';
import { steps, timed, timedLater } from './steps.ts';
import { cleaningPlan, yieldPlan } from './yield-plan.ts';

/**
 * A process of its own: `cleaned WAY OUT COLUMN FILE…`. Bytes from disk to a surface of the cleaned log on disk, as a run makes it: by its pieces, each timed
 * (`cleaned`), or by the stage itself (`stage`), which must give the same bytes. Prints the steps and what was found as JSON.
 */
const [way, out, column, ...paths] = process.argv.slice(2);

const files = timed('read file', () =>
  paths.map((path) => ({ name: basename(path), bytes: readFileSync(path) })),
);
const source = await timedLater('parse', async () => (await readFiles(files)).sources[0]);
const region = [{ outer: square(HALF_SIDE_M), holes: [] }];
const grid = timed('lay out grid', () => layOutGrid(region, CELL_M, 0));
const plan = yieldPlan(column);
if (way === 'stage') byStage();
else bySteps();

function byStage(): void {
  const field = {
    ...{ frame: FRAME, region, grid, changes: [], headingFrom: 'plan' as const },
    ...{ area_m2: (2 * HALF_SIDE_M) ** 2, acres: Number.NaN },
  };
  const { values } = readYield(source, field, plan, { crop: 'corn', cleaning: cleaningPlan });
  writeFileSync(out, values);
  console.log('{}');
}

function bySteps(): void {
  const { x, y } = timed('project', () => {
    const { lon, lat } = crsToLonLat(sourceCrs(source, []), source.x, source.y);
    return toFrame(FRAME, lon, lat);
  });
  const inside = timed('inside the field', () => pointsInside(region, x, y));
  const { log } = timed('columns in SI', () => takeLog(source, plan, 'corn', { x_m: x, y_m: y, inside }, ''));
  const driven = timed('passes', () => findPasses(log));
  const all = new Uint8Array(log.records).fill(1);
  const rate = timed('grain and ground', () => grainRate(log, driven));
  const { delay_s } = timed('flow delay', () => estimateDelay(log, driven, all, {}, rate));
  const moved = timed('shift', () => shiftByDelay(log, driven, delay_s, rate));
  const passes = timed('passes again', () => findPasses(moved, driven.track));
  const judged = timed('rules', () => cleanHarvest(moved, passes, cleaningPlan));
  const surface = timed('cell means', () => {
    const { kept } = keptValues(moved.value, judged.state);
    return pointsToSurface(grid, x, y, kept, plan.surface, source.file);
  });
  timed('write', () => writeFileSync(out, surface.values));
  const setAside = judged.report
    .filter(({ setAside }) => setAside > 0)
    .map(({ id, setAside }) => [id, setAside]);
  console.log(
    JSON.stringify({ steps, records: log.records, delay_s, setAside: Object.fromEntries(setAside) }),
  );
}

import { expect, it } from 'vitest';
import { cleanHarvest } from '../../../src/engine/harvest/clean-harvest.ts';
import { findPasses } from '../../../src/engine/harvest/passes.ts';
import { random } from '../../../src/engine/math/random.ts';
import { smallLog } from './small-log.ts';

const ODD = [NaN, Infinity, -Infinity, 0, -0, -1, 1e300, -1e300, 1e-300, 5e6, 86_400];
const COLUMNS = [
  ...['x_m', 'y_m', 'value', 'time_s', 'flow_kgPerS', 'moisture_pct', 'speed_mPerS', 'distance_m'],
  ...['swath_m', 'heading_deg', 'header', 'passNumber'],
] as const;

it.each(Array.from({ length: 40 }, (_, seed) => [seed]))(
  'log %i of any numbers at all is judged, and no record lost',
  (seed) => {
    const { uniform, normal, integer } = random(seed);
    const n = 1 + integer(400);
    const oddness = [0, 0.02, 0.3, 1][seed % 4];
    const scale = 10 ** (4 * uniform() - 1);
    const figure = (i: number) =>
      uniform() < oddness ? ODD[integer(ODD.length)] : uniform() < 0.3 ? scale * normal() : i;
    const columns = Object.fromEntries(
      COLUMNS.filter((name) => name.length < 6 || uniform() < 0.7).map((name) => [
        name,
        Array.from({ length: n }, (_, i) => figure(i)),
      ]),
    );
    const inside = Array.from({ length: n }, () => (uniform() < 0.9 ? 1 : 0));
    const log = smallLog(n, {
      ...columns,
      inside,
      crop: 'corn',
      buPerAcPerValue: uniform() < 0.5 ? null : 1,
    });
    const started = performance.now();
    const passes = findPasses(log);
    const { state, reasons, report } = cleanHarvest(log, passes);
    expect(performance.now() - started).toBeLessThan(2000);
    expect([...passes.order].sort((a, b) => a - b)).toEqual(Array.from({ length: n }, (_, i) => i));
    expect(passes.pass.every((own) => own >= -1 && own < passes.first.length)).toBe(true);
    for (let p = 0; p < passes.first.length; p++) {
      expect(passes.pass[passes.order[passes.first[p]]]).toBe(p);
      expect(passes.pass[passes.order[passes.last[p]]]).toBe(p);
    }
    expect(state.every((own) => own <= reasons.length)).toBe(true);
    const setAside = report.reduce((sum, own) => sum + own.setAside, 0);
    expect(state.reduce((sum, own) => sum + (own > 0 ? 1 : 0), 0)).toBe(setAside);
  },
);

it('a machine standing still for an hour with the header down', () => {
  const { normal } = random(1);
  const n = 20_000;
  const each = (own: () => number) => Array.from({ length: n }, own);
  const log = smallLog(n, {
    x_m: each(() => 0.3 * normal()),
    y_m: each(() => 0.3 * normal()),
    value: each(() => 100 + normal()),
  });
  const started = performance.now();
  cleanHarvest(log, findPasses(log));
  expect(performance.now() - started).toBeLessThan(5000);
});

it('a swath in another unit covers no field', () => {
  const log = smallLog(300, { swath_m: Array.from({ length: 300 }, () => 480) });
  const { report } = cleanHarvest(log, findPasses(log));
  expect(report.find(({ id }) => id === 'overlap')).toMatchObject({ setAside: 0 });
});

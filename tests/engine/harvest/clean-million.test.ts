import { expect, it } from 'vitest';
import { CLEANING_RULES, cleanHarvest } from '../../../src/engine/harvest/clean-harvest.ts';
import { findPasses } from '../../../src/engine/harvest/passes.ts';
import { drivenPasses } from './driven-passes.ts';

it('1.5 million records go through every rule', () => {
  const driven = drivenPasses({
    passes: 1500,
    records: 1000,
    noise: 0.08,
    gps_m: 0.2,
    crop: 'corn',
    yieldAt: (along, across) => 180 + 40 * Math.sin(across / 90) * Math.cos(along / 130),
  });
  const log = { ...driven, moisture_pct: new Float64Array(driven.records).fill(18) };
  const started = performance.now();
  const passes = findPasses(log);
  const found = performance.now();
  const { state, report } = cleanHarvest(log, passes);
  const done = performance.now();
  console.log(`passes ${(found - started).toFixed(0)} ms, rules ${(done - found).toFixed(0)} ms`);
  expect(passes.first.length).toBe(1500);
  expect(report.filter(({ tried }) => tried).length).toBe(CLEANING_RULES.length);
  let kept = 0;
  for (const own of state) if (own === 0) kept++;
  expect(kept / log.records).toBeGreaterThan(0.97);
  // Seen: 5.7 s while eight others shared two cores. Only what grows faster than the records would break this.
  expect(done - started).toBeLessThan(30_000);
});

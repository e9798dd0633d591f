import { describe, expect, it } from 'vitest';
import { type GrainRecords, yieldFromFlow } from '../../../src/engine/harvest/yield-from-flow.ts';

const LB = 0.45359237;
const FT = 0.3048;
const CORN = { lbPerBu: 56, baseMoisture_pct: 15.5, expandDrier: false };
const none: GrainRecords = {
  flow_kgPerS: null,
  mass_kg: null,
  interval_s: null,
  distance_m: null,
  speed_mPerS: null,
  swath_m: null,
  moisture_pct: null,
};
const one = (value: number) => Float64Array.of(value);

describe('yield worked out from grain and ground', () => {
  // 25 lb/s at 5 mph and 20 ft, corn of 18 %: 25 · 43,560 / (22/3 · 20 · 56) · 82 / 84.5 = 128.6665 bu/ac, worked by hand from the arithmetic of a bushel.
  const flow = one(25 * LB);
  const swath = one(20 * FT);
  const moisture = one(18);

  it('is 128.6665 bu/ac of 25 lb/s at 5 mph, 20 ft and 18 %, by speed or by distance and seconds', () => {
    const speed = one((5 * 5280 * FT) / 3600);
    const bySpeed = yieldFromFlow(
      { ...none, flow_kgPerS: flow, speed_mPerS: speed, swath_m: swath, moisture_pct: moisture },
      CORN,
    );
    expect(bySpeed[0]).toBeCloseTo(128.6665, 4);
    const distance = one((22 / 3) * FT * 2);
    for (const interval_s of [2, one(2)]) {
      const records = {
        ...none,
        flow_kgPerS: flow,
        distance_m: distance,
        swath_m: swath,
        moisture_pct: moisture,
        interval_s,
      };
      expect(yieldFromFlow(records, CORN)[0]).toBeCloseTo(128.6665, 4);
    }
    const mass = { ...none, mass_kg: one(50 * LB), swath_m: swath, moisture_pct: moisture };
    expect(yieldFromFlow({ ...mass, distance_m: distance }, CORN)[0]).toBeCloseTo(128.6665, 4);
    expect(yieldFromFlow({ ...mass, speed_mPerS: speed, interval_s: 2 }, CORN)[0]).toBeCloseTo(128.6665, 4);
  });

  it('is lb · 6,272,640 / (in · in · lb a bushel) as harvested', () => {
    const records = {
      ...none,
      mass_kg: one(16.2 * LB),
      distance_m: one(91 * 0.0254),
      swath_m: one(480 * 0.0254),
    };
    const wet = yieldFromFlow(records, { lbPerBu: 60, baseMoisture_pct: null, expandDrier: false });
    expect(wet[0]).toBeCloseTo((16.2 * 6_272_640) / (91 * 480 * 60), 9);
  });

  it('counts 1,000 wet bushels of 26 % as 870.588 at 15 %', () => {
    // Farm Progress, Count dry bushels: 870.6 bu.
    const acre = {
      ...none,
      mass_kg: one(56_000 * LB),
      distance_m: one(4046.8564224),
      swath_m: one(1),
      moisture_pct: one(26),
    };
    expect(yieldFromFlow(acre, { ...CORN, baseMoisture_pct: 15 })[0]).toBeCloseTo(870.588, 3);
  });

  it('expands drier grain only when asked', () => {
    const acre = {
      ...none,
      mass_kg: one(5600 * LB),
      distance_m: one(4046.8564224),
      swath_m: one(1),
      moisture_pct: one(12),
    };
    expect(yieldFromFlow(acre, CORN)[0]).toBeCloseTo(100, 9);
    expect(yieldFromFlow(acre, { ...CORN, expandDrier: true })[0]).toBeCloseTo(100 * (88 / 84.5), 9);
  });

  it('is not known where anything lacks, and over no ground', () => {
    const n = NaN;
    const records: GrainRecords = {
      flow_kgPerS: Float64Array.of(10, n, 10, 10, 10, 10, 0),
      mass_kg: null,
      interval_s: Float64Array.of(n, 1, 1, 1, 1, 1, 1),
      distance_m: Float64Array.of(2, 2, 0, 2, 2, 2, 2),
      speed_mPerS: null,
      swath_m: Float64Array.of(6, 6, 6, n, 6, 6, 6),
      moisture_pct: Float64Array.of(15, 15, 15, 15, n, 150, 15),
    };
    expect([...yieldFromFlow(records, CORN)]).toEqual([n, n, n, n, n, n, 0]);
    expect(yieldFromFlow(none, CORN)).toHaveLength(0);
    expect([...yieldFromFlow({ ...none, flow_kgPerS: flow }, CORN)]).toEqual([n]);
  });
});

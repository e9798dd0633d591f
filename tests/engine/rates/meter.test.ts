import { describe, expect, it } from 'vitest';
import { mostSeedsPerAc, seedsPerSecond } from '../../../src/engine/rates/meter.ts';
import { rateRange } from '../../../src/engine/rates/rate-range.ts';
import { zoneOption } from '../../../src/engine/rates/zone-option.ts';
import { product } from '../lineup/small-lineup.ts';
import { money } from './small-doubt.ts';

describe('the meter of a planter', () => {
  // By hand: population × row (ft) × speed (ft/s) / 43,560; 32,000 × 2.5 × 7.3333 / 43,560.
  it.each([
    [32_000, 30, 5, 13.468],
    [32_000, 30, 10, 26.936],
    [36_000, 30, 10, 30.303],
    [140_000, 15, 5, 29.461],
    [140_000, 30, 6, 70.707],
  ])(
    'drops at %d seeds/ac in %d inch rows at %d mph %d seeds a second',
    (seeds, row_in, speed_mph, found) => {
      expect(seedsPerSecond(seeds, { row_in, speed_mph })).toBeCloseTo(found, 3);
      expect(mostSeedsPerAc({ row_in, speed_mph, mostSeedsPerSecond: found })).toBeCloseTo(seeds, -1);
    },
  );

  const limits = { step_seedsPerAc: 500, lowest_seedsPerAc: 0, highest_seedsPerAc: null };
  const planter = { row_in: 30, speed_mph: 10, mostSeedsPerSecond: 20 };

  it('holds rates where it is the nearest limit, and says so', () => {
    // 20 seeds a second are 23,760 seeds an acre.
    expect(rateRange(product(), 1, { ...limits, planter })).toMatchObject({ to: 23_500, toLimit: 'meter' });
    expect(rateRange(product(), 1, { ...limits, planter, highest_seedsPerAc: 22_000 })?.toLimit).toBe(
      'highest',
    );
    const fast = { ...planter, mostSeedsPerSecond: 90 };
    expect(rateRange(product(), 1, { ...limits, planter: fast })?.toLimit).toBe('tested');
  });

  it('costs what the rate it holds earns less than the best', () => {
    const free = zoneOption(product(), 0, 200, money, limits)!;
    const held = zoneOption(product(), 0, 200, money, { ...limits, planter })!;
    expect(held.bound).toEqual(['meter']);
    expect(held.boundCostsPerAc).toBeCloseTo(free.marginPerAc - held.marginPerAc, 9);
    expect(held.boundCostsPerAc).toBeGreaterThan(0);
    expect(free.boundCostsPerAc).toBe(0);
  });

  it('costs nothing that could be told where the trials go no further', () => {
    const short = product({ tested_plantsPerAc: { min: 20_000, max: 24_000 } });
    const held = zoneOption(short, 0, 200, money, limits)!;
    expect(held.bound).toEqual(['tested']);
    expect(held.boundCostsPerAc).toBe(0);
  });
});

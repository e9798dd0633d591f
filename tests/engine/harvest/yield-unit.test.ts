import { describe, expect, it } from 'vitest';
import { kgPerM2, YIELD_UNITS, yieldIn_buPerAc } from '../../../src/engine/harvest/yield-unit.ts';

describe('a yield in bu/ac', () => {
  // 1 bu/ac of corn is 62.77 kg/ha: the factor extension tables print, from memory.
  it.each([
    ['bu/ac', 100],
    ['lb/ac', 5600],
    ['ton/ac', 2.8],
    ['kg/ha', 6277],
    ['q/ha', 62.77],
    ['t/ha', 6.277],
    ['g/m2', 627.7],
  ] as const)('of %s: %d are 100 of corn', (unit, value) => {
    expect(yieldIn_buPerAc(value, unit, 'corn')).toBeCloseTo(100, 2);
  });

  it('is not known without a unit', () => {
    expect(yieldIn_buPerAc(1, 'unknown', 'corn')).toBeNull();
    expect(kgPerM2('unknown', 56)).toBeNull();
    expect(kgPerM2('bu/ac', null)).toBeNull();
    expect(YIELD_UNITS.filter((unit) => kgPerM2(unit, 56) === null)).toEqual(['unknown']);
  });
});

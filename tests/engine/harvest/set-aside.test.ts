import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { countByReason, judgeYieldPoints } from '../../../src/engine/harvest/set-aside.ts';

const f = (...values: number[]) => Float64Array.from(values);
const keep = { from: 0.1, to: 3 };

describe('yield points judged', () => {
  it('carry the first reason that holds', () => {
    const x = f(NaN, 1, 1, 1, 1, 1, 1, 1, Infinity);
    const y = f(1, 1, 1, 1, 1, 1, 1, 1, 1);
    const value = f(NaN, NaN, 0, 100, 5, 400, 100, -3, 100);
    const inside = Uint8Array.of(0, 1, 1, 0, 1, 1, 1, 1, 1);
    const judged = judgeYieldPoints(x, y, value, inside, keep);
    const told = Array.from(judged.state, (state) => (state === 0 ? 'kept' : judged.reasons[state - 1]));
    expect(told).toEqual([
      'no-position',
      'no-value',
      'zero-yield',
      'outside-field',
      'too-low',
      'too-high',
      'kept',
      'zero-yield',
      'no-position',
    ]);
    expect(countByReason(judged)).toEqual({
      'no-position': 2,
      'no-value': 1,
      'zero-yield': 2,
      'outside-field': 1,
      'too-low': 1,
      'too-high': 1,
    });
    expect(countByReason(judged, (row) => row > 6)).toEqual({ 'zero-yield': 1, 'no-position': 1 });
  });

  it('are measured against the median of the sound ones alone: zeros and strays outside do not move it', () => {
    const value = f(0, 0, 0, 0, 1, 1, 1, 1, 100, 100, 100, 320);
    const inside = Uint8Array.from(value, (v) => (v === 1 ? 0 : 1));
    const judged = judgeYieldPoints(
      value.map(() => 0),
      value.map(() => 0),
      value,
      inside,
      keep,
    );
    expect(countByReason(judged)).toEqual({ 'zero-yield': 4, 'outside-field': 4, 'too-high': 1 });
  });

  it('are all kept when all yields are equal, and none when there is none', () => {
    const same = judgeYieldPoints(f(1, 1), f(1, 1), f(50, 50), Uint8Array.of(1, 1), keep);
    expect(Array.from(same.state)).toEqual([0, 0]);
    expect(judgeYieldPoints(f(), f(), f(), new Uint8Array(0), keep).state.length).toBe(0);
  });

  it('keep their account: kept and set aside make all, and the values are left alone', () => {
    const anyValue = fc.oneof(fc.double(), fc.constantFrom(0, -1, 100, 120, NaN, Infinity));
    fc.assert(
      fc.property(fc.array(fc.tuple(anyValue, anyValue, anyValue, fc.boolean())), (points) => {
        const [x, y, value] = [0, 1, 2].map((k) => Float64Array.from(points, (point) => Number(point[k])));
        const before = value.slice();
        const inside = Uint8Array.from(points, (point) => Number(point[3]));
        const judged = judgeYieldPoints(x, y, value, inside, keep);
        const aside = Object.values(countByReason(judged)).reduce((sum, n) => sum + n, 0);
        const kept = judged.state.filter((state) => state === 0).length;
        return (
          kept + aside === points.length &&
          value.every((v, i) => Object.is(v, before[i])) &&
          judged.state.every((state, i) => state !== 0 || (inside[i] === 1 && value[i] > 0))
        );
      }),
      { seed: 1, numRuns: 500 },
    );
  });
});

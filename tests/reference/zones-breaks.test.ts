import { describe, expect, it } from 'vitest';
import { naturalBreaks } from '../../src/engine/zones/natural-breaks.ts';
import { eruptions } from './faithful.ts';

/**
 * Computed with classIntervals(style = "fisher") of the R package classInt on R's data set `faithful`. R prints a break halfway between the
 * last value of a class and the first of the next; ours are the last values, so the halves are taken here.
 */
describe('natural breaks on the eruptions of Old Faithful', () => {
  it.each([
    { count: 3, breaks: [2.9835, 4.2165], fit: 0.9532635 },
    { count: 4, breaks: [2.7165, 3.792, 4.3915], fit: 0.9686325 },
    { count: 5, breaks: [2.1165, 2.9835, 3.9335, 4.4415], fit: 0.9801812 },
  ])('agrees with R for $count classes', ({ count, breaks, fit }) => {
    const found = naturalBreaks(eruptions, count);
    const between = found.upper.slice(0, -1).map((upper) => {
      const above = Math.min(...eruptions.filter((value) => value > upper));
      return (upper + above) / 2;
    });
    expect(between.length).toBe(breaks.length);
    between.forEach((value, k) => {
      expect(value).toBeCloseTo(breaks[k], 9);
    });
    expect(found.upper.at(-1)).toBe(5.1);
    expect(found.fit).toBeCloseTo(fit, 7);
  });
});

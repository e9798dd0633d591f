import { expect, it } from 'vitest';
import { withinTested } from '../../../src/engine/lineup/within-tested.ts';

const tested = { min: 22_000, max: 42_000 };

it.each([
  [
    { value: 31, low: 28, high: 34 },
    { value: 31, low: 28, high: 34 },
  ],
  [
    { value: 28.7, low: 19.6, high: 31.4 },
    { value: 28.7, low: 0, high: 31.4 },
  ],
  [
    { value: 38, low: 33, high: 46 },
    { value: 38, low: 33, high: Infinity },
  ],
  [
    { value: 22, low: 22, high: 42 },
    { value: 22, low: 22, high: 42 },
  ],
  [
    { value: 30, low: NaN, high: NaN },
    { value: 30, low: NaN, high: NaN },
  ],
])('an end of %j beyond the stands tried is open: %j', (given, shown) => {
  expect(withinTested(given, tested)).toEqual(shown);
  expect(withinTested(given, null)).toEqual(given);
});

import { expect, it } from 'vitest';
import { cooksDistance } from '../../../src/engine/math/cooks-distance.ts';

it('agrees with cooks.distance of R 4.2.2', () => {
  const x = Float64Array.of(-3, -1, 0, 7, 1, 2, 5);
  const y = Float64Array.of(-1.2, 0.4, -0.3, NaN, 0.9, -2, 1.1);
  // cooks.distance(lm(y ~ x)), the point without y left out; fifteen digits printed.
  const expected = [
    1.13888677279041e-1,
    9.7589955314055e-2,
    1.0493251003286e-6,
    NaN,
    8.06341704621928e-2,
    4.50291423813489e-1,
    5.73231827141857e-1,
  ];
  const own = cooksDistance(x, y);
  for (const k of [0, 1, 2, 4, 5, 6]) expect(own(k)).toBeCloseTo(expected[k], 13);
  expect(own(3)).toBeNaN();
});

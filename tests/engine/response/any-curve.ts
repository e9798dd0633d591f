import fc from 'fast-check';
import type { Curve } from '../../../src/engine/response/curve.ts';
import type { FamilyId } from '../../../src/engine/response/family.ts';

/** Spread evenly over a range, which `fc.double` is not: most of its numbers lie next to zero. */
export function evenly(min: number, max: number): fc.Arbitrary<number> {
  const last = 2 ** 31 - 1;
  return fc.integer({ min: 0, max: last }).map((k) => min + ((max - min) * k) / last);
}

/** Bends that each family may have, corn or soybean, by 1000 plants. */
const BENDS: Readonly<Record<FamilyId, readonly [number, number] | null>> = {
  quadratic: [5e-4, 0.5],
  'quadratic-plateau': [5e-4, 0.5],
  'linear-plateau': [0.05, 8],
  'density-decay': null,
  'parabolic-reciprocal': [0.02, 8],
  mitscherlich: [0, 20],
  holliday: null,
  line: [-3, 3],
};

export function anyBendOf(family: FamilyId): fc.Arbitrary<number> {
  const range = BENDS[family];
  return range ? evenly(...range) : fc.constant(NaN);
}

export function anyCurveOf(family: FamilyId): fc.Arbitrary<Curve> {
  return fc.record({
    family: fc.constant(family),
    level: evenly(5, 300),
    stand: evenly(3, 200),
    bend: anyBendOf(family),
  });
}

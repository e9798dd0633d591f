import { describe, expect, it } from 'vitest';
import type { ProductResponse } from '../../../src/engine/lineup/product-response.ts';
import { optimumInterval } from '../../../src/engine/lineup/response-interval.ts';
import { random } from '../../../src/engine/math/random.ts';
import { FAMILIES } from '../../../src/engine/response/families.ts';
import type { FamilyId } from '../../../src/engine/response/family.ts';

const IDS = Object.keys(FAMILIES) as FamilyId[];
const STAND = 33_000;
const BENDS: Partial<Record<FamilyId, number>> = {
  quadratic: 0.15,
  'quadratic-plateau': 0.2,
  'linear-plateau': 3,
  'parabolic-reciprocal': 0.8,
  mitscherlich: 2,
  line: 0.3,
};

/** A response of these standard errors of level, stand and bend, nothing going along with anything. */
function response(family: FamilyId, errors: readonly [number, number, number], df = 60): ProductResponse {
  const [level, stand, bend] = errors.map((own) => own * own);
  return {
    ...{ family, reference_buPerAc: 200, level_buPerAc: 200, levelPerEnvironment: 1 },
    ...{ stand_plantsPerAc: STAND, standPerEnvironment_plantsPerAc: 0, bend: BENDS[family] ?? null },
    uncertainty: {
      // biome-ignore format: a triangle
      covariance: [
        level,
        0, 0,
        0, 0, stand,
        0, 0, 0, 0,
        0, 0, 0, 0, bend,
      ],
      ...{ df, plotSd_buPerAc: 6, siteSd_buPerAc: 3 },
    },
  };
}

describe('the interval of a best stand', () => {
  it.each(['density-decay', 'parabolic-reciprocal', 'quadratic-plateau'] as const)(
    'of %s is that of its stand where hardly anything is unsure',
    (family) => {
      const found = optimumInterval(response(family, [0.01, 1, 1e-6]), 200, 0)!;
      // t of 60 degrees of freedom at 95 %, from printed tables: 2.000. Over so little every curve is a plane.
      expect(found.high - found.value).toBeCloseTo(2.0 * 0.001, 5);
      expect(found.value - found.low).toBeCloseTo(2.0 * 0.001, 5);
    },
  );
  it('reaches further to the side where the curve is flat', () => {
    const { value, low, high } = optimumInterval(response('density-decay', [2, 2000, 0]), 200, 0)!;
    expect(high - value).toBeGreaterThan(1.05 * (value - low));
  });
  it('is its value where all is sure, and open without degrees of freedom', () => {
    for (const family of ['density-decay', 'parabolic-reciprocal', 'linear-plateau'] as const) {
      const sure = optimumInterval(response(family, [0, 0, 0]), 200, 0);
      expect(sure).toEqual({ value: 33, low: 33, high: 33 });
      const none = optimumInterval(response(family, [2, 500, 0.01], 0), 200, 0)!;
      expect([none.low <= 0, none.high]).toEqual([true, Infinity]);
    }
  });
});

it('whatever a response says of itself, its interval holds its value', () => {
  const { uniform, normal, integer } = random(5);
  let closed = 0;
  for (let round = 0; round < 2000; round++) {
    const family = IDS[integer(IDS.length)];
    const size = 10 ** (3 * uniform() - 2);
    const own = response(family, [0, 0, 0], integer(40));
    const scales = [5, 0.1, 2000, 20, 0.1 * (BENDS[family] ?? 0)].map(
      (s) => s * size * Math.min(1, integer(5)),
    );
    const rank = 1 + integer(5);
    const loads = scales.map((s) => Array.from({ length: rank }, () => s * normal()));
    const covariance = loads.flatMap((one, i) =>
      loads
        .slice(0, i + 1)
        .map((other) =>
          integer(60) === 0 ? 10 * normal() : one.reduce((sum, load, k) => sum + load * other[k], 0),
        ),
    );
    const { value, low, high } = optimumInterval(
      {
        ...own,
        stand_plantsPerAc: STAND * Math.exp(0.3 * normal()),
        bend: own.bend && own.bend * Math.exp(normal()),
        uncertainty: { ...own.uncertainty!, covariance },
      },
      120 + 160 * uniform(),
      integer(2) ? 0 : 2 * uniform(),
      integer(2) ? { min: 20_000, max: 40_000 } : null,
    )!;
    if (!Number.isFinite(value)) {
      expect([low, high]).toEqual([NaN, NaN]);
      continue;
    }
    // A best stand found by halving is no sharper.
    expect(low).toBeLessThanOrEqual(value * (1 + 1e-9));
    expect(high).toBeGreaterThanOrEqual(value * (1 - 1e-9));
    if (low > 0 && high < Infinity) closed++;
  }
  expect(closed).toBeGreaterThan(400);
});

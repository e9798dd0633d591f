import { expect, it } from 'vitest';
import type { FamilyId } from '../../../src/engine/response/family.ts';
import { bestStandOf } from '../../../src/engine/response/fit/best-stand.ts';
import { isRefused } from '../../../src/engine/response/fit/family-fit.ts';
import { fitFamily } from '../../../src/engine/response/fit/fit-family.ts';
import { profileInterval } from '../../../src/engine/response/fit/profile-interval.ts';
import { madeTrial, REFERENCE } from './made-trials.ts';

const TRIALS = 120;
/** Bushels a thousand plants cost. */
const R = 0.8;

/**
 * Of a thousand trials each (seeded, not part of the tests) of 8 and 20 sites, five and six stands, 93.9 to 95.6 % of the intervals held the best stand and 94.2 to 96.2 % the one that pays. Of three sites 92 to 95 %: where two of
 * three sites are much alike the stand is held the same on all ground, which it is not. Drawing sites again held 88 to 92 % at eight sites.
 */
it.each<[FamilyId, number, readonly number[]]>([
  ['quadratic', 3, [20, 24, 28, 32, 36, 40]],
  ['quadratic', 8, [20, 25, 30, 35, 40]],
  ['quadratic', 20, [20, 24, 28, 32, 36, 40]],
  ['density-decay', 3, [20, 25, 30, 35, 40]],
  ['density-decay', 8, [20, 24, 28, 32, 36, 40]],
  ['density-decay', 20, [20, 25, 30, 35, 40]],
])(
  'intervals of %s over %s sites hold the best stand and the one that pays 19 times in 20',
  (family, sites, stands_k) => {
    const truth = [200, 1, 33, 0.03, family === 'quadratic' ? 0.15 : NaN];
    const held = [0, R].map((r) => {
      const figure = bestStandOf(family, 0, r);
      const own = figure(Float64Array.from(truth));
      let count = 0;
      for (let seed = 1; seed <= TRIALS; seed++) {
        const fit = fitFamily(
          madeTrial(family, truth, { seed: 100 * seed + sites, sites, stands_k }),
          family,
          REFERENCE,
        );
        if (isRefused(fit)) continue;
        const { low, high } = profileInterval(fit, figure);
        if (low <= own && own <= high) count++;
      }
      return count / TRIALS;
    });
    for (const share of held) {
      // 95 %, give or take three standard errors of 2 points; all of them would be too good.
      expect(share).toBeGreaterThan(0.89);
      expect(share).toBeLessThan(1);
    }
  },
);

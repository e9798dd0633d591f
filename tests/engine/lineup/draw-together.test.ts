import { describe, expect, it } from 'vitest';
import { drawTogether } from '../../../src/engine/lineup/draw-together.ts';
import { productGroup } from '../../../src/engine/lineup/product-group.ts';
import { type OwnFigures, shrinkToGroup } from '../../../src/engine/lineup/shrink-to-group.ts';
import { random } from '../../../src/engine/math/random.ts';
import { type FamilyFit, isRefused } from '../../../src/engine/response/fit/family-fit.ts';
import { FIGURES, STAND } from '../../../src/engine/response/fit/figures.ts';
import { fitFamily } from '../../../src/engine/response/fit/fit-family.ts';
import { madeTrial } from '../response/made-trials.ts';

/** Of one figure, the stand, alone. */
function ofStand(stand: number, variance: number): OwnFigures {
  const covariance = new Float64Array(FIGURES * FIGURES);
  covariance[STAND * FIGURES + STAND] = variance;
  return { fitted: [STAND], figures: [180, 1, stand, 0, 0.1], covariance };
}

describe('products drawn towards their group', () => {
  it('by one figure of equal error are drawn as by hand', () => {
    const stands = [28, 30, 31, 33, 34, 36];
    const members = stands.map((stand) => ofStand(stand, 2));
    const group = productGroup(members, null, 5000)!;
    expect(group.mean[STAND]).toBeCloseTo(32, 6);
    // Σ (stand − 32)² = 42; restricted likelihood with the spread held open is best where −5 / (w + 2) + 42 / (w + 2)² + 2 / w = 0, so 3w² − 40w − 8 = 0. EM ends a little before.
    const between = group.between[STAND * FIGURES + STAND];
    expect(Math.abs(between - (40 + Math.sqrt(1696)) / 6)).toBeLessThan(0.05);
    const drawn = shrinkToGroup(members[0], group);
    const leaning = 2 / (2 + between);
    expect(drawn.leaning).toBeCloseTo(leaning, 9);
    expect(drawn.figures[STAND]).toBeCloseTo(32 * leaning + 28 * (1 - leaning), 6);
    // Between and error together, and what is not known of the mean.
    const variance = between * leaning + leaning ** 2 * ((2 + between) / 6);
    expect(drawn.covariance[STAND * FIGURES + STAND]).toBeCloseTo(variance, 6);
  });
  it('that differ by no more than their errors lean much on each other', () => {
    const group = productGroup(
      [30, 31, 32, 33, 34, 30, 31, 32, 33, 34].map((stand) => ofStand(stand, 40)),
      null,
      5000,
    )!;
    expect(shrinkToGroup(ofStand(30, 40), group).leaning).toBeGreaterThan(0.7);
  });
  it('are no group under four', () => {
    expect(productGroup([30, 31, 32].map((stand) => ofStand(stand, 2)))).toBeNull();
  });
});

it('forty poorly tested products come out nearer to the truth, and their group where it is', () => {
  const { normal } = random(21);
  const truths = Array.from({ length: 40 }, () => [
    200 + 5 * normal(),
    1 + 0.08 * normal(),
    33 + 1.5 * normal(),
    0.03,
    0.14 * Math.exp(0.15 * normal()),
  ]);
  const pairs = truths.flatMap((truth, k): [FamilyFit, number[]][] => {
    const fit = fitFamily(
      madeTrial('quadratic', truth, { seed: 500 + k, sites: 3, stands_k: [22, 26, 30, 34, 38] }),
      'quadratic',
      200,
    );
    return isRefused(fit) ? [] : [[fit, truth]];
  });
  expect(pairs.length).toBeGreaterThan(37);
  const { group, drawn } = drawTogether(pairs.map(([fit]) => fit))!;
  const squares = (stand: (k: number) => number) =>
    pairs.reduce((sum, [, truth], k) => sum + (stand(k) - truth[STAND]) ** 2, 0) / pairs.length;
  const before = squares((k) => pairs[k][0].figures[STAND]);
  const after = squares((k) => drawn[k]!.figures[STAND]);
  expect(after).toBeLessThan(0.75 * before);
  // Mean of the truths; some 0.3 of error, and a bias under 0.2 that is left of weighing products by what came out.
  const mean = truths.reduce((sum, truth) => sum + truth[STAND], 0) / truths.length;
  expect(Math.abs(group.mean[STAND] - mean)).toBeLessThan(0.8);
  for (const own of drawn) expect(own!.leaning).toBeGreaterThan(0);
});

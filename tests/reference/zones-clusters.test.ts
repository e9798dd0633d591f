import { describe, expect, it } from 'vitest';
import { type FuzzyClusters, fuzzyCMeans } from '../../src/engine/zones/fuzzy-c-means.ts';
import { iris } from './iris.ts';

/** Rows of centres, ordered by the first column, so that the numbering of clusters does not matter. */
function centresOf({ centres }: FuzzyClusters, dimensions: number): number[][] {
  const rows = Array.from({ length: centres.length / dimensions }, (_, c) =>
    Array.from(centres.subarray(c * dimensions, (c + 1) * dimensions)),
  );
  return rows.sort((a, b) => a[0] - b[0]);
}

function expectClose(found: readonly number[], printed: readonly number[], tolerance: number): void {
  expect(found.length).toBe(printed.length);
  printed.forEach((value, k) => {
    expect(Math.abs(found[k] - value), `${found[k]} against ${value}`).toBeLessThanOrEqual(tolerance);
  });
}

/**
 * Computed with cmeans of the R package e1071 (Euclidean distance); the partition coefficients .89, .78, .71 and .67 also stand in the
 * literature on these data (from memory). R stops when the objective settles to 1.5e-8 of itself, where centres and memberships may still be some
 * 1e-5 away; so the objective must be R's to 1e-7 and no larger, the others agree to 1e-4. Any one wrong figure in the table of 600 moves them more.
 */
describe("fuzzy c-means on Fisher's iris, four measurements", () => {
  it.each([
    { count: 2, objective: 128.8949, partition: 0.892215, entropy: 0.195744, fuzziness: 0.21557 },
    { count: 3, objective: 60.505711, partition: 0.783394, entropy: 0.395495, fuzziness: 0.324909 },
    { count: 4, objective: 41.614232, partition: 0.706789, entropy: 0.56113, fuzziness: 0.390948 },
    { count: 5, objective: 32.732804, partition: 0.665749, entropy: 0.675165, fuzziness: 0.417814 },
  ])('agrees with R for $count clusters at m = 2', ({ count, objective, partition, entropy, fuzziness }) => {
    const found = fuzzyCMeans(iris, 4, count, 2);
    expect(found.objective).toBeLessThanOrEqual(objective + 1e-6);
    expectClose([found.objective], [objective], 1e-7 * objective);
    expectClose(
      [found.partitionCoefficient, found.entropy, found.fuzzinessIndex],
      [partition, entropy, fuzziness],
      1e-4,
    );
  });

  it('puts three centres where R does', () => {
    const found = centresOf(fuzzyCMeans(iris, 4, 3, 2), 4);
    expectClose(found[0], [5.003966, 3.41409, 1.482814, 0.253546], 1e-4);
    expectClose(found[1], [5.888908, 2.761061, 4.363901, 1.397285], 1e-4);
    expectClose(found[2], [6.774929, 3.052361, 5.646692, 2.053519], 1e-4);
  });

  it('agrees with R at m = 1.5', () => {
    const found = fuzzyCMeans(iris, 4, 3, 1.5);
    expectClose([found.objective], [74.382184], 1e-5);
    expectClose([found.partitionCoefficient, found.entropy], [0.919014, 0.145884], 1e-4);
  });
});

/** Fifteen points in the shape of a butterfly (Ruspini 1970; Bezdek 1981, after which the memberships are named). Values from R, e1071. */
describe('fuzzy c-means on the butterfly', () => {
  const butterfly = Float64Array.of(
    ...[0, 0, 0, 2, 0, 4, 1, 1, 1, 2, 1, 3, 2, 2, 3, 2],
    ...[4, 2, 5, 1, 5, 2, 5, 3, 6, 0, 6, 2, 6, 4],
  );

  it.each([
    { m: 2, left: 0.8547, right: 5.1452 },
    { m: 1.25, left: 0.8439, right: 5.1558 },
  ])('puts its two centres in the wings at m = $m', ({ m, left, right }) => {
    const found = centresOf(fuzzyCMeans(butterfly, 2, 2, m), 2);
    // Cut, not rounded, to four decimals; the figure is symmetric, so that right = 6 − left.
    expectClose(found.flat(), [left, 2, right, 2], 2e-4);
    expectClose([found[0][0] + found[1][0]], [6], 1e-6);
  });

  it('shares the body between both wings and gives each wing to its own', () => {
    const { centres, membership } = fuzzyCMeans(butterfly, 2, 2, 2);
    const left = centres[0] < centres[2] ? 0 : 1;
    const own = Array.from({ length: 9 }, (_, row) => membership[row * 2 + left]);
    expectClose(own, [0.8656, 0.9731, 0.8656, 0.9468, 0.9988, 0.9468, 0.8829, 0.5, 0.1171], 1e-4);
  });
});

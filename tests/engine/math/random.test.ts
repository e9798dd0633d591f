import { describe, expect, it } from 'vitest';
import { random, xoshiro128StarStar } from '../../../src/engine/math/random.ts';

const draw = (n: number, next: () => number) => Array.from({ length: n }, next);

describe('xoshiro128**', () => {
  it('gives the words of the reference C implementation from state 1, 2, 3, 4', () => {
    // Printed in the test `reference` of the Rust crate rand_xoshiro (xoshiro128starstar.rs), which made them
    // with xoshiro128starstar.c v1.1 of Blackman and Vigna.
    expect(draw(10, xoshiro128StarStar([1, 2, 3, 4]))).toEqual([
      11520, 0, 5927040, 70819200, 2031721883, 1637235492, 1287239034, 3734860849, 3729100597, 4258142804,
    ]);
  });
});

describe('random', () => {
  it('is fixed by its seed', () => {
    expect(draw(5, random(7).uniform)).toEqual(draw(5, random(7).uniform));
    expect(draw(5, random(7).uniform)).not.toEqual(draw(5, random(8).uniform));
  });

  it('spreads uniforms evenly over [0, 1)', () => {
    const counts = new Array<number>(20).fill(0);
    const { uniform } = random(11);
    for (let i = 0; i < 100_000; i++) counts[Math.floor(uniform() * 20)]++;
    const chi2 = counts.reduce((sum, n) => sum + (n - 5000) ** 2 / 5000, 0);
    // 43.82 is the .999 point of chi-square with 19 degrees of freedom (standard table).
    expect(chi2).toBeLessThan(43.82);
    expect(counts).toHaveLength(20);
  });

  it('gives normals with the moments and tails of a normal', () => {
    const n = 100_000;
    const values = draw(n, random(3).normal);
    const mean = values.reduce((a, b) => a + b, 0) / n;
    const variance = values.reduce((a, b) => a + (b - mean) ** 2, 0) / n;
    // Four standard errors: 1/√n for the mean, √(2/n) for the variance.
    expect(Math.abs(mean)).toBeLessThan(4 / Math.sqrt(n));
    expect(Math.abs(variance - 1)).toBeLessThan(4 * Math.sqrt(2 / n));
    // 95 % of a normal lies within 1.959964 (standard table); four standard errors of the share.
    const within = values.filter((z) => Math.abs(z) < 1.959964).length / n;
    expect(Math.abs(within - 0.95)).toBeLessThan(4 * Math.sqrt((0.95 * 0.05) / n));
  });

  it('gives whole numbers below n, each of them', () => {
    const { integer } = random(5);
    expect(new Set(draw(200, () => integer(6)))).toEqual(new Set([0, 1, 2, 3, 4, 5]));
  });
});

import { describe, expect, it } from 'vitest';
import { fCritical, fUpperTail } from '../../src/engine/math/fisher-f.ts';
import { logBeta, logGamma } from '../../src/engine/math/gamma.ts';
import { lambertW0 } from '../../src/engine/math/lambert-w.ts';
import { normalCdf, normalQuantile } from '../../src/engine/math/normal.ts';
import { random } from '../../src/engine/math/random.ts';
import { tCdf, tQuantile, tTwoSided } from '../../src/engine/math/student-t.ts';
import { PF, PNORM, PT, QF, QNORM, QT } from './distributions.ts';

/** As a share of what R gives. Quantiles at 4e5 degrees of freedom and more are 3e-12 apart; elsewhere 5e-13 is reached. */
const CLOSE = 1e-11;
const near = (own: number, other: number) => Math.abs(own - other) <= CLOSE * Math.abs(other) + 1e-17;
const apart = (rows: readonly (readonly number[])[], own: (...x: number[]) => number) =>
  rows
    .filter((row) => !near(own(...row.slice(0, -1)), row[row.length - 1]))
    .map((row) => [...row, own(...row.slice(0, -1))]);

describe('distributions, against R (distributions.R)', () => {
  it('normal', () => {
    expect(apart(PNORM, normalCdf)).toEqual([]);
    expect(apart(QNORM, normalQuantile)).toEqual([]);
  });
  it("Student's t, from one degree of freedom to a million", () => {
    expect(apart(PT, tCdf)).toEqual([]);
    expect(apart(QT, tQuantile)).toEqual([]);
  });
  it("Fisher's F", () => {
    expect(apart(PF, fUpperTail)).toEqual([]);
    expect(apart(QF, fCritical)).toEqual([]);
  });
  it('at the ends of their ranges', () => {
    expect([tQuantile(0, 3), tQuantile(1, 3), tQuantile(0.5, 3)]).toEqual([-Infinity, Infinity, 0]);
    expect([normalQuantile(0), normalQuantile(1), normalQuantile(1.1)]).toEqual([-Infinity, Infinity, NaN]);
    expect([tCdf(NaN, 3), tCdf(1, 0), fUpperTail(1, 0, 3), fCritical(2, 1, 1)]).toEqual([NaN, NaN, NaN, NaN]);
    expect([tCdf(Infinity, 3), fUpperTail(Infinity, 2, 3), fUpperTail(-1, 2, 3)]).toEqual([1, 0, 1]);
  });
  it("a quantile of Fisher's F has its share beyond it, at a million degrees of freedom too", () => {
    for (const [above, below] of [
      [3, 1e6],
      [1e6, 9],
      [1e6, 1e6],
      [1, 1],
    ])
      for (const tail of [1e-8, 0.05, 0.5, 0.99])
        expect(fUpperTail(fCritical(tail, above, below), above, below) / tail).toBeCloseTo(1, 9);
  });
  it('quantiles undo the shares', () => {
    const { uniform } = random(7);
    for (let k = 0; k < 2000; k++) {
      const p = uniform() ** 3;
      const df = 10 ** (4 * uniform() - 0.2);
      expect(tCdf(tQuantile(p, df), df) / p).toBeCloseTo(1, 10);
      expect(tTwoSided(tQuantile(p / 2, df), df) / p).toBeCloseTo(1, 10);
      expect(normalCdf(normalQuantile(p)) / p).toBeCloseTo(1, 10);
    }
  });
});

describe('the gamma function', () => {
  it('is that of factorials and of Γ(½) = √π', () => {
    let factorial = 1;
    for (let n = 1; n < 60; n++) {
      expect(logGamma(n) - Math.log(factorial)).toBeCloseTo(0, 11);
      factorial *= n;
    }
    expect(logGamma(0.5)).toBeCloseTo(Math.log(Math.PI) / 2, 13);
    // B(a, ½) falls as √(π/a): to a relative 1 / 8a.
    expect(logBeta(1e8, 0.5)).toBeCloseTo(Math.log(Math.PI / 1e8) / 2 + 1 / 8e8, 13);
  });
});

describe("Lambert's W", () => {
  it('undoes w·eʷ, from the branch point on', () => {
    const { uniform } = random(3);
    for (let k = 0; k < 5000; k++) {
      const x = k % 2 ? -Math.exp(-1) * (1 - uniform() ** 6) : 10 ** (20 * uniform() - 12);
      const w = lambertW0(x);
      // One rounding of w moves w·eʷ by 1 + w roundings.
      expect(Math.abs((w * Math.exp(w)) / x - 1)).toBeLessThanOrEqual(4e-16 * (2 + w));
      expect(w).toBeGreaterThanOrEqual(-1);
    }
  });
  it('is Ω at 1, −1 at −1/e (Corless et al. 1996), 0 at 0 and none below', () => {
    expect(lambertW0(1)).toBeCloseTo(0.5671432904097838, 15);
    expect(lambertW0(-Math.exp(-1))).toBeCloseTo(-1, 7);
    expect(lambertW0(Math.E)).toBeCloseTo(1, 15);
    expect([lambertW0(0), lambertW0(Infinity), lambertW0(-0.4)]).toEqual([0, Infinity, NaN]);
  });
});

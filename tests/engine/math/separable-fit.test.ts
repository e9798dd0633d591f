import { describe, expect, it } from 'vitest';
import { leastSquares } from '../../../src/engine/math/least-squares.ts';
import { fitSeparable } from '../../../src/engine/math/separable-fit.ts';
import type { SeparableProblem } from '../../../src/engine/math/variable-projection.ts';

/** Barley of seven stands, made up. */
const P = Float64Array.of(10, 15, 20, 25, 30, 35, 40);
const Y = Float64Array.of(118, 151, 170, 184, 188, 181, 177);
const vertex: SeparableProblem = {
  y: Y,
  linear: 2,
  basis: ([stand], [level, bend]) => {
    level.fill(1);
    for (let i = 0; i < P.length; i++) bend[i] = -((P[i] - stand) ** 2);
  },
  starts: [[30]],
};
const joint = (y: Float64Array, starts: number[][]): SeparableProblem => ({
  y,
  linear: 2,
  basis: ([stand], [level, slope]) => {
    level.fill(1);
    for (let i = 0; i < P.length; i++) slope[i] = -Math.max(0, stand - P[i]);
  },
  starts,
});

describe('a fit of coefficients and shape', () => {
  it('is the parabola of least squares, told by its vertex', () => {
    const own = fitSeparable(vertex);
    const columns = [0, 1, 2].map((power) => P.map((p) => p ** power));
    const { coefficients, rss, df } = leastSquares(columns, Y);
    const [, b1, b2] = coefficients;
    expect(own.converged).toBe(true);
    expect(own.nonlinear[0] / (-b1 / (2 * b2))).toBeCloseTo(1, 9);
    expect(own.linear[1] / -b2).toBeCloseTo(1, 9);
    expect([own.rss / rss, own.df]).toEqual([expect.closeTo(1, 12), df]);
  });
  it('is least squares where nothing is nonlinear', () => {
    const columns = [P.map(() => 1), P];
    const basis: SeparableProblem['basis'] = (_, out) => {
      for (const [k, column] of columns.entries()) out[k].set(column);
    };
    const own = fitSeparable({ y: Y, linear: 2, basis, starts: [[]] });
    const known = leastSquares(columns, Y);
    expect(own.linear).toEqual(known.coefficients);
    expect(own.unscaled).toEqual(known.unscaled);
    expect([own.rss / known.rss, own.df, own.converged]).toEqual([expect.closeTo(1, 12), 5, true]);
  });
  it('takes the best of its starts, whatever their order', () => {
    // From a vertex among the low stands the best bend is the wrong way round, and the line is the best of those.
    const within: SeparableProblem = { ...vertex, bounds: [[1, 60]] };
    const low = fitSeparable({ ...within, starts: [[15]] });
    expect([low.nonlinear[0], low.converged]).toEqual([1, true]);
    const best = fitSeparable({ ...within, starts: [[15], [30]] });
    expect(best.rss).toBeLessThan(0.5 * low.rss);
    expect(fitSeparable({ ...within, starts: [[30], [15]] })).toEqual(best);
  });
  it('stands at a bound, at rest, and fits the rest as if that figure were given', () => {
    const curve = (held: number | null): SeparableProblem => ({
      y: Y,
      linear: 1,
      // (p/s)·exp(k(1 − p/s)): the best k is over 0.5.
      basis: (shape, [column]) => {
        const k = held ?? shape[1];
        for (let i = 0; i < P.length; i++)
          column[i] = ((P[i] / shape[0]) * Math.exp(1 - P[i] / shape[0])) ** k;
      },
      starts: [held === null ? [20, 0.2] : [20]],
    });
    const free = fitSeparable(curve(null));
    expect(free.nonlinear[1]).toBeGreaterThan(0.5);
    const bounded = fitSeparable({
      ...curve(null),
      bounds: [
        [5, 80],
        [0.1, 0.5],
      ],
    });
    const given = fitSeparable(curve(0.5));
    expect([bounded.converged, bounded.nonlinear[1]]).toEqual([true, 0.5]);
    expect(bounded.nonlinear[0] / given.nonlinear[0]).toBeCloseTo(1, 6);
    expect(bounded.rss / given.rss).toBeCloseTo(1, 12);
  });
  it('is at rest in a kink, with the least of all joints tried', () => {
    // With the yield of 30 on the plateau the joint would be over 30, with it on the slope under 30: so it is 30 itself.
    const y = Float64Array.of(100, 120, 140, 160, 190, 178, 178);
    const starts = [[12], [18], [22], [27], [33], [38]];
    const own = fitSeparable(joint(y, starts));
    let least = Infinity;
    for (let stand = 11; stand <= 40; stand += 0.01) {
      const columns = [P.map(() => 1), P.map((p) => -Math.max(0, stand - p))];
      least = Math.min(least, leastSquares(columns, y).rss);
    }
    expect(own.converged).toBe(true);
    expect(own.nonlinear[0]).toBeCloseTo(30, 3);
    expect(own.rss).toBeLessThanOrEqual(least * (1 + 1e-6));
  });
  it('has no figure for what the data do not tell', () => {
    // Beyond all stands a joint moves nothing but what slope and level move.
    const own = fitSeparable(joint(Y, [[60]]));
    expect(own.linear.every(Number.isFinite)).toBe(true);
    expect(Array.from(own.unscaled).some(Number.isNaN)).toBe(true);
    expect(own.df).toBe(P.length - 2);
  });
  it('is not known, and not at rest, where no start gives numbers', () => {
    const own = fitSeparable({ ...vertex, y: Y.map((y, i) => (i === 3 ? NaN : y)) });
    expect(own.converged).toBe(false);
    expect([...own.linear, ...own.nonlinear, own.rss, own.df]).toEqual([NaN, NaN, NaN, NaN, NaN]);
  });
});

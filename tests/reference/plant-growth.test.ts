import { describe, expect, it } from 'vitest';
import { fUpperTail } from '../../src/engine/math/fisher-f.ts';
import { leastSquares } from '../../src/engine/math/least-squares.ts';
import { tQuantile } from '../../src/engine/math/student-t.ts';

/** Dried weights of plants, a control and two treatments of ten each: Dobson 1983, An Introduction to Statistical Modelling; R's `PlantGrowth`. */
const WEIGHTS = [
  [4.17, 5.58, 5.18, 6.11, 4.5, 4.61, 5.17, 4.53, 5.33, 5.14],
  [4.81, 4.17, 4.41, 3.59, 5.87, 3.83, 6.03, 4.89, 4.32, 4.69],
  [6.31, 5.12, 5.54, 5.5, 5.37, 5.29, 4.92, 6.15, 5.8, 5.26],
];

/** Ten digits of what the end of distributions.R prints, R 4.2.2. */
const close = (own: number, printed: number) => expect(own / printed).toBeCloseTo(1, 10);

describe('the growth of thirty plants', () => {
  const y = Float64Array.from(WEIGHTS.flat());
  const groups = WEIGHTS.map((_, g) => Float64Array.from(y, (_, i) => (Math.floor(i / 10) === g ? 1 : 0)));
  const own = leastSquares(groups, y);
  const mean = leastSquares([new Float64Array(30).fill(1)], y);

  it('gives the analysis of variance of R', () => {
    const f = (mean.rss - own.rss) / 2 / (own.rss / own.df);
    expect([own.df, mean.df]).toEqual([27, 29]);
    for (const [g, printed] of [5.032, 4.661, 5.526].entries()) close(own.coefficients[g], printed);
    close(f, 4.84608786238);
    close(fUpperTail(f, 2, own.df), 0.0159099583256);
    close(own.rss / own.df, 0.388595925926);
  });
  it('gives the least significant differences of R', () => {
    const difference = Math.sqrt((2 * own.rss) / own.df / 10);
    close(tQuantile(0.975, own.df) * difference, 0.57201261156);
    close(tQuantile(0.95, own.df) * difference, 0.474845492477);
  });
  it('has as coefficients and rss the same with an intercept too many, one of them not told', () => {
    const over = leastSquares([new Float64Array(30).fill(1), ...groups], y);
    expect([over.rank, over.df, over.coefficients.filter(Number.isNaN).length]).toEqual([3, 27, 1]);
    close(over.rss, own.rss);
  });
});

import { describe, expect, it } from 'vitest';
import { cholesky, semidefiniteCholesky } from '../../../src/engine/math/cholesky.ts';

const squareOf = (factor: Float64Array, size: number): number[] =>
  Array.from({ length: size * size }, (_, at) => {
    const [i, j] = [Math.floor(at / size), at % size];
    let sum = 0;
    for (let k = 0; k <= Math.min(i, j); k++) sum += factor[i * size + k] * factor[j * size + k];
    return sum;
  });

describe('the factor of a covariance some of whose figures follow from others', () => {
  it('is that of Cholesky where none does', () => {
    const matrix = [4, 2, 2, 3];
    const [one, other] = [Float64Array.from(matrix), Float64Array.from(matrix)];
    cholesky(one, 2);
    semidefiniteCholesky(other, 2);
    expect([other[0], other[2], other[3]]).toEqual([one[0], one[2], one[3]]);
  });

  it('gives the matrix again where a figure is not there at all, and where one is twice another', () => {
    // Rows: a, nothing, 2a, b going along with a.
    const matrix = [4, 0, 8, 2, 0, 0, 0, 0, 8, 0, 16, 4, 2, 0, 4, 3];
    const factor = Float64Array.from(matrix);
    semidefiniteCholesky(factor, 4);
    squareOf(factor, 4).forEach((own, at) => {
      expect(own).toBeCloseTo(matrix[at], 12);
    });
  });
});

/** A pivot that keeps less than this share of its diagonal is rounding: the row follows from those before it. */
const NOTHING = 1e-13;

/**
 * Cholesky's factor of a symmetric matrix of `size` rows, row by row, in place, lower triangle (Golub & Van Loan, Matrix Computations, 4th ed., 4.2.5). False where it is not positive
 * definite, whatever the units of its rows; what stands in the matrix then is of no use.
 */
export function cholesky(matrix: Float64Array, size: number): boolean {
  return partialCholesky(matrix, size, size);
}

/** Cholesky's factor of a matrix that need only have no negative direction, as a covariance of figures of which some follow from others: their columns come to 0. */
export function semidefiniteCholesky(matrix: Float64Array, size: number): void {
  for (let j = 0; j < size; j++) {
    const own = matrix[j * size + j];
    let pivot = own;
    for (let k = 0; k < j; k++) pivot -= matrix[j * size + k] ** 2;
    const root = pivot > NOTHING * own ? Math.sqrt(pivot) : 0;
    matrix[j * size + j] = root;
    for (let i = j + 1; i < size; i++) {
      let sum = matrix[i * size + j];
      for (let k = 0; k < j; k++) sum -= matrix[i * size + k] * matrix[j * size + k];
      matrix[i * size + j] = root > 0 ? sum / root : 0;
    }
  }
}

/**
 * The same of the first `count` rows alone, which need be positive definite: in the rest of the matrix is left what those rows do not account for (their Schur complement). Of normal equations with
 * the right-hand side as a last row, that is the factor, L⁻¹ times the right-hand side, and in the last corner the squares that are left.
 */
export function partialCholesky(matrix: Float64Array, size: number, count: number): boolean {
  for (let j = 0; j < count; j++) {
    const own = matrix[j * size + j];
    let pivot = own;
    for (let k = 0; k < j; k++) pivot -= matrix[j * size + k] ** 2;
    if (!(pivot > NOTHING * own)) return false;
    const root = Math.sqrt(pivot);
    matrix[j * size + j] = root;
    for (let i = j + 1; i < size; i++) {
      let sum = matrix[i * size + j];
      for (let k = 0; k < j; k++) sum -= matrix[i * size + k] * matrix[j * size + k];
      matrix[i * size + j] = sum / root;
    }
  }
  for (let i = count; i < size; i++)
    for (let j = count; j <= i; j++) {
      let sum = matrix[i * size + j];
      for (let k = 0; k < count; k++) sum -= matrix[i * size + k] * matrix[j * size + k];
      matrix[i * size + j] = sum;
    }
  return true;
}

/** Solves L·Lᵀ·x = b in place. */
export function solveByCholesky(factor: Float64Array, size: number, b: Float64Array): void {
  for (let i = 0; i < size; i++) {
    let sum = b[i];
    for (let k = 0; k < i; k++) sum -= factor[i * size + k] * b[k];
    b[i] = sum / factor[i * size + i];
  }
  for (let i = size - 1; i >= 0; i--) {
    let sum = b[i];
    for (let k = i + 1; k < size; k++) sum -= factor[k * size + i] * b[k];
    b[i] = sum / factor[i * size + i];
  }
}

/** (L·Lᵀ)⁻¹, whole, row by row. */
export function inverseByCholesky(factor: Float64Array, size: number): Float64Array {
  const inverse = new Float64Array(size * size);
  const unit = new Float64Array(size);
  for (let j = 0; j < size; j++) {
    unit.fill(0);
    unit[j] = 1;
    solveByCholesky(factor, size, unit);
    for (let i = 0; i < size; i++) inverse[i * size + j] = unit[i];
  }
  return inverse;
}

/** Logarithm of the determinant of L·Lᵀ, L being of the first `count` rows of a matrix of `size`. */
export function logDeterminant(factor: Float64Array, count: number, size = count): number {
  let sum = 0;
  for (let i = 0; i < count; i++) sum += Math.log(factor[i * size + i]);
  return 2 * sum;
}

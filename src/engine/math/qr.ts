/** A share of its own length below which a column, less what the columns before it account for, counts as nothing: rounding leaves so much. */
const NOTHING = 1e-11;

/** A tall matrix taken apart by Householder reflections, columns scaled to length 1 and taken longest remainder first. Column-major, in the array given. */
export interface Qr {
  readonly rows: number;
  readonly columns: number;
  /** Reflections below the diagonal and on it, R above it. */
  readonly a: Float64Array;
  /** Diagonal of R. */
  readonly diagonal: Float64Array;
  /** `pivot[k]` is the column that stands at place k; those from `rank` on follow from the others. */
  readonly pivot: Uint32Array;
  readonly scale: Float64Array;
  readonly rank: number;
}

/**
 * Golub & Van Loan, Matrix Computations, 4th ed., 5.4.2. `a` is overwritten. Columns are scaled first, so that their units do not decide which of them counts.
 */
export function factorise(a: Float64Array, rows: number, columns: number): Qr {
  const scale = new Float64Array(columns);
  const left = new Float64Array(columns);
  const pivot = Uint32Array.from({ length: columns }, (_, k) => k);
  const diagonal = new Float64Array(columns);
  for (let j = 0; j < columns; j++) {
    scale[j] = lengthOf(a, j * rows, (j + 1) * rows) || 1;
    for (let i = j * rows; i < (j + 1) * rows; i++) a[i] /= scale[j];
    left[j] = 1;
  }
  const most = Math.min(rows, columns);
  let rank = 0;
  for (; rank < most; rank++) {
    let longest = rank;
    for (let j = rank + 1; j < columns; j++) if (left[j] > left[longest]) longest = j;
    if (longest !== rank) swap(a, rows, rank, longest, left, scale, pivot);
    const head = rank * rows + rank;
    const end = (rank + 1) * rows;
    const length = lengthOf(a, head, end);
    if (!(length > NOTHING)) break;
    const alpha = a[head] > 0 ? -length : length;
    diagonal[rank] = alpha;
    a[head] -= alpha;
    // vᵀv / 2
    const half = -alpha * a[head];
    for (let j = rank + 1; j < columns; j++) {
      reflect(a, head, end, half, a, j * rows + rank);
      left[j] = lengthOf(a, j * rows + rank + 1, (j + 1) * rows);
    }
  }
  return { rows, columns, a, diagonal, pivot, scale, rank };
}

/** Qᵀv, in place: the first `rank` figures lie in the space of the columns, the rest are what they cannot account for. */
export function rotate({ rows, a, diagonal, rank }: Qr, v: Float64Array, from = 0): void {
  for (let k = 0; k < rank; k++) {
    const head = k * rows + k;
    reflect(a, head, (k + 1) * rows, -diagonal[k] * a[head], v, from + k);
  }
}

/** Qv, in place: undoes `rotate`. */
export function rotateBack({ rows, a, diagonal, rank }: Qr, v: Float64Array): void {
  for (let k = rank - 1; k >= 0; k--) {
    const head = k * rows + k;
    reflect(a, head, (k + 1) * rows, -diagonal[k] * a[head], v, k);
  }
}

/** Coefficients by column from a rotated right-hand side; NaN for columns that follow from the others. */
export function solve(
  { rows, columns, a, diagonal, pivot, scale, rank }: Qr,
  rotated: Float64Array,
): Float64Array {
  const found = new Float64Array(columns).fill(NaN);
  const at = new Float64Array(rank);
  for (let k = rank - 1; k >= 0; k--) {
    let sum = rotated[k];
    for (let j = k + 1; j < rank; j++) sum -= a[j * rows + k] * at[j];
    at[k] = sum / diagonal[k];
    found[pivot[k]] = at[k] / scale[k];
  }
  return found;
}

/** (AᵀA)⁻¹, row by row; NaN for columns that follow from the others. */
export function inverseOfSquare({ rows, columns, a, diagonal, pivot, scale, rank }: Qr): Float64Array {
  // R⁻¹, upper triangle.
  const inverse = new Float64Array(rank * rank);
  for (let j = 0; j < rank; j++) {
    inverse[j * rank + j] = 1 / diagonal[j];
    for (let i = j - 1; i >= 0; i--) {
      let sum = 0;
      for (let k = i + 1; k <= j; k++) sum -= a[k * rows + i] * inverse[k * rank + j];
      inverse[i * rank + j] = sum / diagonal[i];
    }
  }
  const square = new Float64Array(columns * columns).fill(NaN);
  for (let i = 0; i < rank; i++) {
    for (let j = 0; j < rank; j++) {
      let sum = 0;
      for (let k = Math.max(i, j); k < rank; k++) sum += inverse[i * rank + k] * inverse[j * rank + k];
      square[pivot[i] * columns + pivot[j]] = sum / (scale[i] * scale[j]);
    }
  }
  return square;
}

/** Reflects `w[at…]` in the mirror that stands in `v[from, to)`. */
function reflect(v: Float64Array, from: number, to: number, half: number, w: Float64Array, at: number): void {
  let along = 0;
  for (let i = from, j = at; i < to; i++, j++) along += v[i] * w[j];
  along /= half;
  for (let i = from, j = at; i < to; i++, j++) w[j] -= along * v[i];
}

function lengthOf(v: Float64Array, from: number, to: number): number {
  let squares = 0;
  for (let i = from; i < to; i++) squares += v[i] * v[i];
  return Math.sqrt(squares);
}

function swap(
  a: Float64Array,
  rows: number,
  j: number,
  k: number,
  left: Float64Array,
  scale: Float64Array,
  pivot: Uint32Array,
): void {
  for (let i = 0; i < rows; i++) {
    const own = a[j * rows + i];
    a[j * rows + i] = a[k * rows + i];
    a[k * rows + i] = own;
  }
  [left[j], left[k]] = [left[k], left[j]];
  [scale[j], scale[k]] = [scale[k], scale[j]];
  [pivot[j], pivot[k]] = [pivot[k], pivot[j]];
}

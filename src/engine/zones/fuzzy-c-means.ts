export interface FuzzyClusters {
  /** c × d, row by row. */
  readonly centres: Float64Array;
  /** n × c memberships, row by row; each row adds up to 1. */
  readonly membership: Float64Array;
  /** J = Σ uᵐ d². */
  readonly objective: number;
  readonly iterations: number;
  /** Partition coefficient F = Σ u²/n: 1 when crisp, 1/c when wholly fuzzy. */
  readonly partitionCoefficient: number;
  /** Fuzziness performance index c/(c−1)·(1 − F): 0 when crisp, 1 when wholly fuzzy (Odeh et al. 1992, formula from memory). */
  readonly fuzzinessIndex: number;
  /** Partition entropy H = −Σ u ln u / n. */
  readonly entropy: number;
}

const MOST_ITERATIONS = 2000;
/** Starts are tried on at most so many rows, spread evenly over the data; only the best goes on to all of them. */
const TRIAL_ROWS = 2000;

/**
 * Fuzzy c-means (Bezdek 1981), Euclidean: centres = Σ uᵐx/Σ uᵐ, u = 1/Σ (d_k/d_j)^(2/(m−1)). `data` is n × d row by row, finite; scale the
 * columns beforehand. Deterministic: one start from the quantiles of each column and one from those of the row sums; the one of least J is kept.
 * Centres are settled when none moves further than `settled`, in units of the data.
 */
export function fuzzyCMeans(
  data: Float64Array,
  dimensions: number,
  count: number,
  fuzziness: number,
  settled = 1e-9,
): FuzzyClusters {
  const trial = everySoManyth(data, dimensions);
  const keys = dimensions === 1 ? [0] : Array.from({ length: dimensions + 1 }, (_, key) => key);
  let best: FuzzyClusters | null = null;
  for (const key of keys) {
    const start = quantileCentres(trial, dimensions, count, key);
    const found = settle(trial, dimensions, fuzziness, start, settled);
    if (best === null || found.objective < best.objective * (1 - 1e-9)) best = found;
  }
  const winner = best as FuzzyClusters;
  return trial === data ? winner : settle(data, dimensions, fuzziness, winner.centres, settled);
}

/** The rows to try starts on: all of them when there are few. */
function everySoManyth(data: Float64Array, d: number): Float64Array {
  const n = data.length / d;
  if (n <= TRIAL_ROWS) return data;
  const rows = new Float64Array(TRIAL_ROWS * d);
  for (let row = 0; row < TRIAL_ROWS; row++) {
    const from = Math.floor((row * n) / TRIAL_ROWS) * d;
    rows.set(data.subarray(from, from + d), row * d);
  }
  return rows;
}

/** Means of `count` equal groups of rows sorted by a column, or by the row sum when `key` is past the last column. */
function quantileCentres(data: Float64Array, d: number, count: number, key: number): Float64Array {
  const n = data.length / d;
  const score = (row: number): number => {
    if (key < d) return data[row * d + key];
    let sum = 0;
    for (let k = 0; k < d; k++) sum += data[row * d + k];
    return sum;
  };
  const order = Array.from({ length: n }, (_, row) => row).sort((a, b) => score(a) - score(b) || a - b);
  const centres = new Float64Array(count * d);
  for (let c = 0; c < count; c++) {
    const from = Math.floor((c * n) / count);
    const to = Math.max(from + 1, Math.floor(((c + 1) * n) / count));
    for (let k = from; k < to; k++) {
      for (let j = 0; j < d; j++) centres[c * d + j] += data[order[Math.min(k, n - 1)] * d + j] / (to - from);
    }
  }
  return centres;
}

function settle(
  data: Float64Array,
  d: number,
  m: number,
  start: Float64Array,
  settled: number,
): FuzzyClusters {
  const n = data.length / d;
  const count = start.length / d;
  const centres = start.slice();
  const membership = new Float64Array(n * count);
  let objective = assign(data, d, centres, m, membership);
  let iterations = 0;
  for (; iterations < MOST_ITERATIONS; iterations++) {
    const moved = recentre(data, d, membership, m, centres);
    objective = assign(data, d, centres, m, membership);
    if (moved < settled) break;
  }
  let squares = 0;
  let logs = 0;
  for (const u of membership) {
    squares += u * u;
    if (u > 0) logs -= u * Math.log(u);
  }
  const partitionCoefficient = squares / n;
  return {
    centres,
    membership,
    objective,
    iterations,
    partitionCoefficient,
    fuzzinessIndex: count === 1 ? 0 : (count / (count - 1)) * (1 - partitionCoefficient),
    entropy: logs / n,
  };
}

/** Memberships from centres, in place; answers J. A row on a centre belongs to it alone (shared if several coincide). */
function assign(
  data: Float64Array,
  d: number,
  centres: Float64Array,
  m: number,
  membership: Float64Array,
): number {
  const count = centres.length / d;
  const n = data.length / d;
  const power = -1 / (m - 1);
  const distance2 = new Float64Array(count);
  let objective = 0;
  for (let row = 0; row < n; row++) {
    let nearest = Infinity;
    for (let c = 0; c < count; c++) {
      let sum = 0;
      for (let k = 0; k < d; k++) sum += (data[row * d + k] - centres[c * d + k]) ** 2;
      distance2[c] = sum;
      nearest = Math.min(nearest, sum);
    }
    // Relative to the nearest centre, so that small m cannot overflow the power.
    let total = 0;
    for (let c = 0; c < count; c++) {
      const weight = nearest === 0 ? Number(distance2[c] === 0) : (distance2[c] / nearest) ** power;
      membership[row * count + c] = weight;
      total += weight;
    }
    for (let c = 0; c < count; c++) {
      const u = membership[row * count + c] / total;
      membership[row * count + c] = u;
      if (u > 0) objective += u ** m * distance2[c];
    }
  }
  return objective;
}

/** Centres from memberships, in place; answers the furthest any coordinate moved. */
function recentre(
  data: Float64Array,
  d: number,
  membership: Float64Array,
  m: number,
  centres: Float64Array,
): number {
  const count = centres.length / d;
  const n = data.length / d;
  const sums = new Float64Array(centres.length);
  const weights = new Float64Array(count);
  for (let row = 0; row < n; row++) {
    for (let c = 0; c < count; c++) {
      const weight = membership[row * count + c] ** m;
      weights[c] += weight;
      for (let k = 0; k < d; k++) sums[c * d + k] += weight * data[row * d + k];
    }
  }
  let moved = 0;
  for (let c = 0; c < count; c++) {
    if (weights[c] === 0) continue;
    for (let k = 0; k < d; k++) {
      const next = sums[c * d + k] / weights[c];
      moved = Math.max(moved, Math.abs(next - centres[c * d + k]));
      centres[c * d + k] = next;
    }
  }
  return moved;
}

import { random } from '../math/random.ts';

export interface VariogramLag {
  readonly pairs: number;
  /** Mean distance of the pairs, m. */
  readonly distance_m: number;
  /** Half the mean square of their differences. */
  readonly gamma: number;
}

export interface EmpiricalVariogram {
  /** Shortest first; lags without a pair are left out. */
  readonly lags: readonly VariogramLag[];
  readonly cutoff_m: number;
  readonly width_m: number;
  /** Points with a place and a value, and how many of them the pairs were made of. */
  readonly points: number;
  readonly sampled: number;
  /** Smallest and largest value among the points. */
  readonly least: number;
  readonly most: number;
}

export interface VariogramOptions {
  /** Pairs further apart are not looked at, m; a third of the diagonal of the points' box when not given. */
  readonly cutoff_m?: number;
  readonly lags?: number;
}

/** All pairs of so many points are looked at, 12.5 million; of more points, those of a sample of so many. */
const MOST_POINTS = 5000;
const SEED = 1;

/**
 * Semivariances of points by distance (Matheron's estimator): lags of equal width, each open below and closed above, up to the cutoff. Cutoff and
 * 15 lags as gstat has them when not told. Exact up to 5,000 points; of more, a simple random sample of 5,000 (fixed seed) stands for all, which leaves
 * every lag's mean where it was and bounds the work. Points without a place or a value are passed over.
 */
export function empiricalVariogram(
  x: Float64Array,
  y: Float64Array,
  value: Float64Array,
  options: VariogramOptions = {},
): EmpiricalVariogram {
  const known = knownPoints(x, y, value);
  const { diagonal_m, least, most } = spanOf(known, x, y, value);
  const count = options.lags ?? 15;
  const cutoff_m = options.cutoff_m ?? diagonal_m / 3;
  const width_m = cutoff_m / count;
  const sample = sampleOf(known);
  const px = Float64Array.from(sample, (i) => x[i]);
  const py = Float64Array.from(sample, (i) => y[i]);
  const pv = Float64Array.from(sample, (i) => value[i]);
  const pairs = new Float64Array(count);
  const distance = new Float64Array(count);
  const squares = new Float64Array(count);
  const cutoff2 = cutoff_m * cutoff_m;
  for (let i = 1; cutoff2 > 0 && i < sample.length; i++) {
    for (let j = 0; j < i; j++) {
      const dx = px[i] - px[j];
      const dy = py[i] - py[j];
      const d2 = dx * dx + dy * dy;
      if (d2 > cutoff2) continue;
      const d = Math.sqrt(d2);
      const lag = d === 0 ? 0 : Math.min(Math.ceil(d / width_m), count) - 1;
      pairs[lag]++;
      distance[lag] += d;
      squares[lag] += (pv[i] - pv[j]) ** 2;
    }
  }
  const lags: VariogramLag[] = [];
  for (let lag = 0; lag < count; lag++) {
    const n = pairs[lag];
    if (n > 0) lags.push({ pairs: n, distance_m: distance[lag] / n, gamma: squares[lag] / (2 * n) });
  }
  return { lags, cutoff_m, width_m, points: known.length, sampled: sample.length, least, most };
}

function knownPoints(x: Float64Array, y: Float64Array, value: Float64Array): Int32Array {
  const known = new Int32Array(x.length);
  let count = 0;
  for (let i = 0; i < x.length; i++) {
    if (Number.isFinite(x[i]) && Number.isFinite(y[i]) && Number.isFinite(value[i])) known[count++] = i;
  }
  return known.subarray(0, count);
}

function spanOf(points: Int32Array, x: Float64Array, y: Float64Array, value: Float64Array) {
  let [minX, minY, least] = [Infinity, Infinity, Infinity];
  let [maxX, maxY, most] = [-Infinity, -Infinity, -Infinity];
  for (const i of points) {
    minX = Math.min(minX, x[i]);
    maxX = Math.max(maxX, x[i]);
    minY = Math.min(minY, y[i]);
    maxY = Math.max(maxY, y[i]);
    least = Math.min(least, value[i]);
    most = Math.max(most, value[i]);
  }
  if (points.length === 0) return { diagonal_m: 0, least: NaN, most: NaN };
  return { diagonal_m: Math.hypot(maxX - minX, maxY - minY), least, most };
}

/** Each point is taken with the chance that leaves exactly enough (Knuth, The Art of Computer Programming 2, algorithm 3.4.2 S). */
function sampleOf(points: Int32Array): Int32Array {
  if (points.length <= MOST_POINTS) return points;
  const chance = random(SEED);
  const sample = new Int32Array(MOST_POINTS);
  let taken = 0;
  for (let k = 0; taken < MOST_POINTS; k++) {
    if ((points.length - k) * chance.uniform() < MOST_POINTS - taken) sample[taken++] = points[k];
  }
  return sample;
}

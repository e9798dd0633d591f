import type { Places } from './merge-places.ts';
import { riseOf, type VariogramModel } from './variogram-model.ts';

/** The kriging equations of one neighbourhood after another, solved in place. */
export interface KrigingSystem {
  /** Takes `count` places as the data, in ascending order. */
  load(chosen: Int32Array, count: number): void;
  /** Estimates at a place, or the mean of the block about it, in `answer`. */
  solve(u: number, v: number): void;
  readonly answer: { estimate: number; variance: number };
}

/** A pivot under this share of the sill is rounding: the datum says nothing the others do not, and gets no weight. */
const NO_PIVOT = 1e-12;

/** Gauss-Legendre quadrature of order 4 over a side from −1/2 to 1/2 (Abramowitz & Stegun 1964, table 25.4). */
const GAUSS = [
  [0.8611363115940526, 0.3478548451374538],
  [0.3399810435848563, 0.6521451548625461],
].flatMap(([node, weight]) => [-1, 1].map((side) => ({ at: (side * node) / 2, share: weight / 2 })));

/**
 * Ordinary kriging by covariances, C(h) = sill − γ(h); `range` and the block's side (0: points) are in the lengths of the places. With C = L·Lᵀ, z = L⁻¹1,
 * w = L⁻¹(values) and y = L⁻¹c₀ the Lagrange multiplier is μ = (z·y − 1)/z·z, the estimate w·y − μ w·z and the variance C₀₀ − y·y + (z·y − 1)²/z·z
 * (Isaaks & Srivastava 1989, ch. 12, the weights multiplied out). L, z, w and y come row by row of one elimination, so that what two
 * neighbourhoods have alike at their beginning is worked out once. A block is 4 × 4 Gauss points and has no nugget against itself or a datum, as in gstat.
 */
export function krigingSystem(
  places: Places,
  model: VariogramModel,
  range: number,
  block: number,
  most: number,
): KrigingSystem {
  const { psill } = model;
  const sill = model.nugget + psill;
  const spherical = model.family === 'spherical';
  const perRange = 1 / range;
  // Rows of `most`: first those of L, then z, w, y and one to add up in.
  const rows = new Float64Array((most + 4) * most);
  const [z, w, y, sums] = [0, 1, 2, 3].map((k) => (most + k) * most);
  const perPivot = new Float64Array(most);
  const held = new Int32Array(most);
  const heldU = new Float64Array(most);
  const heldV = new Float64Array(most);
  const nodes = blockNodes(block);
  const own = block > 0 ? withinBlock() : sill;
  const answer = { estimate: NaN, variance: NaN };
  let n = 0;
  let zz = 0;
  let wz = 0;
  return { load, solve, answer };

  function load(chosen: Int32Array, count: number): void {
    let alike = 0;
    while (alike < count && alike < n && chosen[alike] === held[alike]) alike++;
    if (alike === count && count === n) return;
    n = count;
    for (let i = alike; i < n; i++) {
      const place = chosen[i];
      held[i] = place;
      heldU[i] = places.u[place];
      heldV[i] = places.v[place];
      rows[z + i] = 1;
      rows[w + i] = places.value[place];
      const row = i * most;
      covariances(row, i, heldU[i], heldV[i]);
      eliminate(rows, perPivot, row, 0, i);
      const pivot = sill - dot(rows, row, row, i);
      perPivot[i] = pivot > NO_PIVOT * sill ? 1 / Math.sqrt(pivot) : 0;
    }
    eliminate(rows, perPivot, z, alike, n);
    eliminate(rows, perPivot, w, alike, n);
    zz = dot(rows, z, z, n);
    wz = dot(rows, w, z, n);
  }

  function solve(u: number, v: number): void {
    if (block > 0) blockCovariances(u, v);
    else pointCovariances(u, v);
    eliminate(rows, perPivot, y, 0, n);
    const excess = dot(rows, z, y, n) - 1;
    answer.estimate = dot(rows, w, y, n) - (excess / zz) * wz;
    answer.variance = Math.max(0, own - dot(rows, y, y, n) + (excess * excess) / zz);
  }

  /** Into a row: those of a place with the first so many places held, the nugget not between them. */
  function covariances(row: number, count: number, u: number, v: number): void {
    for (let j = 0; j < count; j++) {
      const du = heldU[j] - u;
      const dv = heldV[j] - v;
      const t = Math.sqrt(du * du + dv * dv) * perRange;
      // The model written out: this line is run some 300 times a cell.
      if (spherical) rows[row + j] = t < 1 ? psill * (1 - t * (1.5 - 0.5 * t * t)) : 0;
      else rows[row + j] = psill * Math.exp(-t);
    }
  }

  function pointCovariances(u: number, v: number): void {
    covariances(y, n, u, v);
    for (let j = 0; j < n; j++) if (heldU[j] === u && heldV[j] === v) rows[y + j] = sill;
  }

  function blockCovariances(u: number, v: number): void {
    rows.fill(0, sums, sums + n);
    for (const node of nodes) {
      covariances(y, n, u + node.u, v + node.v);
      for (let j = 0; j < n; j++) rows[sums + j] += node.share * rows[y + j];
    }
    rows.copyWithin(y, sums, sums + n);
  }

  function withinBlock(): number {
    let mean = 0;
    for (const a of nodes) {
      for (const b of nodes) {
        const t = Math.hypot(a.u - b.u, a.v - b.v) * perRange;
        mean += a.share * b.share * psill * (1 - riseOf(model.family, t));
      }
    }
    return mean;
  }
}

/**
 * Entries `from … to` of the row at `row` become those of L⁻¹ times it; entries before are so already. Where L has no pivot they become 0.
 * Two sums at once, neither waiting for the other.
 */
function eliminate(rows: Float64Array, perPivot: Float64Array, row: number, from: number, to: number): void {
  const most = perPivot.length;
  for (let j = from; j < to; j++) {
    const other = j * most;
    let even = rows[row + j];
    let odd = 0;
    let k = 0;
    for (; k + 1 < j; k += 2) {
      even -= rows[row + k] * rows[other + k];
      odd -= rows[row + k + 1] * rows[other + k + 1];
    }
    if (k < j) even -= rows[row + k] * rows[other + k];
    rows[row + j] = (even + odd) * perPivot[j];
  }
}

function dot(rows: Float64Array, a: number, b: number, count: number): number {
  let sum = 0;
  for (let j = 0; j < count; j++) sum += rows[a + j] * rows[b + j];
  return sum;
}

function blockNodes(side: number) {
  return GAUSS.flatMap((a) =>
    GAUSS.map((b) => ({ u: a.at * side, v: b.at * side, share: a.share * b.share })),
  );
}

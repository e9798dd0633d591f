import type { HarvestLog, Passes } from './harvest-log.ts';

/** Records side by side on two passes driven towards each other, as places in `passes.order`; `later[k]` was cut after `earlier[k]`. */
export interface OpposedPairs {
  readonly later: Uint32Array;
  readonly earlier: Uint32Array;
  /** Places asked for a neighbour. */
  readonly asked: number;
}

/** Further apart than two wide headers is no neighbour. */
const REACH_M = 25;
/** Neighbours are looked for in squares of this side, ring by ring: most lie in the first. */
const SQUARE_M = REACH_M / 3;
/** Places asked for a neighbour. On the sample fields more of them do not sharpen the estimate. */
const ASKED = 15_000;
/** Courses that differ by 150° or more are opposed. */
const OPPOSED = Math.cos((150 * Math.PI) / 180);
/** Course of a place: over this many records to either side, long enough for the error of a receiver. */
const CHORD = 4;

/**
 * For each of at most 15,000 places evenly chosen among the eligible ones (rising), the nearest eligible place of an earlier pass driven the other way, if it lies
 * abeam: no further along than `step_m`. So every pair of passes is met once.
 */
export function opposedPairs(
  { x_m, y_m }: HarvestLog,
  { order, pass, first, last }: Passes,
  eligible: Uint32Array,
  step_m: number,
): OpposedPairs {
  const stride = Math.max(1, Math.ceil(eligible.length / ASKED));
  const asked = Math.ceil(eligible.length / stride);
  const later = new Uint32Array(asked);
  const earlier = new Uint32Array(asked);
  const squares = squaresOf(x_m, y_m, order, eligible);
  let pairs = 0;
  for (let at = 0; at < eligible.length; at += stride) {
    const here = eligible[at];
    const other = neighbourOf(here);
    if (other < 0) continue;
    later[pairs] = here;
    earlier[pairs++] = other;
  }
  return { later: later.subarray(0, pairs), earlier: earlier.subarray(0, pairs), asked };

  function neighbourOf(here: number): number {
    const i = order[here];
    const [east, north] = courseAt(here);
    let best = -1;
    let nearest2 = REACH_M * REACH_M;
    const { side_m, cols, rows, start, places } = squares;
    const ownCol = Math.floor((x_m[i] - squares.west) / side_m);
    const ownRow = Math.floor((y_m[i] - squares.south) / side_m);
    const rings = Math.ceil(REACH_M / side_m);
    for (let ring = 0; ring <= rings; ring++) {
      // What lies in this ring and in those beyond is no nearer.
      const begins_m = Math.max(0, ring - 1) * side_m;
      if (begins_m * begins_m >= nearest2) break;
      for (let row = Math.max(0, ownRow - ring); row <= Math.min(rows - 1, ownRow + ring); row++) {
        const step = Math.abs(row - ownRow) === ring ? 1 : 2 * ring;
        for (let col = ownCol - ring; col <= ownCol + ring; col += step) {
          if (col >= 0 && col < cols) lookIn(row * cols + col);
        }
      }
    }
    if (best < 0) return -1;
    const along_m = (x_m[order[best]] - x_m[i]) * east + (y_m[order[best]] - y_m[i]) * north;
    return Math.abs(along_m) <= step_m ? best : -1;

    function lookIn(square: number): void {
      for (let k = start[square]; k < start[square + 1]; k++) {
        const j = order[places[k]];
        if (pass[j] >= pass[i]) continue;
        const dx = x_m[j] - x_m[i];
        const dy = y_m[j] - y_m[i];
        const far2 = dx * dx + dy * dy;
        if (far2 >= nearest2) continue;
        if (!opposed(places[k], east, north)) continue;
        nearest2 = far2;
        best = places[k];
      }
    }
  }

  function opposed(place: number, east: number, north: number): boolean {
    const own = pass[order[place]];
    const behind = order[Math.max(first[own], place - CHORD)];
    const ahead = order[Math.min(last[own], place + CHORD)];
    const dx = x_m[ahead] - x_m[behind];
    const dy = y_m[ahead] - y_m[behind];
    const length = Math.sqrt(dx * dx + dy * dy);
    return east * (dx / length) + north * (dy / length) <= OPPOSED;
  }

  function courseAt(place: number): readonly [east: number, north: number] {
    const own = pass[order[place]];
    const behind = order[Math.max(first[own], place - CHORD)];
    const ahead = order[Math.min(last[own], place + CHORD)];
    const dx = x_m[ahead] - x_m[behind];
    const dy = y_m[ahead] - y_m[behind];
    const length = Math.sqrt(dx * dx + dy * dy);
    return [dx / length, dy / length];
  }
}

/**
 * Places by the square they lie in, row by row from the south-west: `places[start[square]]` up to `start[square + 1]`. Squares are
 * larger where need be, so that there are no more than twice as many as places however far those lie apart.
 */
function squaresOf(x_m: Float64Array, y_m: Float64Array, order: Uint32Array, eligible: Uint32Array) {
  let [west, south, east, north] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let k = 0; k < eligible.length; k++) {
    const i = order[eligible[k]];
    if (x_m[i] < west) west = x_m[i];
    if (x_m[i] > east) east = x_m[i];
    if (y_m[i] < south) south = y_m[i];
    if (y_m[i] > north) north = y_m[i];
  }
  const [wide, high] = eligible.length === 0 ? [0, 0] : [east - west, north - south];
  const n = Math.max(1, eligible.length);
  const side_m = Math.max(SQUARE_M, Math.sqrt((wide * high) / n), (wide + high) / n);
  const cols = Math.floor(wide / side_m) + 1;
  const rows = Math.floor(high / side_m) + 1;
  const start = new Uint32Array(cols * rows + 2);
  const square = new Uint32Array(eligible.length);
  for (let k = 0; k < eligible.length; k++) {
    const i = order[eligible[k]];
    square[k] = Math.floor((y_m[i] - south) / side_m) * cols + Math.floor((x_m[i] - west) / side_m);
    start[square[k] + 2]++;
  }
  for (let s = 2; s < start.length; s++) start[s] += start[s - 1];
  const places = new Uint32Array(eligible.length);
  for (let k = 0; k < eligible.length; k++) places[start[square[k] + 1]++] = eligible[k];
  return { west, south, side_m, cols, rows, start, places };
}

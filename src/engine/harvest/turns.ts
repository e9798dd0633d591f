import type { Track } from './track.ts';

/** Course behind and course ahead are taken over this way, long enough for the error of a receiver. */
const CHORD_M = 10;
/** A change of course beyond this is a turn. Common practice, no source. */
const TURN_DEG = 60;
/** Square of the cosine of a change of course that is surely none: its cosine need not be worked out. */
const SURELY_STRAIGHT = 0.3;
/** Two chords whose lengths multiply to more than this bridge a hole in the track. */
const LONGEST_CHORDS_M2 = (3 * CHORD_M) ** 2;

/**
 * Marks in `starts` where a track turns, once a turn, at its sharpest place. `starts` holds 1 where the track is broken already, and courses are not taken across that.
 * By place in `placed`. Courses are chords of ten metres.
 */
export function markTurns({ x_m, y_m }: Pick<Track, 'x_m' | 'y_m'>, starts: Uint8Array): void {
  const n = starts.length;
  for (let from = 0; from < n; ) {
    let to = from + 1;
    while (to < n && !starts[to]) to++;
    markWithin(x_m, y_m, from, to, starts);
    from = to;
  }
}

/** The same over the unbroken places from `from` to before `to`. */
function markWithin(x: Float64Array, y: Float64Array, from: number, to: number, starts: Uint8Array): void {
  const limit = Math.cos((TURN_DEG * Math.PI) / 180);
  let behind = from - 1;
  let ahead = from;
  let sharpest = -1;
  let least = 1;
  for (let p = from; p < to; p++) {
    while (behind + 1 < p && apart(x, y, behind + 1, p)) behind++;
    if (ahead < p) ahead = p;
    while (ahead < to && !apart(x, y, ahead, p)) ahead++;
    const cos = behind < from || ahead >= to ? 1 : cosOfTurn(x, y, behind, p, ahead);
    if (cos < limit) {
      if (cos >= least) continue;
      least = cos;
      sharpest = p;
    } else if (sharpest >= 0) {
      starts[sharpest] = 1;
      sharpest = -1;
      least = 1;
    }
  }
  if (sharpest >= 0) starts[sharpest] = 1;
}

/** Whether two places are a chord or more from each other. */
function apart(x: Float64Array, y: Float64Array, a: number, b: number): boolean {
  const dx = x[b] - x[a];
  const dy = y[b] - y[a];
  return dx * dx + dy * dy >= CHORD_M * CHORD_M;
}

/** Cosine between the chords from a to b and from b to c; 1 where they are nearly straight, or too long to be the course. */
function cosOfTurn(x: Float64Array, y: Float64Array, a: number, b: number, c: number): number {
  const ax = x[b] - x[a];
  const ay = y[b] - y[a];
  const bx = x[c] - x[b];
  const by = y[c] - y[b];
  const along = ax * bx + ay * by;
  const lengths2 = (ax * ax + ay * ay) * (bx * bx + by * by);
  if (along > 0 && along * along > SURELY_STRAIGHT * lengths2) return 1;
  const lengths = Math.sqrt(lengths2);
  return lengths > LONGEST_CHORDS_M2 ? 1 : along / lengths;
}

/** Course behind and course ahead are taken over this way, long enough for the error of a receiver. */
const CHORD_M = 10;
/** A change of course beyond this is a turn. Common practice, no source. */
const TURN_DEG = 60;
/** Two chords whose lengths multiply to more than this bridge a hole in the track. */
const LONGEST_CHORDS_M2 = (3 * CHORD_M) ** 2;

/**
 * Where a track turns: 1 at the sharpest place of each turn, by place in `placed` (places in `order` along the track). Courses are chords over ten metres; where one
 * would bridge a hole in the track, nothing is said.
 */
export function sharpTurns(
  x_m: Float64Array,
  y_m: Float64Array,
  order: Uint32Array,
  placed: Uint32Array,
): Uint8Array {
  const n = placed.length;
  const turns = new Uint8Array(n);
  const limit = Math.cos((TURN_DEG * Math.PI) / 180);
  // By place, so that the two ends of the window read memory in order.
  const x = new Float64Array(n);
  const y = new Float64Array(n);
  for (let p = 0; p < n; p++) {
    x[p] = x_m[order[placed[p]]];
    y[p] = y_m[order[placed[p]]];
  }
  let behind = -1;
  let ahead = 0;
  let sharpest = -1;
  let least = 1;
  for (let p = 0; p < n; p++) {
    while (behind + 1 < p && apart(x, y, behind + 1, p)) behind++;
    if (ahead < p) ahead = p;
    while (ahead < n && !apart(x, y, ahead, p)) ahead++;
    const cos = behind < 0 || ahead >= n ? 1 : cosOfTurn(x, y, behind, p, ahead);
    if (cos < limit) {
      if (cos >= least) continue;
      least = cos;
      sharpest = p;
    } else if (sharpest >= 0) {
      turns[sharpest] = 1;
      sharpest = -1;
      least = 1;
    }
  }
  if (sharpest >= 0) turns[sharpest] = 1;
  return turns;
}

/** Whether two places are a chord or more from each other. */
function apart(x: Float64Array, y: Float64Array, a: number, b: number): boolean {
  const dx = x[b] - x[a];
  const dy = y[b] - y[a];
  return dx * dx + dy * dy >= CHORD_M * CHORD_M;
}

/** Cosine between the chords from a to b and from b to c; 1 where they are too long to be the course. */
function cosOfTurn(x: Float64Array, y: Float64Array, a: number, b: number, c: number): number {
  const [ax, ay] = [x[b] - x[a], y[b] - y[a]];
  const [bx, by] = [x[c] - x[b], y[c] - y[b]];
  const lengths = Math.sqrt((ax * ax + ay * ay) * (bx * bx + by * by));
  return lengths > LONGEST_CHORDS_M2 ? 1 : (ax * bx + ay * by) / lengths;
}

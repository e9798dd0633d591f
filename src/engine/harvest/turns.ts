/** Course behind and course ahead are taken over this way, long enough for the error of a receiver. */
const CHORD_M = 10;
/** A change of course beyond this is a turn. Common practice, no source. */
const TURN_DEG = 60;

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
  let behind = -1;
  let ahead = 0;
  let sharpest = -1;
  let least = 1;
  for (let p = 0; p < n; p++) {
    const here = order[placed[p]];
    const x = x_m[here];
    const y = y_m[here];
    const within = (q: number) => {
      const dx = x_m[order[placed[q]]] - x;
      const dy = y_m[order[placed[q]]] - y;
      return dx * dx + dy * dy < CHORD_M * CHORD_M;
    };
    while (behind + 1 < p && !within(behind + 1)) behind++;
    if (ahead < p) ahead = p;
    while (ahead < n && within(ahead)) ahead++;
    const cos = behind < 0 || ahead >= n ? 1 : cosBetween(behind, ahead);
    if (cos < limit && cos < least) {
      least = cos;
      sharpest = p;
    } else if (cos >= limit && sharpest >= 0) {
      turns[sharpest] = 1;
      sharpest = -1;
      least = 1;
    }

    function cosBetween(a: number, b: number): number {
      const ax = x - x_m[order[placed[a]]];
      const ay = y - y_m[order[placed[a]]];
      const bx = x_m[order[placed[b]]] - x;
      const by = y_m[order[placed[b]]] - y;
      const lengths = Math.sqrt((ax * ax + ay * ay) * (bx * bx + by * by));
      const bridged = 3 * CHORD_M;
      return lengths > bridged * bridged ? 1 : (ax * bx + ay * by) / lengths;
    }
  }
  if (sharpest >= 0) turns[sharpest] = 1;
  return turns;
}

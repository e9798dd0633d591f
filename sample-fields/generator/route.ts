import { inset, ringsOf } from './clipping.ts';
import type { Part, Point } from './design.ts';
import { stretchesOf } from './outline.ts';

/** A stretch driven. With the header up nothing is cut. */
interface Leg {
  readonly path: readonly Point[];
  readonly cutting: boolean;
  readonly pass: number;
}

const HEADLAND_ROUNDS = 2;
const SHORTEST_PASS_M = 8;

/**
 * The combine's way: two rounds of every edge, holes included, then passes up and back along the rows (v), with a
 * turn between one and the next. `offset` shifts the passes sideways by a share of the header.
 */
export function routeOf(parts: readonly Part[], header_m: number, offset: number): Leg[] {
  return withTurns(parts.flatMap((part) => [...rounds(part, header_m), ...passes(part, header_m, offset)]));
}

function rounds(part: Part, header_m: number): Point[][] {
  const rings = ringsOf([part]);
  return Array.from({ length: HEADLAND_ROUNDS }, (_, k) => inset(rings, header_m * (k + 0.5)))
    .flat()
    .map((ring) => [...ring, ring[0]]);
}

/**
 * Up and back from west to east. Where a hole splits the passes, the ground before it is cut first, as a land of its own,
 * and then the ground behind it. The first and the last pass lie partly over cut ground, the rest side by side.
 */
function passes(part: Part, header_m: number, offset: number): Point[][] {
  // Half a foot of overlap with the headland, as an operator keeps it.
  const inner = inset(ringsOf([part]), header_m * HEADLAND_ROUNDS - 0.15);
  const us = inner.flat().map(([u]) => u);
  const west = Math.min(...us);
  const east = Math.max(...us);
  const lands: Point[][][] = [];
  for (let k = 0; k < (east - west) / header_m + offset; k++) {
    const u = Math.min(east - 0.5, Math.max(west + 0.5, west + (k + 0.5 - offset) * header_m));
    const stretches = stretchesOf(inner, 0, u).filter(([v0, v1]) => v1 - v0 > SHORTEST_PASS_M);
    for (const [land, [v0, v1]] of stretches.entries()) {
      lands[land] ??= [];
      const north: Point[] = [
        [u, v0],
        [u, v1],
      ];
      lands[land].push(lands[land].length % 2 === 0 ? north : north.toReversed());
    }
  }
  return lands.flat();
}

/** Passes numbered from 1, a turn with the header up after each but the last. */
function withTurns(paths: readonly Point[][]): Leg[] {
  return paths.flatMap((path, i): Leg[] => {
    const leg = { path, cutting: true, pass: i + 1 };
    const next = paths[i + 1];
    return next ? [leg, { path: turn(path, next), cutting: false, pass: i + 1 }] : [leg];
  });
}

/** A bow from the end of one pass to the start of the next: a quadratic curve past the end (Bézier). */
function turn(path: readonly Point[], next: readonly Point[]): Point[] {
  const [a, b] = [path[path.length - 2], path[path.length - 1]];
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
  const bow: Point = [b[0] + (14 * (b[0] - a[0])) / length, b[1] + (14 * (b[1] - a[1])) / length];
  const end = next[0];
  return Array.from({ length: 9 }, (_, i): Point => {
    const t = i / 8;
    const at = (k: 0 | 1) => (1 - t) ** 2 * b[k] + 2 * t * (1 - t) * bow[k] + t * t * end[k];
    return [at(0), at(1)];
  });
}

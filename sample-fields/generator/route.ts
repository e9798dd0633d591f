import { inset, ringsOf } from './clipping.ts';
import type { Outline, Part, Point } from './design.ts';

/** A stretch driven without stopping the log. With the header up nothing is cut. */
export interface Leg {
  readonly path: readonly Point[];
  readonly cutting: boolean;
  readonly pass: number;
}

const HEADLAND_ROUNDS = 2;

/**
 * The combine's way: two rounds of every edge, holes included, then passes up and back along the rows (v), with a
 * turn between one and the next. `offset` shifts the passes sideways by a share of the header.
 */
export function routeOf(parts: readonly Part[], header_m: number, offset: number): Leg[] {
  return parts.reduce<Leg[]>((legs, part) => {
    const from = (legs.at(-1)?.pass ?? 0) + 1;
    return [...legs, ...withTurns([...rounds(part, header_m), ...passes(part, header_m, offset)], from)];
  }, []);
}

function rounds(part: Part, header_m: number): Point[][] {
  const rings = ringsOf([part]);
  return Array.from({ length: HEADLAND_ROUNDS }, (_, k) => inset(rings, header_m * (k + 0.5)))
    .flat()
    .map((ring) => [...ring, ring[0]]);
}

/** The first and the last pass lie partly over cut ground, the rest side by side. */
function passes(part: Part, header_m: number, offset: number): Point[][] {
  // Half a foot of overlap with the headland, as an operator keeps it.
  const inner = inset(ringsOf([part]), header_m * HEADLAND_ROUNDS - 0.15);
  const us = inner.flat().map(([u]) => u);
  const west = Math.min(...us);
  const east = Math.max(...us);
  const count = Math.ceil((east - west) / header_m + offset);
  return Array.from({ length: count }, (_, k) => {
    const u = Math.min(east - 0.5, Math.max(west + 0.5, west + (k + 0.5 - offset) * header_m));
    const north = spansAlong(inner, u).map(([v0, v1]): Point[] => [
      [u, v0],
      [u, v1],
    ]);
    return k % 2 === 0 ? north : north.toReversed().map((path) => path.toReversed());
  }).flat();
}

/** Stretches of the line u = const inside the rings, from south to north. */
function spansAlong(rings: readonly Outline[], u: number): [number, number][] {
  const cuts = rings.flatMap((ring) =>
    ring.flatMap(([u1, v1], i) => {
      const [u2, v2] = ring[(i + 1) % ring.length];
      return u1 > u === u2 > u ? [] : [v1 + ((v2 - v1) * (u - u1)) / (u2 - u1)];
    }),
  );
  cuts.sort((a, b) => a - b);
  return Array.from({ length: cuts.length >> 1 }, (_, i): [number, number] => [
    cuts[2 * i],
    cuts[2 * i + 1],
  ]).filter(([v0, v1]) => v1 - v0 > 8);
}

/** Passes numbered from `first`, a turn with the header up after each but the last. */
function withTurns(paths: readonly Point[][], first: number): Leg[] {
  return paths.flatMap((path, i): Leg[] => {
    const leg = { path, cutting: true, pass: first + i };
    const next = paths[i + 1];
    return next ? [leg, { path: turn(path, next), cutting: false, pass: first + i }] : [leg];
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

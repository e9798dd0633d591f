import { ClipType, FillRule } from 'clipper2-ts';
import { regionArea, ringArea } from './area.ts';
import { clip, onGrid } from './clipper.ts';
import { edgeTree, selfPairs } from './edge-tree.ts';
import type { Ring } from './ring.ts';
import { GRID_M, meeting } from './segments.ts';

/** Where a ring crosses itself: its edges, named by the index of their first vertex, and the place in metres. */
export interface Crossing {
  readonly edges: readonly [number, number];
  readonly x: number;
  readonly y: number;
}

/** A ring that touches itself without crossing encloses what its shoelace says, to this much. */
const TURNED_OVER_M2 = 0.01;

/** Index of the first vertex that is not finite, or -1. */
export function notFiniteAt(ring: Ring): number {
  const at = ring.findIndex((value) => !Number.isFinite(value));
  return at < 0 ? -1 : Math.floor(at / 2);
}

/**
 * The first place found where a ring without spikes crosses itself, or null. Two edges that pass through each other by
 * more than the grid are a crossing at sight. A ring that only touches itself may be sound (a neck of no width, a hole
 * reached by a cut) or turned over at the touch (two lobes through one vertex): then the area between its lines, counted
 * even-odd, is not its shoelace area. 200,000 vertices take well under a second.
 */
export function findCrossing(ring: Ring): Crossing | null {
  const edges = ring.length / 2;
  const pairs: { crossing?: readonly [number, number]; touch?: readonly [number, number] } = {};
  selfPairs(edgeTree(ring), GRID_M, (i, j) => {
    if (j === i + 1 || (i === 0 && j === edges - 1)) return false;
    const how = meeting(ring, i, ring, j);
    if (how === 'cross') pairs.crossing = [i, j];
    else if (how === 'touch') pairs.touch ??= [i, j];
    return how === 'cross';
  });
  const found = pairs.crossing ?? (pairs.touch && isTurnedOver(ring) ? pairs.touch : null);
  return found && { edges: found, ...meetingPoint(ring, found[0], found[1]) };
}

function isTurnedOver(ring: Ring): boolean {
  const enclosed = regionArea(clip(ClipType.Union, FillRule.EvenOdd, [ring], []));
  const [{ outer }] = onGrid([{ outer: ring, holes: [] }]);
  return Math.abs(enclosed - Math.abs(ringArea(outer))) > TURNED_OVER_M2;
}

/** Where the lines of two edges meet, kept on the first; its own start when they are parallel. */
function meetingPoint(ring: Ring, i: number, j: number): { x: number; y: number } {
  const at = (k: number) => ring[k % ring.length];
  const [ax, ay] = [at(2 * i), at(2 * i + 1)];
  const [ux, uy] = [at(2 * i + 2) - ax, at(2 * i + 3) - ay];
  const [cx, cy] = [at(2 * j), at(2 * j + 1)];
  const [vx, vy] = [at(2 * j + 2) - cx, at(2 * j + 3) - cy];
  const parallel = ux * vy - uy * vx;
  const t = parallel === 0 ? 0 : Math.max(0, Math.min(1, ((cx - ax) * vy - (cy - ay) * vx) / parallel));
  return { x: ax + t * ux, y: ay + t * uy };
}

import { ClipType, FillRule } from 'clipper2-ts';
import { regionArea, ringArea } from './area.ts';
import { clip } from './clipper.ts';
import { crossPairs, type EdgeTree } from './edge-tree.ts';
import { ringLength } from './length.ts';
import { GRID_M, meeting } from './segments.ts';

/** How the insides of two rings lie: apart or one within the other (`nested`), one and the same, or overlapping in part. */
type Relation = 'nested' | 'same' | 'overlap';

/**
 * The relation of two rings that do not cross themselves. Rings whose edges stay clear of each other are nested or
 * apart at sight; for those that meet, the area they share decides, to a strip two grid steps wide along the shorter.
 */
export function relationOf(a: EdgeTree, b: EdgeTree): Relation {
  const meet = crossPairs(a, b, GRID_M, (i, j) => meeting(a.ring, i, b.ring, j) !== 'apart');
  if (!meet) return 'nested';
  const shared = regionArea(clip(ClipType.Intersection, FillRule.EvenOdd, [a.ring], [b.ring]));
  const areaA = Math.abs(ringArea(a.ring));
  const areaB = Math.abs(ringArea(b.ring));
  const tolerance = 2 * GRID_M * Math.min(ringLength(a.ring), ringLength(b.ring)) + GRID_M;
  if (shared >= Math.max(areaA, areaB) - tolerance) return 'same';
  if (shared <= tolerance || shared >= Math.min(areaA, areaB) - tolerance) return 'nested';
  return 'overlap';
}

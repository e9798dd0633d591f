import { ClipType, FillRule } from 'clipper2-ts';
import type { Issue } from '../issue.ts';
import { regionArea, ringArea } from './area.ts';
import { clip, ringsOf } from './clipper.ts';
import { type EdgeTree, edgeTree } from './edge-tree.ts';
import { extentOf, extentsMeet } from './extent.ts';
import { nestRings } from './nest.ts';
import { orientRing } from './orient.ts';
import { difference } from './overlay.ts';
import { pointInRing, pointWithin } from './point-in-ring.ts';
import * as issue from './region-issues.ts';
import { relationOf } from './relation.ts';
import type { Region, Ring } from './ring.ts';

/**
 * Rings that do not cross themselves, of one record, as a region. Rings that keep out of each other's way are nested as
 * they are. Where two overlap in part, nesting cannot say which is a hole, and the winding must: those wound like the
 * largest ring are parts and are joined, those wound against it are holes and are cut out of what the others give.
 */
export function joinParts(
  rings: readonly Ring[],
  names: readonly string[],
  where: string,
  changes: string[],
  issues: Issue[],
): Region {
  const trees: (EdgeTree | undefined)[] = [];
  const treeOf = (k: number) => {
    trees[k] ??= edgeTree(rings[k]);
    return trees[k];
  };
  const extents = rings.map((ring) => extentOf([ring]));
  const repeated = new Set<number>();
  const overlapping = new Set<number>();
  for (let i = 0; i < rings.length; i++) {
    for (let j = i + 1; j < rings.length; j++) {
      if (repeated.has(i) || repeated.has(j) || !extentsMeet(extents[i], extents[j])) continue;
      const relation = relationOf(treeOf(i), treeOf(j));
      if (relation === 'overlap') overlapping.add(i).add(j);
      if (relation !== 'same') continue;
      if (ringArea(rings[i]) > 0 !== ringArea(rings[j]) > 0)
        issues.push(issue.holeFillsPart(names[j], names[i]));
      else issues.push(issue.ringsRepeat(names[j], names[i]));
      repeated.add(j);
      changes.push(`${names[j]}: left out, the same as ${names[i]}`);
    }
  }
  const isSingle = (k: number) => !repeated.has(k) && !overlapping.has(k);
  const single = rings.filter((_, k) => isSingle(k));
  const areas = rings.map(ringArea);
  const partsAreLeft = areas.reduce((most, area) => (Math.abs(area) > Math.abs(most) ? area : most), 0) > 0;
  const isPart = (k: number) => areas[k] > 0 === partsAreLeft;
  const isAround = (j: number, k: number, point: readonly [number, number]) =>
    Math.abs(areas[j]) > Math.abs(areas[k]) &&
    extentsMeet(extents[j], extents[k]) &&
    pointInRing(rings[j], ...point);
  // Nesting makes ground of what nothing is around, whichever way it is wound: a hole that missed its part is told.
  rings.forEach((ring, k) => {
    if (isPart(k) || !isSingle(k)) return;
    const point = pointWithin(ring);
    if (rings.some((_, j) => isAround(j, k, point))) return;
    issues.push(issue.holeInNoPart(names[k], Math.abs(areas[k])));
  });
  if (overlapping.size === 0) return nestRings(single);

  const crossed = [...overlapping].filter((k) => !repeated.has(k)).sort((a, b) => a - b);
  const parts = crossed.filter(isPart).map((k) => orientRing(rings[k], 'counter-clockwise'));
  const holes = crossed.filter((k) => !isPart(k)).map((k) => orientRing(rings[k], 'counter-clockwise'));
  const joined = ringsOf(clip(ClipType.Union, FillRule.NonZero, parts, []));
  const whole = nestRings([...single, ...joined]);
  const cut =
    holes.length === 0 ? whole : difference(whole, clip(ClipType.Union, FillRule.NonZero, holes, []));

  const effect = `${parts.length} parts joined, ${holes.length} holes cut out: ${regionArea(cut).toFixed(2)} m² in all`;
  const found = `${crossed.length} rings that overlap in part`;
  issues.push(issue.partsOverlap(where, found, effect));
  changes.push(`${where}: ${found}; ${effect}`);
  return cut;
}

import { ClipType, FillRule } from 'clipper2-ts';
import { Refusal } from '../issue.ts';
import { regionArea } from './area.ts';
import { clip, clipsOf, onGrid, refuseUnplaced, ringsOf } from './clipper.ts';
import { type Extent, extentOf, extentsMeet } from './extent.ts';
import { ringLength } from './length.ts';
import { nearPart } from './near-part.ts';
import type { Region, Ring } from './ring.ts';
import { GRID_M } from './segments.ts';

/** Room around a region, so that what is left out of others is well outside it. */
const ROOM_M = 1;

/**
 * What of `a` lies inside `b` and what outside. Both inputs are regions as `regionFromRings` gives them; coordinates
 * come back on a grid of 1e-4 m, or as they were where no border of `b` comes near. After each overlay |inside| + |outside| = |a| is checked on that grid; where two
 * borders cross, their point is moved to the grid and bends the border by at most one step, so the identity must hold
 * to a grid step times the length of a's border. Refuses with `overlay-does-not-close` when it does not.
 */
export function overlay(a: Region, b: Region): Parts {
  return overlayWith(b)(a);
}

/** The same for many `a`: what is asked of `b` alone is asked once. */
export function overlayWith(b: Region): (a: Region) => Parts {
  const ringsB = ringsOf(b);
  const extentB = extentOf(ringsB);
  refuseUnplaced(ringsB);
  return (a) => overlayNear(a, ringsB, extentB);
}

interface Parts {
  readonly inside: Region;
  readonly outside: Region;
}

function overlayNear(a: Region, ringsB: readonly Ring[], extentB: Extent): Parts {
  const ringsA = ringsOf(a);
  const extent = extentOf(ringsA);
  if (!extentsMeet(extent, extentB)) return { inside: [], outside: a };
  const near = nearPart(ringsB, grown(extent));
  if (near === 'none') return { inside: [], outside: a };
  if (near === 'all') return { inside: a, outside: [] };
  const clips = clipsOf(FillRule.NonZero, ringsA, near);
  const inside = clips(ClipType.Intersection);
  const outside = clips(ClipType.Difference);
  const whole_m2 = regionArea(onGrid(a));
  const gap_m2 = regionArea(inside) + regionArea(outside) - whole_m2;
  const tolerance_m2 = GRID_M * (ringsA.reduce((sum, ring) => sum + ringLength(ring), 0) + GRID_M);
  if (Math.abs(gap_m2) > tolerance_m2) {
    throw new Refusal({
      code: 'overlay-does-not-close',
      where: 'overlay of two polygon sets',
      found: `parts that differ from the whole by ${gap_m2} m²`,
      expected: `the ${whole_m2} m² of the whole, to ${tolerance_m2} m²`,
      effect: 'Areas would not add up, so the result is not used',
      remedy: 'Check both layers for polygons that overlap or cross themselves',
    });
  }
  return { inside, outside };
}

/** The part of `a` inside `b`, checked as `overlay` says. Where `b` is one small polygon it is the one to be cut: of a long border only what is near it counts then. */
export function intersection(a: Region, b: Region): Region {
  return b.length === 1 && reach_m2(b) < reach_m2(a) ? overlay(b, a).inside : overlay(a, b).inside;
}

function reach_m2(region: Region): number {
  const { minX, minY, maxX, maxY } = extentOf(region.map(({ outer }) => outer));
  return (maxX - minX) * (maxY - minY);
}

/** The part of `a` outside `b`, checked as `overlay` says. */
export function difference(a: Region, b: Region): Region {
  return overlay(a, b).outside;
}

/** Everything that lies in any of the regions; shared borders dissolve. */
export function union(regions: readonly Region[]): Region {
  return clip(ClipType.Union, FillRule.NonZero, regions.flatMap(ringsOf), []);
}

function grown({ minX, minY, maxX, maxY }: Extent): Extent {
  return { minX: minX - ROOM_M, minY: minY - ROOM_M, maxX: maxX + ROOM_M, maxY: maxY + ROOM_M };
}

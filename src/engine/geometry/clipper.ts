import { Clipper64, type ClipType, type FillRule, type Path64, type Paths64, PathType } from 'clipper2-ts';
import { Refusal } from '../issue.ts';
import { ringArea } from './area.ts';
import { pointInRing, pointWithin } from './point-in-ring.ts';
import type { Region, Ring } from './ring.ts';
import { STEPS_PER_M } from './segments.ts';

/** Further out than this a coordinate is no place in a field frame, and products of grid steps would lose digits. */
const MAX_COORDINATE_M = 1e6;

/**
 * A boolean operation on rings in metres, on a grid of 1e-4 m: the result as a region, rings without area left out.
 * Refuses a coordinate that is not finite or beyond 1,000 km, on which the library would never return.
 */
export function clip(
  operation: ClipType,
  fill: FillRule,
  subject: readonly Ring[],
  other: readonly Ring[],
): Region {
  return clipsOf(fill, subject, other)(operation);
}

/** The same for several operations on the same rings, which the library takes in once. */
export function clipsOf(
  fill: FillRule,
  subject: readonly Ring[],
  other: readonly Ring[],
): (operation: ClipType) => Region {
  refuseUnplaced(subject);
  refuseUnplaced(other);
  const clipper = new Clipper64();
  clipper.addPaths(subject.map(toPath), PathType.Subject);
  clipper.addPaths(other.map(toPath), PathType.Clip);
  return (operation) => {
    const paths: Paths64 = [];
    if (!clipper.execute(operation, fill, paths)) refuseClip();
    return nestByWinding(paths.map(toRing));
  };
}

/** The library gave up. Nothing is known that makes it. */
function refuseClip(): never {
  throw new Refusal({
    code: 'overlay-failed',
    where: 'overlay of two polygon sets',
    found: 'no result',
    expected: 'polygons',
    effect: 'The polygons cannot be laid over each other',
    remedy: 'Check both layers for polygons that overlap or cross themselves',
  });
}

/** Refuses rings with a coordinate that is not finite or beyond 1,000 km. */
export function refuseUnplaced(rings: readonly Ring[]): void {
  for (const ring of rings) {
    for (let i = 0; i + 1 < ring.length; i += 2) {
      if (Math.abs(ring[i]) <= MAX_COORDINATE_M && Math.abs(ring[i + 1]) <= MAX_COORDINATE_M) continue;
      throw new Refusal({
        code: 'overlay-coordinate-out-of-range',
        where: `vertex ${i / 2 + 1} of a polygon`,
        found: `${ring[i]}, ${ring[i + 1]}`,
        expected: `metres of the field frame, within ${MAX_COORDINATE_M}`,
        effect: 'The polygons cannot be laid over each other',
        remedy: 'Check the coordinate system of the layer',
      });
    }
  }
}

/** All rings of a region, holes with their outer rings. */
export function ringsOf(region: Region): Ring[] {
  return region.flatMap((polygon) => [polygon.outer, ...polygon.holes]);
}

/** A region with its coordinates on the grid, as a clip would see it. */
export function onGrid(region: Region): Region {
  const snap = (ring: Ring) => {
    const snapped = new Float64Array(ring.length);
    for (let i = 0; i < ring.length; i++) snapped[i] = Math.round(ring[i] * STEPS_PER_M) / STEPS_PER_M;
    return snapped;
  };
  return region.map(({ outer, holes }) => ({ outer: snap(outer), holes: holes.map(snap) }));
}

/**
 * Rings of a result as a region: the library winds outer rings counter-clockwise and holes clockwise. Its own tree of them takes some holes that touch their
 * outer ring for polygons (33 of 4,000 overlays of strips that nearly coincide), so it is not asked for. A hole goes to the smallest ring around it; one that
 * no ring is around is thinner than the grid and is left out.
 */
function nestByWinding(rings: readonly Ring[]): Region {
  const outers = rings
    .map((outer) => ({ outer, area: ringArea(outer), holes: [] as Ring[] }))
    .filter(({ area }) => area > 0);
  for (const hole of rings) {
    if (!(ringArea(hole) < 0)) continue;
    const point = pointWithin(hole);
    const around = outers.filter(({ outer }) => pointInRing(outer, ...point));
    around.sort((a, b) => a.area - b.area);
    around[0]?.holes.push(hole);
  }
  return outers.map(({ outer, holes }) => ({ outer, holes }));
}

function toPath(ring: Ring): Path64 {
  const path: Path64 = [];
  for (let i = 0; i + 1 < ring.length; i += 2)
    path.push({ x: Math.round(ring[i] * STEPS_PER_M), y: Math.round(ring[i + 1] * STEPS_PER_M) });
  return path;
}

function toRing(path: Path64): Ring {
  const ring = new Float64Array(2 * path.length);
  path.forEach(({ x, y }, i) => {
    ring[2 * i] = x / STEPS_PER_M;
    ring[2 * i + 1] = y / STEPS_PER_M;
  });
  return ring;
}

import { Clipper, EndType, FillRule, JoinType, type Paths64 } from 'clipper2-ts';
import type { Outline, Part, Point } from './design.ts';
import { contains, signedArea } from './outline.ts';

/** The clipper counts in whole millimetres. */
const PER_METRE = 1000;

export function difference(subject: readonly Outline[], clip: readonly Outline[]): Outline[] {
  return fromPaths(Clipper.difference(toPaths(subject), toPaths(clip), FillRule.NonZero));
}

export function intersection(subject: readonly Outline[], clip: readonly Outline[]): Outline[] {
  return fromPaths(Clipper.intersect(toPaths(subject), toPaths(clip), FillRule.NonZero));
}

/** The outlines moved `distance_m` inwards: outer rings shrink and holes grow. */
export function inset(rings: readonly Outline[], distance_m: number): Outline[] {
  return fromPaths(
    Clipper.inflatePaths(toPaths(rings), -distance_m * PER_METRE, JoinType.Round, EndType.Polygon),
  );
}

/** Rings of parts wound so that the clipper fills outers and leaves holes empty. */
export function ringsOf(parts: readonly Part[]): Outline[] {
  return parts.flatMap((part) => [wound(part.outer, 1), ...part.holes.map((hole) => wound(hole, -1))]);
}

/** Rings as the clipper returns them (outers counter-clockwise) nested into parts. */
export function partsOf(rings: readonly Outline[]): Part[] {
  const parts = rings
    .filter((ring) => signedArea(ring) > 0)
    .map((outer) => ({ outer, holes: [] as Outline[] }));
  const smallestFirst = parts.toSorted((a, b) => signedArea(a.outer) - signedArea(b.outer));
  for (const hole of rings.filter((ring) => signedArea(ring) < 0)) {
    const [u, v] = hole[0];
    const owner = smallestFirst.find((part) => contains(part.outer, u, v));
    if (!owner) throw new Error(`a hole at ${u}, ${v} lies in no outer ring`);
    owner.holes.push(hole);
  }
  return parts;
}

function wound(outline: Outline, sign: number): Outline {
  return Math.sign(signedArea(outline)) === sign ? outline : outline.toReversed();
}

function toPaths(rings: readonly Outline[]): Paths64 {
  return rings.map((ring) =>
    ring.map(([u, v]) => ({ x: Math.round(u * PER_METRE), y: Math.round(v * PER_METRE) })),
  );
}

function fromPaths(paths: Paths64): Outline[] {
  return paths.map((path) => path.map(({ x, y }): Point => [x / PER_METRE, y / PER_METRE]));
}

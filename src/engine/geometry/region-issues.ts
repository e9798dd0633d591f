import type { Issue } from '../issue.ts';
import type { Ring } from './ring.ts';
import type { Crossing } from './validate.ts';

const UNUSABLE = 'The polygon cannot be measured and is not used';

/** A place in the field frame in words a person can walk to. */
function place(x: number, y: number): string {
  const part = (metres: number, plus: string, minus: string) =>
    `${Math.abs(metres).toFixed(2)} m ${metres < 0 ? minus : plus}`;
  return `${part(x, 'east', 'west')}, ${part(y, 'north', 'south')} of the field's centre`;
}

export function crossesItself(where: string, { edges, x, y }: Crossing): Issue {
  const [i, j] = edges.map((edge) => edge + 1);
  return {
    code: 'boundary-crosses-itself',
    severity: 'error',
    where,
    found: `the edges after vertices ${i} and ${j} cross at ${place(x, y)}`,
    expected: 'a line that does not cross itself',
    effect: UNUSABLE,
    remedy: 'Move one of these vertices, or have the polygon split where it crosses',
  };
}

export function vertexNotFinite(where: string, ring: Ring, vertex: number): Issue {
  return {
    code: 'vertex-not-a-place',
    severity: 'error',
    where: `${where} › vertex ${vertex + 1}`,
    found: `coordinates ${ring[2 * vertex]}, ${ring[2 * vertex + 1]}`,
    expected: 'finite coordinates of a place on Earth',
    effect: UNUSABLE,
    remedy: 'Check the coordinate system of the file, or save the layer again',
  };
}

export function ringWithoutArea(where: string, vertices: number): Issue {
  return {
    code: 'ring-without-area',
    severity: 'warning',
    where,
    found: `a ring of ${vertices} vertices that encloses nothing, or a strip under 1 cm wide`,
    expected: 'at least three vertices that are not on one line',
    effect: 'The ring is left out',
    remedy: 'Nothing to do unless a part or a hole is missing',
  };
}

export function ringsRepeat(where: string, first: string): Issue {
  return {
    code: 'ring-repeated',
    severity: 'warning',
    where,
    found: `the same ring as ${first}`,
    expected: 'each part once',
    effect: 'It is counted once',
    remedy: 'Nothing to do unless it was meant as something else',
  };
}

export function holeFillsPart(where: string, part: string): Issue {
  return {
    code: 'hole-fills-part',
    severity: 'error',
    where,
    found: `a hole as large as ${part} around it`,
    expected: 'a hole smaller than its part',
    effect: 'Nothing of the part is left, so the polygon is not used',
    remedy: 'Remove the hole or the part',
  };
}

export function partsOverlap(where: string, found: string, effect: string): Issue {
  return {
    code: 'parts-overlap',
    severity: 'warning',
    where,
    found,
    expected: 'parts and holes that do not overlap',
    effect,
    remedy: 'Look at the repaired outline before using it',
  };
}

export function nothingLeft(where: string): Issue {
  return {
    code: 'polygon-empty',
    severity: 'error',
    where,
    found: 'no ring that encloses an area',
    expected: 'at least one',
    effect: 'There is no polygon',
    remedy: 'Check the file',
  };
}

/** Of a record among others that enclose something: it is left out and no more. Other issues stay as they are. */
export function leftOutWhenEmpty(issue: Issue): Issue {
  if (issue.code !== 'polygon-empty') return issue;
  return {
    ...issue,
    severity: 'warning',
    effect: 'The record is left out; the others are used',
    remedy: 'Nothing to do unless a part is missing',
  };
}

export function holeInNoPart(where: string, area_m2: number): Issue {
  return {
    code: 'hole-in-no-part',
    severity: 'warning',
    where,
    found: `a ring of ${area_m2.toFixed(2)} m² wound as a hole, with no part around it`,
    expected: 'a hole inside its part, or a part wound like the others',
    effect: 'It is counted as ground',
    remedy: 'Remove the ring if it was meant as a hole',
  };
}

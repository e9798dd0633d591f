import type { Outline, Point } from './design.ts';
import type { YieldAt } from './ground.ts';
import { between, signedArea } from './outline.ts';

interface Box {
  readonly u0: number;
  readonly v0: number;
  readonly u1: number;
  readonly v1: number;
}

/**
 * Outlines of the ground where `at` is `level` or more inside a box, higher ground on the left of travel (outers
 * counter-clockwise, holes clockwise). Marching squares (Lorensen & Cline 1987, in the plane) on squares of `step_m`;
 * a rim of low values around the box closes every line. Outlines under `smallest_m2` are left out.
 */
export function contours(
  at: YieldAt,
  level: number,
  box: Box,
  step_m: number,
  smallest_m2: number,
): Outline[] {
  const cols = Math.round((box.u1 - box.u0) / step_m);
  const rows = Math.round((box.v1 - box.v0) / step_m);
  const width = cols + 3;
  const value = new Float64Array(width * (rows + 3)).fill(-Infinity);
  for (let r = 0; r <= rows; r++) {
    for (let c = 0; c <= cols; c++) {
      value[(r + 1) * width + c + 1] = at(box.u0 + c * step_m, box.v0 + r * step_m) - level;
    }
  }
  const node = (i: number): Point => [
    box.u0 + ((i % width) - 1) * step_m,
    box.v0 + (Math.floor(i / width) - 1) * step_m,
  ];
  const links = linksAcross(value, width);
  return chains(links)
    .map((edges) => edges.map(([low, high]) => crossing(node(low), node(high), value[low], value[high])))
    .filter((outline) => Math.abs(signedArea(outline)) >= smallest_m2);
}

/** A side of a square that the line crosses: from the node below the level to the node at or above it. */
type Side = readonly [low: number, high: number];

/** Where each line goes: from the side it enters a square by to the side it leaves by, keyed `low,high`. */
function linksAcross(value: Float64Array, width: number): Map<string, { from: Side; to: Side }> {
  const links = new Map<string, { from: Side; to: Side }>();
  for (let i = 0; i + width + 1 < value.length; i++) {
    if (i % width === width - 1) continue;
    const corners = [i, i + 1, i + width + 1, i + width];
    // Counter-clockwise round the square, the line enters by a side that falls and leaves by one that rises.
    const enters: { side: Side; k: number }[] = [];
    const leaves: { side: Side; k: number }[] = [];
    for (let k = 0; k < 4; k++) {
      const a = corners[k];
      const b = corners[(k + 1) % 4];
      if (value[a] < 0 === value[b] < 0) continue;
      if (value[a] < 0) leaves.push({ side: [a, b], k });
      else enters.push({ side: [b, a], k });
    }
    // On a saddle a line leaves by the side before the one it enters by, which keeps the two high corners apart.
    for (const leave of leaves) {
      const ahead = ({ k }: { k: number }) => (k - leave.k + 4) % 4;
      const enter = enters.toSorted((p, q) => ahead(p) - ahead(q))[0];
      links.set(enter.side.join(), { from: enter.side, to: leave.side });
    }
  }
  return links;
}

function chains(links: Map<string, { from: Side; to: Side }>): Side[][] {
  const out: Side[][] = [];
  while (links.size > 0) {
    const chain: Side[] = [];
    let key = links.keys().next().value as string;
    for (let link = links.get(key); link; link = links.get(key)) {
      links.delete(key);
      chain.push(link.from);
      key = link.to.join();
    }
    out.push(chain);
  }
  return out;
}

function crossing(low: Point, high: Point, lowValue: number, highValue: number): Point {
  const share = lowValue === -Infinity ? 1 : -lowValue / (highValue - lowValue);
  return between(low, high, share);
}

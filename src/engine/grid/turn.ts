import type { Region, Ring } from '../geometry/ring.ts';

/** A turned pair of axes: `v` along the heading (degrees clockwise from north), `u` to its right. */
export interface Turn {
  readonly cos: number;
  readonly sin: number;
}

export function turnTo(heading_deg: number): Turn {
  // Exact on the quarter turns, so that a north-south grid has exact corners.
  if (heading_deg === 0) return { cos: 1, sin: 0 };
  if (heading_deg === 90) return { cos: 0, sin: 1 };
  const angle = (heading_deg * Math.PI) / 180;
  return { cos: Math.cos(angle), sin: Math.sin(angle) };
}

/** Field frame → turned axes, vertex by vertex. */
export function turnRing(turn: Turn, ring: Ring): Ring {
  const out = new Float64Array(ring.length);
  for (let i = 0; i < ring.length; i += 2) {
    out[i] = ring[i] * turn.cos - ring[i + 1] * turn.sin;
    out[i + 1] = ring[i] * turn.sin + ring[i + 1] * turn.cos;
  }
  return out;
}

/** The turn that undoes another: turned axes → field frame. */
export function turnBack(turn: Turn): Turn {
  return { cos: turn.cos, sin: -turn.sin };
}

export function turnRegion(turn: Turn, region: Region): Region {
  return region.map((polygon) => ({
    outer: turnRing(turn, polygon.outer),
    holes: polygon.holes.map((hole) => turnRing(turn, hole)),
  }));
}

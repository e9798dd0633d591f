import type { Ring } from '../engine/geometry/ring.ts';

interface Placed {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly rings: readonly (readonly Ring[] | null)[];
}

/** A layer with the two coordinates of every place exchanged; what was given is not changed. */
export function exchangeAxes<T extends Placed>(layer: T): T {
  const rings = layer.rings.map((own) => own?.map(exchanged) ?? null);
  return { ...layer, x: layer.y, y: layer.x, rings };
}

function exchanged(ring: Ring): Ring {
  return ring.map((_, i) => ring[i % 2 === 0 ? i + 1 : i - 1]);
}

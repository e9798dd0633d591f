import type { Results } from '../../../run/results.ts';
import type { ShownLayer } from '../drawing.ts';
import { error, spread } from './doubt.ts';
import { environment } from './environment.ts';
import { other } from './other.ts';
import { product } from './product.ts';
import { rate } from './rate.ts';
import { soils } from './soils.ts';
import { yields } from './yield.ts';
import { zones } from './zones.ts';

/** Every layer the map can show, in the order of the work. */
export const shownLayers: readonly ShownLayer[] = [
  soils,
  yields,
  other,
  environment,
  error,
  spread,
  zones,
  product,
  rate,
];

export type LayerId = ShownLayer['id'];

/** Layers that stand behind one button of the switch, named by the first. */
export const layerGroups: readonly (readonly ShownLayer[])[] = [
  [soils],
  [yields],
  [other],
  [environment, error, spread],
  [zones],
  [product],
  [rate],
];

/** What to show in place of a layer the run has nothing of: whatever comes nearest to an answer. */
const INSTEAD: readonly ShownLayer[] = [rate, zones, environment, yields, soils, other];

/** The layer wanted, or where the run has nothing of it, the one to show in its place. */
export function layerFor(results: Results, wanted: LayerId): ShownLayer | null {
  const own = shownLayers.find(({ id }) => id === wanted);
  if (own?.isIn(results)) return own;
  return INSTEAD.find((layer) => layer.isIn(results)) ?? null;
}

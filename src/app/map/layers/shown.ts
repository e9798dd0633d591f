import type { ShownLayer } from '../drawing.ts';
import { environment } from './environment.ts';
import { product } from './product.ts';
import { rate } from './rate.ts';
import { soils } from './soils.ts';
import { yields } from './yield.ts';
import { zones } from './zones.ts';

/** Every layer the map can show, in the order of the work. */
export const shownLayers: readonly ShownLayer[] = [soils, yields, environment, zones, product, rate];

export type LayerId = ShownLayer['id'];

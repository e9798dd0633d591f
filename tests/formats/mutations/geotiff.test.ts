import { describe } from 'vitest';
import { TIF_SEEDS } from '../tif-seeds.ts';
import { readsOrRefuses } from './expect-honest.ts';

describe('a GeoTIFF', () => {
  readsOrRefuses(Object.values(TIF_SEEDS));
});

import { describe } from 'vitest';
import { kmlSeed, kmzSeed } from '../xml-seeds.ts';
import { readsOrRefuses } from './expect-honest.ts';

describe('KML', () => {
  readsOrRefuses([[kmlSeed()], [kmzSeed()]]);
});

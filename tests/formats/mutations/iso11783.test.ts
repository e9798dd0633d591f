import { describe } from 'vitest';
import { drawnZonesSeed, taskZip, typeOneSeed, typeTwoSeed } from '../xml-seeds.ts';
import { readsOrRefuses } from './expect-honest.ts';

describe('an ISO 11783-10 task file', () => {
  readsOrRefuses([typeOneSeed(), typeTwoSeed(), drawnZonesSeed(), [taskZip(typeOneSeed())]]);
});

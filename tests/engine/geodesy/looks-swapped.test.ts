import { describe, expect, it } from 'vitest';
import { looksSwapped } from '../../../src/engine/geodesy/looks-swapped.ts';

const box = (lon: number, lat: number) => ({
  west: lon - 0.005,
  east: lon + 0.005,
  south: lat - 0.005,
  north: lat + 0.005,
});

describe('longitude and latitude in each other’s place', () => {
  it.each([
    ['Iowa', 42, -93.5, 'beyond-the-pole'],
    ['Queensland', -27.5, 151.2, 'beyond-the-pole'],
    ['Ohio, whose longitudes could be latitudes', 40, -83, 'no-farmland'],
    ['Pennsylvania', 41, -76, 'no-farmland'],
    ['the Netherlands, where nothing tells', 52.1, 5.4, null],
  ])('%s', (_, x, y, reason) => {
    expect(looksSwapped(box(x, y))).toBe(reason);
    // As it should be, nothing is said.
    expect(looksSwapped(box(y, x))).toBeNull();
  });

  it('is told by another layer of the job where nothing else tells', () => {
    const near = { lon: 5.5, lat: 52 };
    expect(looksSwapped(box(52.1, 5.4), near)).toBe('mirrored');
    expect(looksSwapped(box(5.4, 52.1), near)).toBeNull();
    // A layer of another place altogether is not a mirrored one.
    expect(looksSwapped(box(30, 10), near)).toBeNull();
  });

  it('says nothing of numbers that are no degrees', () => {
    expect(looksSwapped({ west: 458000, east: 459000, south: 4649000, north: 4650000 })).toBeNull();
  });
});

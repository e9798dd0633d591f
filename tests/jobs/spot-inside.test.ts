import { booleanPointInPolygon } from '@turf/turf';
import type { MultiPolygon, Polygon, Position } from 'geojson';
import { describe, expect, it } from 'vitest';
import { spotInside } from '../../src/jobs/proof/spot-inside.ts';

const box = (x: number, y: number, side: number): Position[] => [
  [x, y],
  [x + side, y],
  [x + side, y + side],
  [x, y + side],
  [x, y],
];

describe('spotInside', () => {
  it.each<[string, Polygon | MultiPolygon]>([
    ['a square', { type: 'Polygon', coordinates: [box(0, 0, 1)] }],
    ['a square with its middle gone', { type: 'Polygon', coordinates: [box(0, 0, 1), box(0.25, 0.25, 0.5)] }],
    [
      'a horseshoe, whose centre is outside',
      {
        type: 'Polygon',
        coordinates: [
          [
            [0, 0],
            [3, 0],
            [3, 3],
            [2, 3],
            [2, 1],
            [1, 1],
            [1, 3],
            [0, 3],
            [0, 0],
          ],
        ],
      },
    ],
    ['two lobes that touch', { type: 'MultiPolygon', coordinates: [[box(0, 0, 1)], [box(1, 1, 2)]] }],
  ])('lies inside %s by turf', (_, geometry) => {
    const spot = spotInside(geometry);
    expect(spot && booleanPointInPolygon([...spot], geometry, { ignoreBoundary: true })).toBe(true);
  });
  it('takes the wider part', () => {
    const spot = spotInside({ type: 'MultiPolygon', coordinates: [[box(0, 0, 1)], [box(1, 1, 2)]] });
    expect(spot).toEqual([2, 2]);
  });
  it('finds none in what is narrower than the written coordinates tell', () => {
    expect(spotInside({ type: 'Polygon', coordinates: [box(0, 0, 1e-8)] })).toBeNull();
    expect(
      spotInside({
        type: 'Polygon',
        coordinates: [
          [
            [0, 0],
            [1, 0],
            [2, 0],
            [0, 0],
          ],
        ],
      }),
    ).toBeNull();
  });
});

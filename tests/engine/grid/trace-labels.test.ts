import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { regionArea, ringArea } from '../../../src/engine/geometry/area.ts';
import { nestRings } from '../../../src/engine/geometry/nest.ts';
import type { Ring } from '../../../src/engine/geometry/ring.ts';
import { traceLabel } from '../../../src/engine/grid/trace-labels.ts';
import { drawn } from './drawn.ts';

const corners = (ring: Ring) =>
  Array.from({ length: ring.length / 2 }, (_, i) => `${ring[2 * i]} ${ring[2 * i + 1]}`);

describe('outlines of the cells of a label', () => {
  it('go round a cell counter-clockwise, without repeating the first corner', () => {
    const { grid, labels } = drawn(['00', '10']);
    const [ring, ...more] = traceLabel(grid, labels, 1);
    expect(more).toEqual([]);
    expect(corners(ring)).toEqual(['0 0', '1 0', '1 1', '0 1']);
    expect(ringArea(ring)).toBe(1);
  });

  it('leave corners out of a straight side, and keep those where another zone ends there', () => {
    const { grid, labels } = drawn(['111', '000']);
    expect(corners(traceLabel(grid, labels, 0)[0])).toEqual(['0 0', '3 0', '3 1', '0 1']);
    // Zone 2 ends in the middle of the north side of zone 0: the corner stands in both.
    const third = drawn(['122', '000']);
    expect(corners(traceLabel(third.grid, third.labels, 0)[0])).toContain('1 1');
    expect(corners(traceLabel(third.grid, third.labels, 2)[0])).toContain('1 1');
  });

  it('keep a corner every eight cells of a long side', () => {
    const { grid, labels } = drawn(['0'.repeat(20)]);
    expect(corners(traceLabel(grid, labels, 0)[0])).toEqual([
      ...['0 0', '8 0', '16 0', '20 0'],
      ...['20 1', '16 1', '8 1', '0 1'],
    ]);
  });

  it('keep cells apart that touch at a corner only', () => {
    const { grid, labels } = drawn(['01', '10']);
    expect(traceLabel(grid, labels, 1).map(ringArea)).toEqual([1, 1]);
    expect(traceLabel(grid, labels, 0).map(ringArea)).toEqual([1, 1]);
  });

  it('go round a hole clockwise', () => {
    const { grid, labels } = drawn(['1111', '1001', '1111']);
    const areas = traceLabel(grid, labels, 1).map(ringArea);
    expect(areas.sort((a, b) => a - b)).toEqual([-2, 12]);
    expect(regionArea(nestRings(traceLabel(grid, labels, 1)))).toBe(10);
  });

  it('make a zone with holes that touch at a corner a region of the right area', () => {
    const { grid, labels } = drawn(['1111', '1011', '1101', '1111']);
    expect(regionArea(nestRings(traceLabel(grid, labels, 1)))).toBe(14);
  });

  it('know an island in a hole', () => {
    const { grid, labels } = drawn(['11111', '10001', '10101', '10001', '11111']);
    const zone = nestRings(traceLabel(grid, labels, 1));
    expect(zone.map(({ holes }) => holes.length).sort()).toEqual([0, 1]);
    expect(regionArea(zone)).toBe(17);
  });

  it('end where the field ends', () => {
    const { grid, labels } = drawn(['.1.', '111', '.1.']);
    expect(traceLabel(grid, labels, 1).map(ringArea)).toEqual([5]);
  });

  it('give nothing for a label no cell has', () => {
    const { grid, labels } = drawn(['00']);
    expect(traceLabel(grid, labels, 7)).toEqual([]);
  });
});

describe('whatever the labels', () => {
  const pictures = fc
    .tuple(fc.integer({ min: 1, max: 14 }), fc.integer({ min: 1, max: 14 }))
    .chain(([cols, rows]) =>
      fc.array(fc.array(fc.constantFrom('0', '0', '1', '2', '.'), { minLength: cols, maxLength: cols }), {
        minLength: rows,
        maxLength: rows,
      }),
    )
    .map((rows) => rows.map((row) => row.join('')));

  it('rings enclose cells × cell², holes off, before and after they are nested', () => {
    fc.assert(
      fc.property(pictures, fc.constantFrom('0', '1', '2'), (picture, sign) => {
        const { grid, labels } = drawn(picture, 3);
        const cells = picture.join('').split(sign).length - 1;
        const rings = traceLabel(grid, labels, Number(sign));
        const signed = rings.reduce((sum, ring) => sum + ringArea(ring), 0);
        return (
          Math.abs(signed - 9 * cells) < 1e-9 && Math.abs(regionArea(nestRings(rings)) - 9 * cells) < 1e-9
        );
      }),
      { seed: 1, numRuns: 1000 },
    );
  });

  it('zones that share a side share its corners: a corner of one never lies inside a side of another', () => {
    const sidesOf = (ring: Ring) =>
      Array.from({ length: ring.length / 2 }, (_, i) => {
        const j = (2 * i + 2) % ring.length;
        return [ring[2 * i], ring[2 * i + 1], ring[j], ring[j + 1]];
      });
    fc.assert(
      fc.property(pictures, (picture) => {
        const { grid, labels } = drawn(picture);
        const rings = [0, 1, 2].flatMap((label) => traceLabel(grid, labels, label));
        const all = rings.flatMap((ring) =>
          Array.from({ length: ring.length / 2 }, (_, i) => [ring[2 * i], ring[2 * i + 1]]),
        );
        return rings.flatMap(sidesOf).every(([x1, y1, x2, y2]) =>
          all.every(([x, y]) => {
            const onLine = x1 === x2 ? x === x1 : y === y1;
            const within =
              x1 === x2
                ? y > Math.min(y1, y2) && y < Math.max(y1, y2)
                : x > Math.min(x1, x2) && x < Math.max(x1, x2);
            return !(onLine && within);
          }),
        );
      }),
      { seed: 2, numRuns: 300 },
    );
  });
});

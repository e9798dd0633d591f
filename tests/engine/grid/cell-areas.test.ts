import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { regionArea } from '../../../src/engine/geometry/area.ts';
import { intersection } from '../../../src/engine/geometry/overlay.ts';
import type { Region } from '../../../src/engine/geometry/ring.ts';
import { type CellBox, cellAreas } from '../../../src/engine/grid/cell-areas.ts';
import { anyField, box, region } from './shapes.ts';

/** Areas as rows, north at the top. */
function rows(shape: Region, frame: Partial<CellBox> & Pick<CellBox, 'cols' | 'rows'>): number[][] {
  const full = { u0: 0, v0: 0, cell: 1, ...frame };
  const areas = cellAreas(shape, full);
  return Array.from({ length: full.rows }, (_, k) =>
    Array.from(areas.subarray((full.rows - 1 - k) * full.cols, (full.rows - k) * full.cols)),
  );
}

/** Shares that are sums and products of a few halves are exact; others are compared to 1e-12 of a cell. */
function expectRows(found: number[][], wanted: number[][]): void {
  expect(found.length).toBe(wanted.length);
  wanted.forEach((row, r) => {
    row.forEach((value, c) => {
      expect(found[r][c], `row ${r}, column ${c}`).toBeCloseTo(value, 12);
    });
  });
}

describe('area of a region in each cell', () => {
  it('cuts a triangle under a diagonal in halves', () => {
    expect(rows(region([0, 0, 3, 0, 3, 3]), { cols: 3, rows: 3 })).toEqual([
      [0, 0, 0.5],
      [0, 0.5, 1],
      [0.5, 1, 1],
    ]);
  });

  it('shares a triangle of slope one half, by hand', () => {
    // y = x/2: quarters under the line in each cell it crosses, three quarters in the next.
    expect(rows(region([0, 0, 4, 0, 4, 2]), { cols: 4, rows: 2 })).toEqual([
      [0, 0, 0.25, 0.75],
      [0.25, 0.75, 1, 1],
    ]);
  });

  it('shares a square on its corner', () => {
    expectRows(rows(region([1, 0, 2, 1, 1, 2, 0, 1]), { cols: 2, rows: 2 }), [
      [0.5, 0.5],
      [0.5, 0.5],
    ]);
    expectRows(rows(region([2, 0.5, 3.5, 2, 2, 3.5, 0.5, 2]), { cols: 4, rows: 4 }), [
      [0, 0.125, 0.125, 0],
      [0.125, 0.875, 0.875, 0.125],
      [0.125, 0.875, 0.875, 0.125],
      [0, 0.125, 0.125, 0],
    ]);
  });

  it('takes a hole out', () => {
    expectRows(rows(region(box(0, 0, 3, 3), box(0.5, 0.5, 2, 2)), { cols: 3, rows: 3 }), [
      [0.75, 0.5, 0.75],
      [0.5, 0, 0.5],
      [0.75, 0.5, 0.75],
    ]);
  });

  it('adds up parts, two of them in one cell', () => {
    expectRows(
      rows(region(box(0, 0, 0.25, 1), box(0.5, 0, 1, 0.5), box(2.5, 1.5, 0.5, 0.5)), { cols: 3, rows: 2 }),
      [
        [0, 0, 0.25],
        [0.5, 0.25, 0],
      ],
    );
  });

  it('leaves out what lies beyond the box, on all four sides', () => {
    expect(rows(region(box(-5, -7, 20, 30)), { cols: 2, rows: 2 })).toEqual([
      [1, 1],
      [1, 1],
    ]);
    // A square on its corner about (0, 0): a quarter of it is in the box.
    expectRows(rows(region([0, -1.5, 1.5, 0, 0, 1.5, -1.5, 0]), { cols: 2, rows: 2 }), [
      [0.125, 0],
      [0.875, 0.125],
    ]);
    for (const away of [box(-5, 0, 2, 2), box(5, 0, 2, 2), box(0, -5, 2, 2), box(0, 5, 2, 2)])
      expect(rows(region(away), { cols: 2, rows: 2 })).toEqual([
        [0, 0],
        [0, 0],
      ]);
  });

  it('counts in the units of the cell: a cell of 10 m', () => {
    expect(rows(region(box(105, 200, 10, 20)), { cols: 2, rows: 2, cell: 10, u0: 100, v0: 200 })).toEqual([
      [50, 50],
      [50, 50],
    ]);
  });

  it('shares no more than the cell where borders run along cell sides', () => {
    expect(rows(region(box(1, 1, 1, 1)), { cols: 3, rows: 3 })).toEqual([
      [0, 0, 0],
      [0, 1, 0],
      [0, 0, 0],
    ]);
  });
});

describe('against a clipper, cell by cell', () => {
  it('agrees within the grid of the clipper', () => {
    fc.assert(
      fc.property(
        anyField,
        fc.double({ min: 20, max: 90, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (field, cell, shift) => {
          const { outer } = field[0];
          const u0 = Math.min(...outer.filter((_, i) => i % 2 === 0)) - shift * cell;
          const v0 = Math.min(...outer.filter((_, i) => i % 2 === 1)) - shift * cell;
          const frame = { u0, v0, cell, cols: 6, rows: 6 };
          const areas = cellAreas(field, frame);
          for (let k = 0; k < areas.length; k++) {
            const square = region(box(u0 + (k % 6) * cell, v0 + Math.floor(k / 6) * cell, cell, cell));
            const clipped = regionArea(intersection(field, square));
            // The clipper moves every vertex to a grid of 1e-4 m: a border of length L shifts area by at most L · 1e-4 · √½, and
            // a cell holds at most its own sides and the field's borders in it, here under 1,200 m.
            if (Math.abs(areas[k] - clipped) > 0.1) return false;
            if (areas[k] < -1e-9 || areas[k] > cell * cell * (1 + 1e-12)) return false;
          }
          return true;
        },
      ),
      { seed: 11, numRuns: 60 },
    );
  });
});

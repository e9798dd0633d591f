import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { regionArea } from '../../../src/engine/geometry/area.ts';
import { regionLocator } from '../../../src/engine/geometry/point-in-region.ts';
import type { Region } from '../../../src/engine/geometry/ring.ts';
import { cellAt, commonCell_m, layOutGrid } from '../../../src/engine/grid/lay-out-grid.ts';
import { neighbours } from '../../../src/engine/grid/neighbours.ts';
import { turnBack, turnRegion, turnTo } from '../../../src/engine/grid/turn.ts';
import { Refusal } from '../../../src/engine/issue.ts';
import { drawn } from './drawn.ts';
import { anyField, box, region } from './shapes.ts';

const total = (values: Float64Array) => values.reduce((sum, value) => sum + value, 0);

describe('the grid of a field', () => {
  it('has a cell for each square that touches the field, row by row from the south-west', () => {
    // An L of three cells.
    const grid = layOutGrid(region([0, 0, 20, 0, 20, 10, 10, 10, 10, 20, 0, 20]), 10, 0);
    expect([grid.cols, grid.rows, grid.u0, grid.v0]).toEqual([2, 2, 0, 0]);
    expect(Array.from(grid.at)).toEqual([0, 1, 2, -1]);
    expect(Array.from(grid.col)).toEqual([0, 1, 0]);
    expect(Array.from(grid.row)).toEqual([0, 0, 1]);
    expect(Array.from(grid.area)).toEqual([100, 100, 100]);
    expect(Array.from(grid.x)).toEqual([5, 15, 5]);
    expect(Array.from(grid.y)).toEqual([5, 5, 15]);
  });

  it('sits with the field in its middle', () => {
    const grid = layOutGrid(region(box(0, 0, 24, 8)), 16, 0);
    expect([grid.cols, grid.rows, grid.u0, grid.v0]).toEqual([2, 1, -4, -4]);
    expect(Array.from(grid.area)).toEqual([96, 96]);
  });

  it('runs its rows of cells along the heading: v east and u south at 90°', () => {
    const grid = layOutGrid(region(box(0, 0, 40, 10)), 10, 90);
    expect([grid.cols, grid.rows]).toEqual([1, 4]);
    expect(Array.from(grid.x)).toEqual([5, 15, 25, 35]);
    expect(Array.from(grid.y)).toEqual([5, 5, 5, 5]);
  });

  it('covers a square turned by its own heading with whole cells alone', () => {
    for (const heading of [12, 45, 88.5, 137, 179]) {
      const turned = turnRegion(turnBack(turnTo(heading)), region(box(-20, 5, 40, 30)));
      const grid = layOutGrid(turned, 10, heading);
      expect(grid.area.length).toBe(12);
      for (const area of grid.area) expect(area).toBeCloseTo(100, 9);
    }
  });

  it('keeps a hole free and has two parts', () => {
    const grid = layOutGrid(region(box(0, 0, 50, 30), box(10, 10, 10, 10), box(70, 0, 10, 10)), 10, 0);
    expect(grid.area.length).toBe(15 - 1 + 1);
    expect(cellAt(grid, 15, 15)).toBe(-1);
    expect(cellAt(grid, 65, 5)).toBe(-1);
    expect(cellAt(grid, 75, 5)).toBeGreaterThanOrEqual(0);
  });

  it('is one cell for a field smaller than a cell, and 30 ft, doubled on large fields, by itself', () => {
    const grid = layOutGrid(region(box(0, 0, 4, 2)), 10, 30);
    expect(Array.from(grid.area)).toHaveLength(1);
    expect(grid.area[0]).toBeCloseTo(8, 12);
    expect(commonCell_m(600_000)).toBe(9.144);
    // 10,000 ac hold 484,000 squares of 30 ft.
    expect(commonCell_m(10_000 * 4046.8564224)).toBe(4 * 9.144);
  });

  it('finds the cell of a point, and none outside the field or the box', () => {
    const grid = layOutGrid(region([0, 0, 20, 0, 20, 10, 10, 10, 10, 20, 0, 20]), 10, 0);
    expect([cellAt(grid, 1, 1), cellAt(grid, 19, 1), cellAt(grid, 1, 19), cellAt(grid, 19, 19)]).toEqual([
      0, 1, 2, -1,
    ]);
    expect(cellAt(grid, -1, 5)).toBe(-1);
    expect(cellAt(grid, 5, Number.NaN)).toBe(-1);
  });

  it('refuses more squares than memory holds, with the numbers and the remedy', () => {
    const scattered: Region = [...region(box(0, 0, 30, 30)), ...region(box(28_000, 28_000, 30, 30))];
    expect(() => layOutGrid(scattered, 1, 0)).toThrow(Refusal);
    expect(() => layOutGrid(scattered, 1, 0)).toThrow(/28030 by 28030 cells of 1 m/);
  });
});

describe('whatever the field, heading and cell', () => {
  const heading = fc.double({ min: 0, max: 179.999, noNaN: true });
  const cell = fc.double({ min: 3, max: 150, noNaN: true });

  it('the areas of the cells add up to that of the field to 1e-9', () => {
    fc.assert(
      fc.property(anyField, heading, cell, (field, heading_deg, cell_m) => {
        const grid = layOutGrid(field, cell_m, heading_deg);
        const whole = regionArea(field);
        return Math.abs(total(grid.area) - whole) <= 1e-9 * whole;
      }),
      { seed: 1, numRuns: 400 },
    );
  });

  it('no cell holds more than its square, and whole cells are whole', () => {
    fc.assert(
      fc.property(anyField, heading, cell, (field, heading_deg, cell_m) => {
        const grid = layOutGrid(field, cell_m, heading_deg);
        return grid.area.every((area) => area > 0 && area <= cell_m * cell_m * (1 + 1e-11));
      }),
      { seed: 2, numRuns: 200 },
    );
  });

  it('every cell is found at its own centre, and every centre in a whole cell lies in the field', () => {
    fc.assert(
      fc.property(anyField, heading, cell, (field, heading_deg, cell_m) => {
        const grid = layOutGrid(field, cell_m, heading_deg);
        const isInside = regionLocator(field);
        return grid.area.every(
          (area, k) =>
            cellAt(grid, grid.x[k], grid.y[k]) === k &&
            (area < cell_m * cell_m * (1 - 1e-9) || isInside(grid.x[k], grid.y[k])),
        );
      }),
      { seed: 3, numRuns: 200 },
    );
  });
});

describe('neighbours', () => {
  it('lie east, north, west and south, and none where the field is not', () => {
    const { grid } = drawn(['01', '2.']);
    // Numbered from the south-west: 2 is cell 0, the row above holds cells 1 and 2.
    const beside = neighbours(grid);
    expect(Array.from(beside.subarray(0, 4))).toEqual([-1, 1, -1, -1]);
    expect(Array.from(beside.subarray(4, 8))).toEqual([2, -1, -1, 0]);
    expect(Array.from(beside.subarray(8, 12))).toEqual([-1, -1, 1, -1]);
  });

  it('are mutual', () => {
    const { grid } = drawn(['010.1', '1.111', '00111', '.0101']);
    const beside = neighbours(grid);
    for (let cell = 0; cell < grid.area.length; cell++) {
      for (let side = 0; side < 4; side++) {
        const near = beside[cell * 4 + side];
        if (near >= 0) expect(beside[near * 4 + ((side + 2) % 4)]).toBe(cell);
      }
    }
  });
});

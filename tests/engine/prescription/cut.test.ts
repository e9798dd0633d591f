import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { regionArea } from '../../../src/engine/geometry/area.ts';
import { intersection } from '../../../src/engine/geometry/overlay.ts';
import { regionLocator } from '../../../src/engine/geometry/point-in-region.ts';
import type { Region } from '../../../src/engine/geometry/ring.ts';
import type { FieldGrid } from '../../../src/engine/grid/field-grid.ts';
import { layOutGrid } from '../../../src/engine/grid/lay-out-grid.ts';
import { type CutCell, cutCells } from '../../../src/engine/prescription/cut-cells.ts';
import { cutZones } from '../../../src/engine/prescription/cut-zones.ts';
import { sliver_m2, tidyLabels } from '../../../src/engine/zones/tidy.ts';
import { anyField, box, region } from '../grid/shapes.ts';

/** Labels in stripes and blocks over the grid. */
const patch = (grid: FieldGrid, width: number) =>
  Uint8Array.from(
    grid.col,
    (col, k) => (Math.floor(col / width) + Math.floor(grid.row[k] / (width + 1))) % 3,
  );

/** The clipper works on a grid of 1e-4 m, which moves a border of so many metres by at most that much area. */
const clipped = (metres: number) => 1e-4 * metres;

function border(shape: Region): number {
  let length = 0;
  for (const { outer, holes } of shape)
    for (const ring of [outer, ...holes])
      for (let i = 0; i < ring.length; i += 2) {
        const j = (i + 2) % ring.length;
        length += Math.hypot(ring[j] - ring[i], ring[j + 1] - ring[i + 1]);
      }
  return length;
}

/** Area two cut pieces share. */
function shared(a: CutCell, b: CutCell): number {
  return regionArea(intersection(a.polygons, b.polygons));
}

describe('a field cut in cells', () => {
  it('is whole squares inside and cut ones along the border', () => {
    const field = region([0, 0, 30, 0, 30, 10, 20, 20, 0, 20]);
    const grid = layOutGrid(field, 10, 0);
    const labels = Uint8Array.of(0, 0, 1, 0, 1, 1);
    const cells = cutCells(grid, field, labels);
    expect(cells.map(({ label, area_m2 }) => [label, area_m2])).toEqual([
      [0, 100],
      [0, 100],
      [1, 100],
      [0, 100],
      [1, 100],
      [1, 50],
    ]);
    expect(Array.from(cells[0].polygons[0].outer)).toEqual([0, 0, 10, 0, 10, 10, 0, 10]);
    expect(cells[5].polygons[0].outer.length).toBe(6);
  });

  it('gives a sliver to the neighbour of its label', () => {
    // Points of 0.9 m² reach into the cells west and east of a square.
    const field = region([
      ...[10, 0, 20, 0, 20, 4, 30, 4.09, 20, 4.18],
      ...[20, 10, 10, 10, 10, 4.18, 0, 4.09, 10, 4],
    ]);
    const grid = layOutGrid(field, 10, 0);
    expect(grid.area.length).toBe(3);
    const joined = cutCells(grid, field, Uint8Array.of(1, 1, 1));
    expect(joined).toHaveLength(1);
    expect(joined[0].area_m2).toBeCloseTo(101.8, 9);
    expect(joined[0].polygons).toHaveLength(1);
    expect(regionArea(joined[0].polygons)).toBeCloseTo(101.8, 2);
    // Of another label it stays by itself, so that no cell carries a label that is not its own.
    expect(cutCells(grid, field, Uint8Array.of(1, 1, 0)).map(({ label }) => label)).toEqual([1, 0]);
  });

  it('keeps a hole and two parts', () => {
    const field = region(box(0, 0, 50, 30), box(12, 8, 15, 9), box(70, 3, 12, 12));
    const grid = layOutGrid(field, 10, 0);
    const cells = cutCells(grid, field, new Uint8Array(grid.area.length));
    const isInside = regionLocator(cells.flatMap(({ polygons }) => polygons));
    expect(isInside(20, 12)).toBe(false);
    expect(isInside(60, 10)).toBe(false);
    expect(isInside(75, 10)).toBe(true);
    expect(cells.reduce((sum, { area_m2 }) => sum + area_m2, 0)).toBeCloseTo(regionArea(field), 6);
  });
});

describe('whatever the field and the labels', () => {
  const heading = fc.double({ min: 0, max: 179.9, noNaN: true });

  it('cells fill the field, lie apart, and carry the labels of the ground under them', () => {
    fc.assert(
      fc.property(
        anyField,
        heading,
        fc.double({ min: 18, max: 45, noNaN: true }),
        fc.integer({ min: 1, max: 5 }),
        (field, heading_deg, cell_m, width) => {
          const grid = layOutGrid(field, cell_m, heading_deg);
          const labels = tidyLabels(grid, patch(grid, width), 0);
          const cells = cutCells(grid, field, labels);
          const whole = regionArea(field);
          const stated = cells.reduce((sum, { area_m2 }) => sum + area_m2, 0);
          // Only cells the clipper finds nothing in are left out: under a grid step along the border.
          if (Math.abs(stated - whole) > clipped(border(field))) return false;
          for (const { polygons, area_m2 } of cells)
            if (Math.abs(regionArea(polygons) - area_m2) > clipped(2 * border(polygons) + 1)) return false;
          const byLabel = new Float64Array(3);
          for (const { label, area_m2 } of cells) byLabel[label] += area_m2;
          labels.forEach((label, cell) => {
            byLabel[label] -= grid.area[cell];
          });
          if (byLabel.some((gap) => Math.abs(gap) > clipped(border(field)))) return false;
          // Cells are in the order of their rows, so those that could meet stand near each other.
          for (let a = 0; a < cells.length; a++)
            for (let b = a + 1; b < Math.min(cells.length, a + 2 * grid.cols); b++)
              if (shared(cells[a], cells[b]) > clipped(2 * cell_m)) return false;
          return true;
        },
      ),
      { seed: 1, numRuns: 12 },
    );
  });

  it('every point of the field lies in one cell alone, of its own label, but for a hair at the sides', () => {
    const field = region([0, 0, 160, 25, 210, 140, 60, 180], [90, 60, 120, 60, 120, 95, 90, 95]);
    const grid = layOutGrid(field, 13.7, 27);
    const labels = tidyLabels(grid, patch(grid, 3), 0);
    const cells = cutCells(grid, field, labels).map((cell) => ({
      ...cell,
      holds: regionLocator(cell.polygons),
    }));
    for (let k = 0; k < grid.area.length; k++) {
      if (grid.area[k] < grid.cell_m ** 2 * 0.999) continue;
      const holding = cells.filter(({ holds }) => holds(grid.x[k], grid.y[k]));
      expect(holding.map(({ label }) => label)).toEqual([labels[k]]);
    }
  });

  it('zones fill the field, lie apart, and are as large as their cells', () => {
    fc.assert(
      fc.property(
        anyField,
        heading,
        fc.double({ min: 6, max: 30, noNaN: true }),
        fc.integer({ min: 1, max: 8 }),
        (field, heading_deg, cell_m, width) => {
          const grid = layOutGrid(field, cell_m, heading_deg);
          const labels = tidyLabels(grid, patch(grid, width), 0);
          const zones = cutZones(grid, field, labels);
          const whole = regionArea(field);
          const stated = zones.reduce((sum, { area_m2 }) => sum + area_m2, 0);
          if (Math.abs(stated - whole) > 1e-9 * whole) return false;
          for (const { label, polygons, area_m2 } of zones) {
            const cells = labels.reduce((sum, own, k) => sum + (own === label ? grid.area[k] : 0), 0);
            if (Math.abs(cells - area_m2) > 1e-9 * whole) return false;
            if (Math.abs(regionArea(polygons) - area_m2) > clipped(border(polygons) + border(field)))
              return false;
          }
          for (let a = 0; a < zones.length; a++)
            for (let b = a + 1; b < zones.length; b++)
              if (shared(zones[a], zones[b]) > clipped(border(zones[a].polygons))) return false;
          return true;
        },
      ),
      { seed: 2, numRuns: 60 },
    );
  });

  it('the smallest sliver is a square metre, or a quarter of a small cell', () => {
    expect(sliver_m2(layOutGrid(region(box(0, 0, 50, 50)), 10, 0))).toBe(1);
    expect(sliver_m2(layOutGrid(region(box(0, 0, 5, 5)), 1, 0))).toBe(0.25);
  });
});

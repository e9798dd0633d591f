import { regionArea } from '../geometry/area.ts';
import { intersection } from '../geometry/overlay.ts';
import type { Polygon, Region } from '../geometry/ring.ts';
import { STEPS_PER_M } from '../geometry/segments.ts';
import type { FieldGrid } from '../grid/field-grid.ts';
import { neighbours } from '../grid/neighbours.ts';
import { turnBack, turnRegion, turnTo } from '../grid/turn.ts';
import { largestNeighbour, sliver_m2 } from '../zones/tidy.ts';
import { rectangle } from './rectangle.ts';

/** Cells of one prescription polygon and its shape in the field frame, m. */
export interface CutCell {
  readonly label: number;
  readonly polygons: readonly Polygon[];
  readonly area_m2: number;
}

/**
 * The grid as polygons: whole cells as squares, cells at the boundary cut along it, slivers (`sliver_m2`) joined to the neighbour they
 * share a label with. Polygons do not overlap, share their corners, and fill the field.
 */
export function cutCells(grid: FieldGrid, region: Region, labels: Uint8Array): CutCell[] {
  const turn = turnTo(grid.heading_deg);
  const back = turnBack(turn);
  const turned = turnRegion(turn, region);
  const hosted = hostsOfSlivers(grid, labels);
  const whole = grid.cell_m * grid.cell_m * (1 - 1e-9);
  const cut: CutCell[] = [];
  for (let row = 0; row < grid.rows; row++) {
    // The part of the field in reach of this row (slivers of the rows beside it may join in), cut out once.
    let band: Region | null = null;
    for (let col = 0; col < grid.cols; col++) {
      const cell = grid.at[row * grid.cols + col];
      if (cell < 0 || hosted.isGuest[cell]) continue;
      const guests = hosted.guests.get(cell) ?? [];
      const area_m2 = guests.reduce((sum, guest) => sum + grid.area[guest], grid.area[cell]);
      let polygons: Region;
      if (grid.area[cell] >= whole && guests.length === 0) polygons = [square(grid, cell)];
      else {
        band ??= intersection(turned, [bandOf(grid, row)]);
        polygons = intersection(
          band,
          [cell, ...guests].map((part) => square(grid, part)),
        );
        if (regionArea(polygons) === 0) continue;
      }
      cut.push({ label: labels[cell], polygons: turnRegion(back, polygons), area_m2 });
    }
  }
  return cut;
}

/** Which cell takes in each sliver: the neighbour of most area, when it carries the same label and is no sliver itself. */
function hostsOfSlivers(grid: FieldGrid, labels: Uint8Array) {
  const beside = neighbours(grid);
  const isGuest = new Uint8Array(grid.area.length);
  const guests = new Map<number, number[]>();
  const sliver = sliver_m2(grid);
  for (let cell = 0; cell < grid.area.length; cell++) {
    if (grid.area[cell] >= sliver) continue;
    const host = largestNeighbour(grid, beside, cell);
    if (host < 0 || grid.area[host] < sliver || labels[host] !== labels[cell]) continue;
    isGuest[cell] = 1;
    guests.set(host, [...(guests.get(host) ?? []), cell]);
  }
  return { isGuest, guests };
}

function square(grid: FieldGrid, cell: number): Polygon {
  const u = (col: number) => onSteps(grid.u0 + col * grid.cell_m);
  const v = (row: number) => onSteps(grid.v0 + row * grid.cell_m);
  const col = grid.col[cell];
  const row = grid.row[cell];
  return rectangle(u(col), v(row), u(col + 1), v(row + 1));
}

/** Corners lie on the steps the clipper works in, so that a whole square and the cut one beside it share theirs exactly. */
function onSteps(metres: number): number {
  return Math.round(metres * STEPS_PER_M) / STEPS_PER_M;
}

function bandOf(grid: FieldGrid, row: number): Polygon {
  const v = grid.v0 + row * grid.cell_m;
  const margin = grid.cell_m;
  return rectangle(grid.u0 - margin, v - margin, grid.u0 + grid.cols * grid.cell_m + margin, v + 2 * margin);
}

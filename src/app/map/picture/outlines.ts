import type { Feature, FeatureCollection, Position } from 'geojson';
import { type FieldFrame, ringToLonLat, toLonLat } from '../../../engine/geodesy/field-frame.ts';
import type { Region, Ring } from '../../../engine/geometry/ring.ts';
import type { FieldGrid } from '../../../engine/grid/field-grid.ts';
import { turnRegion, turnTo } from '../../../engine/grid/turn.ts';
import { spansAt } from './scanline.ts';

export function collection(features: Feature[]): FeatureCollection {
  return { type: 'FeatureCollection', features };
}

function closed(frame: FieldFrame, ring: Ring): Position[] {
  const degrees = ringToLonLat(frame, ring);
  const positions: Position[] = [];
  for (let i = 0; i < degrees.length; i += 2) positions.push([degrees[i], degrees[i + 1]]);
  positions.push(positions[0]);
  return positions;
}

/** A region as one feature of polygons, lon/lat. */
export function regionFeature(frame: FieldFrame, region: Region): Feature {
  return {
    type: 'Feature',
    properties: {},
    geometry: {
      type: 'MultiPolygon',
      coordinates: region.map(({ outer, holes }) => [outer, ...holes].map((ring) => closed(frame, ring))),
    },
  };
}

/** The square of one cell, lon/lat. */
export function cellFeature(frame: FieldFrame, grid: FieldGrid, cell: number): Feature {
  const turn = turnTo(grid.heading_deg);
  const corners: number[] = [];
  for (const [right, up] of [
    [-0.5, -0.5],
    [0.5, -0.5],
    [0.5, 0.5],
    [-0.5, 0.5],
  ]) {
    const du = right * grid.cell_m;
    const dv = up * grid.cell_m;
    corners.push(grid.x[cell] + du * turn.cos + dv * turn.sin, grid.y[cell] - du * turn.sin + dv * turn.cos);
  }
  const ring = Float64Array.from(corners);
  return regionFeature(frame, [{ outer: ring, holes: [] }]);
}

/** The lines between cells of different labels, cut at the field's edge, lon/lat. */
export function divisionFeature(
  frame: FieldFrame,
  region: Region,
  grid: FieldGrid,
  label: ArrayLike<number>,
): Feature {
  const turn = turnTo(grid.heading_deg);
  const turned = turnRegion(turn, region);
  const { cols, rows, at, cell_m } = grid;
  const x: number[] = [];
  const y: number[] = [];
  const put = (u: number, v: number) => {
    x.push(u * turn.cos + v * turn.sin);
    y.push(-u * turn.sin + v * turn.cos);
  };
  const differ = (a: number, b: number) => a >= 0 && b >= 0 && label[a] !== label[b];
  const walk = (axis: 0 | 1, lines: number, steps: number, start: number, across0: number) => {
    for (let line = 1; line < lines; line++) {
      const across = across0 + line * cell_m;
      const between = (step: number) =>
        axis === 0
          ? differ(at[(line - 1) * cols + step], at[line * cols + step])
          : differ(at[step * cols + line - 1], at[step * cols + line]);
      let spans: number[] | null = null;
      for (let step = 0; step < steps; step++) {
        if (!between(step)) continue;
        const first = step;
        while (step + 1 < steps && between(step + 1)) step++;
        spans ??= spansAt(turned, across, axis);
        for (let k = 0; k + 1 < spans.length; k += 2) {
          const from = Math.max(spans[k], start + first * cell_m);
          const to = Math.min(spans[k + 1], start + (step + 1) * cell_m);
          if (from >= to) continue;
          if (axis === 0) {
            put(from, across);
            put(to, across);
          } else {
            put(across, from);
            put(across, to);
          }
        }
      }
    }
  };
  walk(0, rows, cols, grid.u0, grid.v0);
  walk(1, cols, rows, grid.v0, grid.u0);
  const { lon, lat } = toLonLat(frame, Float64Array.from(x), Float64Array.from(y));
  const coordinates: Position[][] = [];
  for (let k = 0; k + 1 < lon.length; k += 2) {
    coordinates.push([
      [lon[k], lat[k]],
      [lon[k + 1], lat[k + 1]],
    ]);
  }
  return { type: 'Feature', properties: {}, geometry: { type: 'MultiLineString', coordinates } };
}

import type { Feature } from 'geojson';
import { toFrame, toLonLat } from '../../engine/geodesy/field-frame.ts';
import { cellAt } from '../../engine/grid/lay-out-grid.ts';
import type { FieldResult } from '../../run/results.ts';
import type { Drawing, MapLabel } from './drawing.ts';
import type { Bounds, MapPort } from './map-port.ts';
import { cellFeature, collection, divisionFeature, regionFeature } from './picture/outlines.ts';

/** Put a drawing on the map; null leaves the bare field. */
export function showDrawing(map: MapPort, field: FieldResult, drawing: Drawing | null): void {
  if (drawing?.picture) {
    const { canvas, x, y } = drawing.picture;
    const { lon, lat } = toLonLat(field.frame, x, y);
    map.setPicture({ canvas, corners: Array.from(lon, (value, k) => [value, lat[k]] as const) });
  } else map.setPicture(null);
  map.setOutline('divisions', collection(divisionFeatures(field, drawing?.divisions ?? null)));
  map.setLabels(collection((drawing?.labels ?? []).map((label) => labelFeature(field, label))));
}

function divisionFeatures({ frame, region, grid }: FieldResult, divisions: Drawing['divisions']): Feature[] {
  if (!divisions) return [];
  if ('about' in divisions) return divisions.about.map((one) => regionFeature(frame, one));
  return [divisionFeature(frame, region, grid, divisions.between)];
}

export function showBoundary(map: MapPort, field: FieldResult | null): void {
  map.setOutline('boundary', collection(field ? [regionFeature(field.frame, field.region)] : []));
}

export function showPicked(map: MapPort, field: FieldResult | null, cell: number | null): void {
  map.setOutline(
    'picked',
    collection(
      field && cell !== null
        ? [cellFeature(field.frame, field.grid, cell), pointFeature(cellSpot(field, cell), {})]
        : [],
    ),
  );
}

export function fieldBounds({ frame, region }: FieldResult): Bounds {
  const x: number[] = [];
  const y: number[] = [];
  for (const { outer } of region) {
    for (let i = 0; i < outer.length; i += 2) {
      x.push(outer[i]);
      y.push(outer[i + 1]);
    }
  }
  const { lon, lat } = toLonLat(frame, Float64Array.from(x), Float64Array.from(y));
  const bounds: [number, number, number, number] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let i = 0; i < lon.length; i++) {
    bounds[0] = Math.min(bounds[0], lon[i]);
    bounds[1] = Math.min(bounds[1], lat[i]);
    bounds[2] = Math.max(bounds[2], lon[i]);
    bounds[3] = Math.max(bounds[3], lat[i]);
  }
  return bounds;
}

/** The cell under a spot, by the grid's own arithmetic; null where the field is not. */
export function cellUnder({ frame, grid }: FieldResult, lon: number, lat: number): number | null {
  const { x, y } = toFrame(frame, Float64Array.of(lon), Float64Array.of(lat));
  const cell = cellAt(grid, x[0], y[0]);
  return cell < 0 ? null : cell;
}

export function cellSpot({ frame, grid }: FieldResult, cell: number): { lon: number; lat: number } {
  const { lon, lat } = toLonLat(frame, grid.x.subarray(cell, cell + 1), grid.y.subarray(cell, cell + 1));
  return { lon: lon[0], lat: lat[0] };
}

function labelFeature(field: FieldResult, label: MapLabel): Feature {
  return pointFeature(cellSpot(field, label.cell), { title: label.title, detail: label.detail });
}

function pointFeature(
  { lon, lat }: { lon: number; lat: number },
  properties: Record<string, string>,
): Feature {
  return { type: 'Feature', properties, geometry: { type: 'Point', coordinates: [lon, lat] } };
}

import { regionArea } from '../geometry/area.ts';
import { nestRings } from '../geometry/nest.ts';
import { intersection } from '../geometry/overlay.ts';
import type { Region } from '../geometry/ring.ts';
import type { FieldGrid } from '../grid/field-grid.ts';
import { traceLabel } from '../grid/trace-labels.ts';
import { turnBack, turnRegion, turnTo } from '../grid/turn.ts';
import type { CutCell } from './cut-cells.ts';

/** Zones as polygons: the outline of each label's cells, cut along the boundary. Field frame, m. */
export function cutZones(grid: FieldGrid, region: Region, labels: Uint8Array): CutCell[] {
  const turn = turnTo(grid.heading_deg);
  const back = turnBack(turn);
  const turned = turnRegion(turn, region);
  const area = new Float64Array(256);
  labels.forEach((label, cell) => {
    area[label] += grid.area[cell];
  });
  const cut: CutCell[] = [];
  for (let label = 0; label < area.length; label++) {
    if (area[label] === 0) continue;
    const polygons = intersection(turned, nestRings(traceLabel(grid, labels, label)));
    if (regionArea(polygons) === 0) continue;
    cut.push({ label, polygons: turnRegion(back, polygons), area_m2: area[label] });
  }
  return cut;
}

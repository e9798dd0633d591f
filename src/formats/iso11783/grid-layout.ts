import type { Raster } from '../../engine/layers/source.ts';
import { decimalIn } from '../text/decimal.ts';
import type { XmlElement } from '../xml/read-xml.ts';
import { attribute } from '../xml/tree.ts';
import { refuseIso } from './iso-refusal.ts';

/** More cells than any field has; each takes some tens of bytes once read. */
const MAX_CELLS = 20_000_000;

/** Rows, columns and place of a grid (GRD): south-up, from its south-west corner. Throws a Refusal for what is no grid on the globe. */
export function gridLayout(grid: XmlElement, where: string): Raster {
  const [south, west, high, wide, width, height] = ['A', 'B', 'C', 'D', 'E', 'F'].map((letter) =>
    decimalIn(attribute(grid, letter)),
  );
  if (!(width > 0 && height > 0 && Number.isInteger(width) && Number.isInteger(height))) {
    const found = `${attribute(grid, 'F') || 'no'} rows and ${attribute(grid, 'E') || 'no'} columns`;
    refuseIso('iso-grid-layout', where, found.slice(0, 80), 'whole numbers over 0');
  }
  if (width * height > MAX_CELLS) {
    refuseIso('iso-grid-layout', where, `${height} rows × ${width} columns`, `at most ${MAX_CELLS} cells`);
  }
  const inside =
    high > 0 && wide > 0 && south >= -90 && south + high * height <= 90.000001 && Math.abs(west) <= 180;
  if (!inside) {
    const found = `south '${attribute(grid, 'A').slice(0, 30)}', west '${attribute(grid, 'B').slice(0, 30)}', cells of '${attribute(grid, 'C').slice(0, 30)}' by '${attribute(grid, 'D').slice(0, 30)}'`;
    refuseIso('iso-grid-layout', where, found, 'degrees on the globe and cells larger than nothing');
  }
  return { width, height, transform: [wide, 0, west, 0, high, south] };
}

import type { Box } from '../../engine/geodesy/box.ts';
import type { Crs } from '../../engine/geodesy/crs.ts';
import type { Issue } from '../../engine/issue.ts';
import { type PixelRange, pixelsOver } from '../../engine/layers/pixels-over.ts';
import type { Raster } from '../../engine/layers/source.ts';
import { type SettledCrs, settleCrs } from '../crs-check.ts';
import type { ReadOptions } from '../format.ts';
import { refuseTif } from './tif-refusal.ts';

/** Pixels kept round a window. */
const MARGIN_PIXELS = 4;

/** The system of a raster: the one its file names, where its corners bear it out, else the one given. */
export function systemOf(
  stated: SettledCrs,
  { width, height, transform: [a, b, c, d, e, f] }: Raster,
  where: string,
  options: ReadOptions,
): SettledCrs {
  // Middles of the corner pixels: a raster of the whole globe may reach half a pixel beyond it.
  const cols = Float64Array.of(0.5, width - 0.5, 0.5, width - 0.5);
  const rows = Float64Array.of(0.5, 0.5, height - 0.5, height - 0.5);
  const corners = [
    {
      x: cols.map((col, i) => a * col + b * rows[i] + c),
      y: cols.map((col, i) => d * col + e * rows[i] + f),
    },
  ];
  const says = stated.crs !== null || stated.issues.length > 0;
  return settleCrs(says ? stated : null, where, 'no coordinate system in the file', corners, options);
}

/** The pixels over the box, all of them where there is no box or no place; refuses a raster that lies elsewhere. */
export function windowOf(whole: Raster, crs: Crs | null, where: string, box: Box | undefined) {
  const all: PixelRange = { col: 0, row: 0, width: whole.width, height: whole.height };
  if (!box || !crs) return { window: all, issues: [] };
  const along = Array.from({ length: 9 }, (_, i) => i / 8);
  const outline = along.flatMap((t): [number, number][] => [
    [t, 0],
    [t, 1],
    [0, t],
    [1, t],
  ]);
  // A box across the antimeridian ends west of where it begins.
  const across = box.east - box.west + (box.east < box.west ? 360 : 0);
  const lon = Float64Array.from(outline, ([s]) => box.west + s * across);
  const lat = Float64Array.from(outline, ([, s]) => box.south + s * (box.north - box.south));
  const window = pixelsOver(whole, crs, lon, lat, MARGIN_PIXELS);
  if (window === null) {
    return refuseTif(
      'tif-outside-window',
      where,
      'a raster that lies elsewhere',
      `one that reaches ${box.west.toFixed(4)} to ${box.east.toFixed(4)}, ${box.south.toFixed(4)} to ${box.north.toFixed(4)} degrees`,
      'Choose the raster of this field, or check its coordinate system',
    );
  }
  if (window.width === whole.width && window.height === whole.height) return { window, issues: [] };
  const issue: Issue = {
    code: 'tif-window',
    severity: 'note',
    where,
    found: `${whole.width} by ${whole.height} pixels`,
    expected: 'those over the field',
    effect: `Read: ${window.width} by ${window.height}, from column ${window.col + 1}, row ${window.row + 1}`,
    remedy: 'Nothing to do',
  };
  return { window, issues: [issue] };
}

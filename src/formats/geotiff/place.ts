import type { Crs } from '../../engine/geodesy/crs.ts';
import type { Issue } from '../../engine/issue.ts';
import { type PixelWindow, pixelWindow } from '../../engine/layers/pixel-window.ts';
import type { Raster } from '../../engine/layers/source.ts';
import { checkCrs, missingCrs } from '../crs-check.ts';
import type { LonLatBox, ReadOptions } from '../format.ts';
import type { crsOfKeys } from './geo-crs.ts';
import { refuseTif } from './tif-refusal.ts';

/** Pixels kept round a window. */
const MARGIN_PIXELS = 4;

/** The system of a raster, checked against where its corners would lie; the one given counts where the file names none or one that is not known here. */
export function systemOf(
  stated: ReturnType<typeof crsOfKeys>,
  { width, height, transform: [a, b, c, d, e, f] }: Raster,
  where: string,
  options: ReadOptions,
): { crs: Crs | null; issues: readonly Issue[] } {
  // Middles of the corner pixels: a raster of the whole globe may reach half a pixel beyond it.
  const cols = Float64Array.of(0.5, width - 0.5, 0.5, width - 0.5);
  const rows = Float64Array.of(0.5, 0.5, height - 0.5, height - 0.5);
  const corners = [
    {
      x: cols.map((col, i) => a * col + b * rows[i] + c),
      y: cols.map((col, i) => d * col + e * rows[i] + f),
    },
  ];
  if (stated.crs) {
    const checked = checkCrs(stated.crs, where, corners);
    return { crs: checked.crs, issues: [...stated.issues, ...checked.issues] };
  }
  if (stated.issues.length > 0 || options.crs) return { crs: options.crs ?? null, issues: stated.issues };
  return { crs: null, issues: [missingCrs(where, 'no coordinate system in the file', corners)] };
}

/** The pixels over the box, all of them where there is no box or no place; refuses a raster that lies elsewhere. */
export function windowOf(whole: Raster, crs: Crs | null, where: string, box: LonLatBox | undefined) {
  const all: PixelWindow = { col: 0, row: 0, width: whole.width, height: whole.height };
  if (!box || !crs) return { window: all, issues: [] };
  const along = Array.from({ length: 9 }, (_, i) => i / 8);
  const outline = along.flatMap((t): [number, number][] => [
    [t, 0],
    [t, 1],
    [0, t],
    [1, t],
  ]);
  const lon = Float64Array.from(outline, ([s]) => box.west + s * (box.east - box.west));
  const lat = Float64Array.from(outline, ([, s]) => box.south + s * (box.north - box.south));
  const window = pixelWindow(whole, crs, lon, lat, MARGIN_PIXELS);
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

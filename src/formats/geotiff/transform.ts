import type { Issue } from '../../engine/issue.ts';
import type { Raster } from '../../engine/layers/source.ts';
import { type Directory, numbersOf, type TifFile } from './directory.ts';
import { refuseTif } from './tif-refusal.ts';

type Transform = Raster['transform'];

/**
 * From pixel corners to coordinates (GeoTIFF 1.1, OGC 19-008r4, 7.1.2 and annex C): the matrix of tag 34264, or scale 33550 with one tiepoint 33922. Where the file ties the middle
 * of pixels (raster type "point") it is moved by half a pixel. Refuses `tif-no-place` for what has neither, or only control points.
 */
export function transformOf(
  tif: TifFile,
  directory: Directory,
  where: string,
  pixelIsPoint: boolean,
): { transform: Transform; issues: Issue[] } {
  const matrix = numbersOf(tif, directory, 34264);
  const scale = numbersOf(tif, directory, 33550);
  const ties = numbersOf(tif, directory, 33922);
  let [a, b, c, d, e, f]: number[] = [];
  const issues: Issue[] = [];
  if (matrix && matrix.length >= 8) {
    [a, b, , c, d, e, , f] = matrix;
  } else if (scale && scale.length >= 2 && ties && ties.length >= 6) {
    [a, b, d, e] = [scale[0], 0, 0, -scale[1]];
    c = ties[3] - ties[0] * a;
    f = ties[4] - ties[1] * e;
    if (scale[1] < 0) issues.push(southUp(where));
  } else {
    noPlace(where, ties, scale);
  }
  if (pixelIsPoint) {
    c -= (a + b) / 2;
    f -= (d + e) / 2;
  }
  if (![a, b, c, d, e, f].every(Number.isFinite) || a * e === b * d) {
    refuseTif(
      'tif-no-place',
      where,
      `pixels without a size on the ground (${[a, b, d, e].join(', ')})`,
      'a transformation from pixels to coordinates',
      REMEDY,
    );
  }
  return { transform: [a, b, c, d, e, f], issues };
}

const REMEDY = 'Export it as a GeoTIFF with its place on the ground';

function noPlace(where: string, ties: Float64Array | null, scale: Float64Array | null): never {
  const points = Math.floor((ties?.length ?? 0) / 6);
  const found =
    points >= 2
      ? `${points} control points instead of a grid on the ground`
      : points === 1 && !scale
        ? 'one tied point and no size of pixel'
        : 'no place on the ground: a plain picture file';
  return refuseTif('tif-no-place', where, found, 'a transformation from pixels to coordinates', REMEDY);
}

/** Written so on purpose by some programs and by mistake by others. */
function southUp(where: string): Issue {
  return {
    code: 'tif-south-up',
    severity: 'warning',
    where,
    found: 'a negative pixel height: rows run from south to north',
    expected: 'rows from north to south',
    effect: 'The raster is placed as stated',
    remedy: 'See on the map that it is not upside down',
  };
}

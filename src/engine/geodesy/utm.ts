import { type Datum, datumOfId } from './datum.ts';
import type { ListedSystem } from './listed-system.ts';

/** Runs of UTM zones whose codes follow one another: datum, hemisphere, code and number of the first zone, number of the last. */
const RUNS: readonly (readonly [Datum['id'], 'N' | 'S', number, number, number])[] = [
  ['WGS 84', 'N', 32601, 1, 60],
  ['WGS 84', 'S', 32701, 1, 60],
  ['NAD83', 'N', 26901, 1, 23],
  ['NAD83', 'N', 3372, 59, 60],
  ['NAD83(HARN)', 'N', 3740, 10, 19],
  ['NAD83(HARN)', 'N', 3750, 4, 5],
  ['NAD83(NSRS2007)', 'N', 3706, 59, 60],
  ['NAD83(NSRS2007)', 'N', 3708, 1, 19],
  ['NAD83(2011)', 'N', 6328, 59, 60],
  ['NAD83(2011)', 'N', 6330, 1, 19],
  ['NAD83(CSRS)', 'N', 3154, 7, 10],
  ['NAD83(CSRS)', 'N', 2955, 11, 13],
  ['NAD83(CSRS)', 'N', 3158, 14, 16],
  ['NAD83(CSRS)', 'N', 2958, 17, 21],
  ['NAD83(CSRS)', 'N', 3761, 22, 22],
  ['ETRS89', 'N', 25828, 28, 38],
];
const NAD27_RUN = ['NAD27', 'N', 26701, 1, 22] as const;

/** Every UTM system listed; codes from the EPSG registry (v10.076). */
export function utmSystems(): ListedSystem[] {
  return RUNS.flatMap((run) => ofRun(...run));
}

/** UTM on NAD27, for those who accept its mean shift. */
export function nad27UtmSystems(): ListedSystem[] {
  return ofRun(...NAD27_RUN);
}

function ofRun(
  id: Datum['id'],
  hemisphere: 'N' | 'S',
  code: number,
  first: number,
  last: number,
): ListedSystem[] {
  return Array.from({ length: last - first + 1 }, (_, k) => {
    const zone = first + k;
    const lon0 = 6 * zone - 183;
    return {
      code: code + k,
      name: `${id} / UTM zone ${zone}${hemisphere}`,
      datum: datumOfId(id),
      projection: {
        method: 'tmerc',
        lat0: 0,
        lon0,
        scale: 0.9996,
        falseEasting_m: 500000,
        falseNorthing_m: hemisphere === 'S' ? 10000000 : 0,
        unit_m: 1,
      },
      area: {
        west: lon0 - 3,
        east: lon0 + 3,
        south: hemisphere === 'S' ? -80 : 0,
        north: hemisphere === 'S' ? 0 : 84,
      },
    };
  });
}

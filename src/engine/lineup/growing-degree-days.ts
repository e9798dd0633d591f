import { Refusal } from '../issue.ts';
import { DAYS_OF_YEAR, middleOfMonth } from './day-of-year.ts';

const BASE_F = 50;
const CEILING_F = 86;

/** Growing degree days day by day, °F. */
export interface DegreeDays {
  /** Day of the year of the first figure. */
  readonly from: number;
  /** NaN where the day's temperatures are not known. */
  readonly daily: Float64Array;
  /** A record is of one season; normals are of many, and a season brings more or less. */
  readonly of: 'a record' | 'normals';
}

/**
 * Modified growing degree days of a day, 86/50 °F: both temperatures held between base and ceiling, their mean less the base. As the Midwestern Regional Climate Center and
 * the Ohio Agronomy Guide give it. NaN if either is not known.
 */
export function growingDegreeDays(highest_f: number, lowest_f: number): number {
  const held = (temperature: number) => Math.min(CEILING_F, Math.max(BASE_F, temperature));
  return (held(highest_f) + held(lowest_f)) / 2 - BASE_F;
}

/** From daily extremes, °F; `from` is the day of the year of the first. */
export function degreeDaysOfRecord(
  from: number,
  highest_f: ArrayLike<number>,
  lowest_f: ArrayLike<number>,
): DegreeDays {
  if (highest_f.length !== lowest_f.length)
    refuse(
      'temperatures-differ-in-length',
      `${highest_f.length} highest and ${lowest_f.length} lowest temperatures`,
      'one of each a day',
    );
  const daily = Float64Array.from(highest_f, (highest, k) => growingDegreeDays(highest, lowest_f[k]));
  return { from, daily, of: 'a record' };
}

/**
 * From twelve monthly normals, °F, by straight lines between the middles of months: our own choice. Days of a month differ and the base cuts off the cold ones, so
 * this gives somewhat less than daily records in spring and autumn.
 */
export function degreeDaysOfNormals(highest_f: ArrayLike<number>, lowest_f: ArrayLike<number>): DegreeDays {
  if (highest_f.length !== 12 || lowest_f.length !== 12)
    refuse(
      'not-twelve-months',
      `normals of ${highest_f.length} and ${lowest_f.length} months`,
      'twelve of each, January first',
    );
  const daily = Float64Array.from({ length: DAYS_OF_YEAR }, (_, k) =>
    growingDegreeDays(betweenMonths(highest_f, k + 0.5), betweenMonths(lowest_f, k + 0.5)),
  );
  return { from: 1, daily, of: 'normals' };
}

/** The year is round: January follows December. */
function betweenMonths(normals: ArrayLike<number>, days: number): number {
  let before = 12;
  while (before > 0 && middleOfMonth(before) > days) before--;
  const left = before === 0 ? middleOfMonth(12) - DAYS_OF_YEAR : middleOfMonth(before);
  const right = before === 12 ? middleOfMonth(1) + DAYS_OF_YEAR : middleOfMonth(before + 1);
  const share = (days - left) / (right - left);
  return normals[(before + 11) % 12] * (1 - share) + normals[before % 12] * share;
}

function refuse(code: string, found: string, expected: string): never {
  throw new Refusal({
    code,
    where: 'temperatures of the season',
    found,
    expected,
    effect: 'No degree days can be reckoned',
    remedy: 'Give both, in order',
  });
}

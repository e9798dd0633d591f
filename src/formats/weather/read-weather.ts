import { type Issue, Refusal } from '../../engine/issue.ts';
import type { SourceLedger } from '../../engine/layers/source.ts';
import { dayOfYear } from '../../engine/lineup/day-of-year.ts';
import type { FileBytes } from '../file-bytes.ts';
import { newTally, note, type Tally } from '../tally.ts';
import { figureOf } from '../text/figure-text.ts';
import { settleUnits, type UnitReading } from './settle-units.ts';
import { type TemperatureUnit, toFahrenheit } from './temperature-unit.ts';
import {
  type DateOrder,
  dateOrder,
  dayNumbered,
  dayOf,
  isSlashed,
  monthIn,
  monthOf,
  type WeatherDate,
  weatherDate,
} from './weather-date.ts';
import { asideIssues, daysMissing, orderAssumed, type WeatherAside } from './weather-issues.ts';
import { type ColumnsSaid, readWeatherSheet, type WeatherRow, type WeatherSheet } from './weather-sheet.ts';

/** Highest and lowest temperatures, °F, of the days of a year (365, no 29 February) or of its months (12); NaN where not known. */
export interface WeatherYear {
  /** Null for normals that name no year. */
  readonly year: number | null;
  readonly highest_f: Float64Array;
  readonly lowest_f: Float64Array;
}

export interface WeatherRead {
  readonly file: string;
  readonly by: 'day' | 'month';
  /** In order of the years. */
  readonly years: readonly WeatherYear[];
  readonly units: readonly UnitReading[];
  readonly issues: readonly Issue[];
  /** Rows: read = used + set aside. */
  readonly ledger: SourceLedger;
}

/** What a person has said of a record; it goes before what the file says. */
export interface WeatherOptions {
  readonly unit?: TemperatureUnit;
  readonly columns?: ColumnsSaid;
}

/** The air was never hotter or colder than this, °F: the records of the world (World Meteorological Organization: 134.1 and −128.6 °F), to the degree. */
const HOTTEST_F = 135;
const COLDEST_F = -129;
/** Near the equator one half of the year is as warm as the other. Our own choice, °F. */
const WARMER_F = 5;

/**
 * A record of daily highest and lowest temperatures, of one year or several, or normals by the day or the month, as delimited text. Throws a Refusal for what is no such table, where the unit can neither be
 * read nor told by the figures, and for a summer in December.
 */
export function readWeather(file: FileBytes, options: WeatherOptions = {}): WeatherRead {
  const sheet = readWeatherSheet(file, options.columns ?? {});
  refuseStations(sheet);
  const order = orderOf(sheet);
  const dates = sheet.rows.map((row) => dateOfRow(sheet, row, order ?? 'month first'));
  const by = dates.some((date) => date !== null && date.day !== null) ? 'day' : 'month';
  const cellsOf = (role: 'highest' | 'lowest') => {
    const column = sheet.role.get(role) as number;
    return Float64Array.from(sheet.rows, ({ cells }) => figureOf(cells[column], false) ?? NaN);
  };
  const [highest, lowest] = [cellsOf('highest'), cellsOf('lowest')];
  const { units, issues: ofUnits } = settleUnits(
    sheet,
    highest,
    dates.map((date) => date?.month ?? 0),
    options.unit,
  );
  const aside = new Map<WeatherAside, Tally>();
  const size = by === 'day' ? 365 : 12;
  const years = new Map<number | null, WeatherYear>();
  let used = 0;
  for (const [i, date] of dates.entries()) {
    const reason = take(i, date);
    if (reason === null) used++;
    else {
      const tally = aside.get(reason) ?? newTally();
      aside.set(reason, tally);
      note(tally, sheet.rows[i].line);
    }
  }
  const setAside: Record<string, number> = { ...sheet.setAside };
  for (const [reason, { count }] of aside) setAside[reason] = count;
  const broken = Object.values(sheet.setAside).reduce((sum, n) => sum + n, 0);
  const inOrder = [...years.values()].sort((a, b) => (a.year ?? 0) - (b.year ?? 0));
  if (used === 0) refuseEmpty(sheet, setAside);
  refuseSouth(sheet.file, by, inOrder);
  return {
    file: sheet.file,
    by,
    years: inOrder,
    units,
    issues: [
      ...sheet.issues,
      ...ofUnits,
      ...(order === null ? [orderAssumed(sheet.file)] : []),
      ...asideIssues(sheet.file, aside),
      ...daysMissing(sheet.file, by, inOrder),
    ],
    ledger: { read: sheet.rows.length + broken, used, repaired: 0, setAside },
  };

  function take(i: number, date: WeatherDate | null): WeatherAside | null {
    if (date === null || (by === 'day' && date.day === null)) return 'no-date';
    if (by === 'day' && date.month === 2 && date.day === 29) return 'leap-day';
    const [high, low] = [toFahrenheit(highest[i], units[0].unit), toFahrenheit(lowest[i], units[1].unit)];
    if (Number.isNaN(high) || Number.isNaN(low)) return 'no-temperature';
    if (!(high <= HOTTEST_F && low >= COLDEST_F && low <= high)) return 'not-possible';
    const own = years.get(date.year) ?? emptyYear(date.year, size);
    const at = by === 'day' ? dayOfYear({ month: date.month, day: date.day as number }) - 1 : date.month - 1;
    if (!Number.isNaN(own.highest_f[at])) return 'day-twice';
    years.set(date.year, own);
    own.highest_f[at] = high;
    own.lowest_f[at] = low;
    return null;
  }
}

function emptyYear(year: number | null, size: number): WeatherYear {
  return {
    year,
    highest_f: new Float64Array(size).fill(NaN),
    lowest_f: new Float64Array(size).fill(NaN),
  };
}

/** Null where dates could be read both ways: then the month is taken to come first. */
function orderOf({ rows, role }: WeatherSheet): DateOrder | null {
  const column = role.get('date');
  const cells = column === undefined ? [] : rows.map(({ cells: own }) => own[column]);
  return cells.some(isSlashed) ? dateOrder(cells) : 'month first';
}

function dateOfRow({ role }: WeatherSheet, { cells }: WeatherRow, order: DateOrder): WeatherDate | null {
  const cell = (own: Parameters<typeof role.get>[0]) => {
    const column = role.get(own);
    return column === undefined ? null : cells[column];
  };
  const date = cell('date');
  const yearSaid = cell('year');
  const year = yearSaid === null ? null : yearOf(yearSaid);
  if (Number.isNaN(year)) return null;
  const [month, day, ofYear] = [cell('month'), cell('day'), cell('day of year')];
  if (date !== null) {
    const own = weatherDate(date, order);
    return own && own.year === null ? { ...own, year } : own;
  }
  if (month !== null) {
    if (day === null) return monthIn(year, monthOf(month));
    return day === '' ? null : dayOf(year, monthOf(month), Number(day));
  }
  return ofYear === null || ofYear === '' ? null : dayNumbered(year, Number(ofYear));
}

function yearOf(text: string): number {
  return /^(18|19|20|21)\d\d(\.0+)?$/.test(text) ? Number(text) : NaN;
}

function refuseStations({ file, rows, role }: WeatherSheet): void {
  const column = role.get('station');
  if (column === undefined) return;
  const stations = [...new Set(rows.map(({ cells }) => cells[column]))].filter((own) => own !== '');
  if (stations.length < 2) return;
  throw new Refusal({
    code: 'weather-several-stations',
    where: file,
    found: `${stations.length} stations: ${stations.slice(0, 10).join(', ')}${stations.length > 10 ? ', …' : ''}`,
    expected: 'the record of one',
    effect: 'The temperatures were not read',
    remedy: 'Keep the rows of the station nearest the field',
  });
}

function refuseEmpty({ file }: WeatherSheet, setAside: Readonly<Record<string, number>>): never {
  const reasons = Object.entries(setAside).map(([reason, count]) => `${count} ${reason}`);
  throw new Refusal({
    code: 'weather-no-days',
    where: file,
    found: `no row with a date and both temperatures${reasons.length > 0 ? `; set aside ${reasons.join(', ')}` : ''}`,
    expected: 'a row a day, or a row a month',
    effect: 'The temperatures were not read',
    remedy: 'See what the columns hold',
  });
}

/** Seasons here are sown in spring and end with a freeze in the autumn of one year. */
function refuseSouth(file: string, by: 'day' | 'month', years: readonly WeatherYear[]): void {
  const mean = (months: readonly number[]) => {
    const known = years.flatMap(({ highest_f }) =>
      Array.from(highest_f).filter(
        (own, k) => !Number.isNaN(own) && months.includes(by === 'month' ? k + 1 : monthOfDay(k + 1)),
      ),
    );
    return known.reduce((sum, own) => sum + own, 0) / known.length;
  };
  const [summer, winter] = [mean([6, 7, 8]), mean([12, 1, 2])];
  if (!(winter > summer + WARMER_F)) return;
  throw new Refusal({
    code: 'weather-southern',
    where: file,
    found: `December to February warmer than June to August: ${winter.toFixed(0)} against ${summer.toFixed(0)} °F`,
    expected: 'a record from north of the equator',
    effect:
      'The season cannot be judged: what is known of late planting counts from May, and the freeze comes in the year of planting',
    remedy: 'Give a record of a place in the north',
  });
}

/** Month of a day of a year of 365 days. */
function monthOfDay(day: number): number {
  return dayNumbered(null, day)?.month ?? 12;
}

/** A day, or where `day` is null a month; the year is null where none is told, as in normals. */
export interface WeatherDate {
  readonly year: number | null;
  readonly month: number;
  readonly day: number | null;
}

export type DateOrder = 'month first' | 'day first';

/** Three letters, and what tells June from July, in seven languages, without accents. */
const MONTHS = [
  /^(jan|ene|gen)/,
  /^(feb|fev)/,
  /^m(ar|rz|aa|rt)/,
  /^(apr|abr|avr)/,
  /^(ma[yijg]|mei)/,
  /^(jun|juin|giu)/,
  /^(jul|juil|lug)/,
  /^(aug|aou|ago)/,
  /^(sep|set)/,
  /^(oct|okt|ott)/,
  /^nov/,
  /^(de[czs]|dic)/,
];

/** A month as a number or by its name; NaN for anything else. */
export function monthOf(text: string): number {
  const said = text.trim().toLowerCase();
  if (/^\d{1,2}$/.test(said)) {
    const number = Number(said);
    return number >= 1 && number <= 12 ? number : NaN;
  }
  const plain = said.normalize('NFD').replace(/[\u0300-\u036f.]/g, '');
  const index = /^[a-z]{3,12}$/.test(plain) ? MONTHS.findIndex((is) => is.test(plain)) : -1;
  return index < 0 ? NaN : index + 1;
}

const SLASHED = /^(\d{1,2})[-/](\d{1,2})[-/](\d{4}|\d{2})(?:[T\s].*)?$/;

/** Which comes first in dates of two small numbers and a year; null where every one could be read both ways. */
export function dateOrder(cells: readonly string[]): DateOrder | null {
  for (const cell of cells) {
    const match = SLASHED.exec(cell);
    if (!match) continue;
    if (Number(match[1]) > 12) return 'day first';
    if (Number(match[2]) > 12) return 'month first';
  }
  return null;
}

export function isSlashed(cell: string): boolean {
  return SLASHED.test(cell);
}

/** A date as written: `2023-05-10`, `20230510`, `5/10/2023`, `10.5.2023`, `10 May 2023`, `05-10`, `2023-05`, `May`; null for what is none. */
export function weatherDate(text: string, order: DateOrder): WeatherDate | null {
  const said = text.trim();
  const iso =
    /^(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?:[T\s].*)?$/.exec(said) ?? /^(\d{4})(\d{2})(\d{2})$/.exec(said);
  if (iso) return dayOf(Number(iso[1]), Number(iso[2]), Number(iso[3]));
  const slashed = SLASHED.exec(said);
  if (slashed) {
    const [a, b] = [Number(slashed[1]), Number(slashed[2])];
    const year = fullYear(slashed[3]);
    return order === 'month first' ? dayOf(year, a, b) : dayOf(year, b, a);
  }
  const dotted = /^(\d{1,2})\.\s?(\d{1,2})\.\s?(\d{4}|\d{2})(?:\s.*)?$/.exec(said);
  if (dotted) return dayOf(fullYear(dotted[3]), Number(dotted[2]), Number(dotted[1]));
  const named =
    /^(\d{1,2})\.?[\s-]+(\p{L}{3,12}\.?)[\s-]+(\d{4}|\d{2})$/u.exec(said) ??
    flipped(/^(\p{L}{3,12}\.?)\s+(\d{1,2}),?\s+(\d{4})$/u.exec(said));
  if (named) return dayOf(fullYear(named[3]), monthOf(named[2]), Number(named[1]));
  const ofMonth = /^(\d{4})[-/]?(\d{2})$/.exec(said);
  if (ofMonth) return monthIn(Number(ofMonth[1]), Number(ofMonth[2]));
  const noYear = /^(\d{1,2})[-/](\d{1,2})$/.exec(said);
  if (noYear) return dayOf(null, Number(noYear[1]), Number(noYear[2]));
  return monthIn(null, monthOf(said));
}

function flipped(match: RegExpExecArray | null): readonly string[] | null {
  return match && [match[0], match[2], match[1], match[3]];
}

/** Of two digits 50 to 99 are of the last century. */
function fullYear(text: string): number {
  const year = Number(text);
  return text.length === 4 ? year : year < 50 ? 2000 + year : 1900 + year;
}

const DAYS = [31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

export function isLeap(year: number): boolean {
  return year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
}

export function dayOf(year: number | null, month: number, day: number): WeatherDate | null {
  const inMonth = month === 2 && year !== null && !isLeap(year) ? 28 : DAYS[month - 1];
  return inMonth !== undefined && Number.isInteger(day) && day >= 1 && day <= inMonth
    ? { year, month, day }
    : null;
}

export function monthIn(year: number | null, month: number): WeatherDate | null {
  return month >= 1 && month <= 12 ? { year, month, day: null } : null;
}

/** Day 1 to 365, or 366 in a leap year. Without a year the year has 365. */
export function dayNumbered(year: number | null, number: number): WeatherDate | null {
  if (!Number.isInteger(number) || number < 1) return null;
  let left = number;
  for (const [k, days] of DAYS.entries()) {
    const own = k === 1 && (year === null || !isLeap(year)) ? 28 : days;
    if (left <= own) return { year, month: k + 1, day: left };
    left -= own;
  }
  return null;
}

import type { Issue } from '../../engine/issue.ts';
import type { RowCursor } from './row-cursor.ts';
import { groupedNumber, grouping } from './thousands.ts';

/** What the comma (or point) of a column's numbers is, where they do not tell: stated by the caller by column name. */
export type Commas = Readonly<Record<string, 'thousands' | 'decimals'>>;

const COMMA = 44;
const POINT = 46;

/** What was seen of one column in a first walk. */
export interface Seen {
  readonly numbers: number;
  /** Known cells that are no plain numbers. */
  readonly words: number;
  /** Of these, numbers with parted thousands; and those that can be nothing else. */
  readonly grouped: number;
  readonly certain: number;
  readonly example: string;
}

/** What becomes of a column: read again with another decimal mark (null: it stands as it is), or taken for text after all. */
export interface Verdict {
  readonly point: number | null;
  readonly text: boolean;
  readonly issue: Issue | null;
}

const SAME: Verdict = { point: null, text: false, issue: null };

/** A column whose words are numbers with parted thousands: read so where that is certain or stated, asked about otherwise. */
export function judgeWords(seen: Seen, where: string, name: string, point: number, commas: Commas): Verdict {
  const fits = seen.grouped > 0 && seen.numbers + seen.grouped >= 0.95 * (seen.numbers + seen.words);
  if (!fits) return SAME;
  const stated = Object.hasOwn(commas, name) ? commas[name] : null;
  if (stated) return { ...SAME, point: stated === 'thousands' ? point : other(point) };
  const mark = point === POINT ? 'comma' : 'point';
  if (seen.certain > 0) {
    const effect = `The ${mark} is taken to part the thousands`;
    return { point, text: false, issue: issue('csv-thousands', 'note', where, name, seen.example, effect) };
  }
  const effect = `They are not used as numbers until it is stated whether the ${mark} parts thousands or decimals`;
  return { ...SAME, issue: issue('csv-thousands-or-decimals', 'warning', where, name, seen.example, effect) };
}

/**
 * A column of a file with decimal commas all of whose commas have three digits after them: as stated, else decimals where other columns prove that commas are,
 * else not used as numbers.
 */
export function judgeDecimals(
  where: string,
  name: string,
  example: string,
  proven: boolean,
  commas: Commas,
): Verdict {
  const stated = Object.hasOwn(commas, name) ? commas[name] : null;
  if (stated === 'thousands') return { ...SAME, point: POINT };
  if (stated === 'decimals') return SAME;
  const effect = proven
    ? 'The comma is taken as the decimal mark, as in other columns'
    : 'They are not used as numbers until it is stated whether the comma parts thousands or decimals';
  const told = issue('csv-thousands-or-decimals', 'warning', where, name, example, effect);
  return { point: null, text: !proven, issue: told };
}

function issue(
  code: string,
  severity: Issue['severity'],
  where: string,
  name: string,
  example: string,
  effect: string,
): Issue {
  return {
    code,
    severity,
    where: `${where} › ${name}`,
    found: `numbers such as ${example}`,
    expected: 'plain numbers with a decimal point',
    effect,
    remedy:
      severity === 'note'
        ? 'Nothing to do'
        : 'State which, or export the numbers without commas that part thousands',
  };
}

/** Whether every number with a comma in a column may part thousands (walks the rows). */
export function alwaysAmbiguous(
  bytes: Uint8Array,
  column: number,
  eachRow: (take: (cursor: RowCursor) => void) => void,
): boolean {
  let ambiguous = true;
  eachRow(({ starts, ends }) => {
    if (!ambiguous) return;
    const [start, end] = [starts[column], ends[column]];
    const comma = bytes.subarray(start, end).includes(COMMA);
    if (comma && grouping(bytes, start, end, POINT) === 'none') ambiguous = false;
  });
  return ambiguous;
}

/** The column read again with another decimal mark, what parts its thousands taken out. */
export function readAgain(
  bytes: Uint8Array,
  column: number,
  point: number,
  rows: number,
  eachRow: (take: (cursor: RowCursor) => void) => void,
): Float64Array {
  const values = new Float64Array(rows);
  let row = 0;
  eachRow(({ starts, ends }) => {
    values[row++] = groupedNumber(bytes, starts[column], ends[column], point);
  });
  return values;
}

function other(point: number): number {
  return point === POINT ? COMMA : POINT;
}

import { Refusal } from '../../engine/issue.ts';
import type { PlainText } from '../text/decode.ts';
import { DOUBLED, RowCursor } from './row-cursor.ts';

export interface SampleCell {
  readonly start: number;
  readonly end: number;
  readonly doubled: boolean;
}
/** One of the first rows that are not blank. */
export interface SampleRow {
  readonly line: number;
  readonly offset: number;
  /** Byte and line where the next row begins. */
  readonly end: number;
  readonly endLine: number;
  readonly cells: readonly SampleCell[];
}

const COMMA = 44;
/** In order of preference where two explain the same rows: a comma may also be a decimal mark. */
const DELIMITERS = [59, 9, 124, COMMA];
const SAMPLE_ROWS = 50;

export function refuseTable(where: string, found: string, expected: string): never {
  throw new Refusal({
    code: 'csv-no-table',
    where,
    found,
    expected,
    effect: 'The file was not read',
    remedy: 'Export a table with one header row and the same number of columns in every row',
  });
}

/** The delimiter that gives most rows one same width of two or more; a single column if none does. */
export function bestDelimiter(bytes: Uint8Array, where: string, from: number, line = 1) {
  let best = { delimiter: COMMA, rows: sample(bytes, COMMA, where, from, line), width: 1, score: 0 };
  if (best.rows.length === 0) refuseTable(where, 'only blank lines', 'a table');
  for (const delimiter of DELIMITERS) {
    const rows = sample(bytes, delimiter, where, from, line);
    const counts = new Map<number, number>();
    for (const { cells } of rows) {
      if (cells.length > 1) counts.set(cells.length, (counts.get(cells.length) ?? 0) + 1);
    }
    for (const [width, score] of counts) {
      const wider = score === best.score && width > best.width && delimiter === best.delimiter;
      if (score > best.score || wider) best = { delimiter, rows, width, score };
    }
  }
  return best;
}

function sample(
  bytes: Uint8Array,
  delimiter: number,
  where: string,
  from: number,
  line: number,
): SampleRow[] {
  const cursor = new RowCursor(bytes, delimiter, where, from, line);
  const rows: SampleRow[] = [];
  try {
    for (let n = cursor.next(); n >= 0 && rows.length < SAMPLE_ROWS; n = cursor.next()) {
      const cells = Array.from({ length: n }, (_, i) => ({
        start: cursor.starts[i],
        end: cursor.ends[i],
        doubled: cursor.marks[i] === DOUBLED,
      }));
      if (cells.some(({ start, end }) => end > start)) {
        const { line, offset, at, nextLine } = cursor;
        rows.push({ line, offset, end: at, endLine: nextLine, cells });
      }
    }
  } catch (error) {
    // A quote that never closes is reported by the real read, with the delimiter that fits.
    if (!(error instanceof Refusal) || rows.length === 0) throw error;
  }
  return rows;
}

export function cellText(text: PlainText, { start, end, doubled }: SampleCell): string {
  const words = text.decode(text.bytes.subarray(start, end));
  return doubled ? words.replaceAll('""', '"') : words;
}

/** Byte where a line (from 1) begins; quotes are not minded. */
export function lineStart(bytes: Uint8Array, line: number, where: string): number {
  let at = 0;
  for (let n = 1; n < line && at < bytes.length; n++) {
    while (at < bytes.length && bytes[at] !== 10 && bytes[at] !== 13) at++;
    at += bytes[at] === 13 && bytes[at + 1] === 10 ? 2 : 1;
  }
  if (at >= bytes.length) refuseTable(where, `no line ${line}`, 'the header in it, as stated');
  return at;
}

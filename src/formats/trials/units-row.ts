import type { CsvLayout } from '../csv/layout.ts';
import { RowCursor } from '../csv/row-cursor.ts';
import { forEachRowText } from '../csv/row-texts.ts';
import type { FileBytes } from '../file-bytes.ts';
import type { PlainText } from '../text/decode.ts';
import { NUMBER_ROLES } from './trial-role.ts';
import { roleNamed } from './trial-words.ts';

const LF = 10;

/** A row of units under the header, and the file without it. */
export interface UnitsRow {
  /** By column, '' where it says none. */
  readonly units: readonly string[];
  readonly without: FileBytes;
}

/**
 * A row of units in a table that is texts for the most part, where the reader of text tables takes it for a record: words, and no number, under all columns called
 * as figures are, and no product. Null without one.
 */
export function unitsRowOf(text: PlainText, layout: CsvLayout, file: FileBytes): UnitsRow | null {
  if (layout.units) return null;
  const { bytes } = text;
  const cursor = new RowCursor(bytes, layout.delimiter, file.name, layout.start, layout.line, layout.point);
  if (cursor.next() !== layout.names.length) return null;
  const head = { ...text, bytes: bytes.subarray(0, cursor.at) };
  let units: string[] = [];
  forEachRowText(head, layout, file.name, (_, cell) => {
    units = layout.names.map((_, column) => cell(column));
  });
  const roles = layout.names.map((name) => roleNamed(name)?.role);
  const figures = units.filter((_, k) => roles[k] !== undefined && NUMBER_ROLES.includes(roles[k]));
  const words = figures.filter((unit) => /[\p{L}%]/u.test(unit));
  const blankProduct = units.every((unit, k) => roles[k] !== 'product' || unit === '');
  if (words.length === 0 || !blankProduct || figures.some((unit) => unit !== '' && !words.includes(unit)))
    return null;
  // Blank lines in its place, so that the lines below keep their numbers.
  const lines = new Uint8Array(cursor.nextLine - layout.line).fill(LF);
  const without = new Uint8Array(layout.start + lines.length + bytes.length - cursor.at);
  without.set(bytes.subarray(0, layout.start));
  without.set(lines, layout.start);
  without.set(bytes.subarray(cursor.at), layout.start + lines.length);
  return { units, without: { name: file.name, bytes: without } };
}

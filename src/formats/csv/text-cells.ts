import type { TextColumn } from '../../engine/layers/source.ts';
import type { PlainText } from '../text/decode.ts';
import { textDictionary } from '../text/dictionary.ts';

/** Where the cells of a column of text lie, row by row: enough to read them later, when somebody asks. */
export interface TextCells {
  starts: Int32Array;
  /** NOTHING where the cell holds nothing known; end − 2³¹ where it holds doubled quotes. */
  ends: Int32Array;
}

export const NOTHING = -1;
/** A closing quote follows such a cell, so its end less this is under NOTHING in any file of up to 2 GB. */
const DOUBLED_FROM = 2 ** 31;

export function newCells(capacity: number): TextCells {
  return { starts: new Int32Array(capacity), ends: new Int32Array(capacity) };
}

export function extendCells(cells: TextCells, capacity: number): void {
  const longer = newCells(capacity);
  longer.starts.set(cells.starts);
  longer.ends.set(cells.ends);
  cells.starts = longer.starts;
  cells.ends = longer.ends;
}

export function keepCell(
  cells: TextCells,
  row: number,
  start: number,
  end: number,
  known: boolean,
  doubled: boolean,
): void {
  cells.starts[row] = start;
  cells.ends[row] = !known ? NOTHING : doubled ? end - DOUBLED_FROM : end;
}

/** Where the text of a cell ends, NOTHING where it holds nothing known. */
export function cellEnd({ ends }: TextCells, row: number): number {
  return ends[row] < NOTHING ? ends[row] + DOUBLED_FROM : ends[row];
}

/** The first `rows` cells as coded text. */
export function codeCells(
  text: PlainText,
  cells: TextCells,
  rows: number,
): Pick<TextColumn, 'codes' | 'levels'> {
  const codes = new Int32Array(rows);
  const dictionary = textDictionary(text.bytes);
  for (let row = 0; row < rows; row++) {
    const end = cellEnd(cells, row);
    codes[row] = end === NOTHING ? -1 : dictionary.code(cells.starts[row], end, cells.ends[row] < NOTHING);
  }
  return { codes, levels: dictionary.levels(text.decode) };
}

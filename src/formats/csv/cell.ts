import { numberFromBytes } from '../text/number-bytes.ts';

const MISSING = new Set(['na', 'n/a', 'nan', '-', 'null', '#n/a']);

/** What a cell holds, decided on its bytes without a string. */
export type CellKind = 'blank' | 'number' | 'text';

/** Blank, or one of the usual words for a missing value (any case): never a number, never zero. */
export function isMissing(bytes: Uint8Array, start: number, end: number): boolean {
  let from = start;
  let to = end;
  while (from < to && isBlank(bytes[from])) from++;
  while (to > from && isBlank(bytes[to - 1])) to--;
  if (to - from > 4) return false;
  let word = '';
  for (let i = from; i < to; i++) word += String.fromCharCode(bytes[i]);
  return word === '' || MISSING.has(word.toLowerCase());
}

/** The number in a cell, blanks around it ignored; NaN for anything else. */
export function cellNumber(bytes: Uint8Array, start: number, end: number, point: number): number {
  let from = start;
  let to = end;
  while (from < to && isBlank(bytes[from])) from++;
  while (to > from && isBlank(bytes[to - 1])) to--;
  return numberFromBytes(bytes, from, to, point);
}

export function cellKind(bytes: Uint8Array, start: number, end: number, point: number): CellKind {
  if (!Number.isNaN(cellNumber(bytes, start, end, point))) return 'number';
  return isMissing(bytes, start, end) ? 'blank' : 'text';
}

/** A zero followed by a digit: the mark of an id (007), not of a measurement. */
export function hasLeadingZero(bytes: Uint8Array, start: number, end: number): boolean {
  let at = start;
  while (at < end && isBlank(bytes[at])) at++;
  if (bytes[at] === 45 || bytes[at] === 43) at++;
  return bytes[at] === 48 && at + 1 < end && bytes[at + 1] >= 48 && bytes[at + 1] <= 57;
}

function isBlank(byte: number): boolean {
  return byte === 32 || byte === 9;
}

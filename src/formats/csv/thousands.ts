import { numberFromBytes } from '../text/number-bytes.ts';

const COMMA = 44;
const POINT = 46;

/**
 * Whether a cell is a number whose thousands are parted (32,000; 1,234,567; 1.234,5 where `point`, the decimal mark, is a comma). One mark and three digits
 * after it may be decimals as well: `possible`.
 */
export function grouping(
  bytes: Uint8Array,
  start: number,
  end: number,
  point: number,
): 'none' | 'possible' | 'certain' {
  const mark = point === POINT ? COMMA : POINT;
  let [at, to] = trimmed(bytes, start, end);
  if (bytes[at] === 45 || bytes[at] === 43) at++;
  if (bytes[at] === 48) return 'none';
  const lead = digits(bytes, at, to);
  if (lead < 1 || lead > 3) return 'none';
  at += lead;
  let groups = 0;
  for (; at < to && bytes[at] === mark; groups++) {
    if (digits(bytes, at + 1, to) !== 3) return 'none';
    at += 4;
  }
  if (groups === 0) return 'none';
  if (at === to) return groups > 1 ? 'certain' : 'possible';
  if (bytes[at] !== point) return 'none';
  return at + 1 + digits(bytes, at + 1, to) === to ? 'certain' : 'none';
}

/** The number in such a cell, or in a plain one. */
export function groupedNumber(bytes: Uint8Array, start: number, end: number, point: number): number {
  const mark = point === POINT ? COMMA : POINT;
  const [from, to] = trimmed(bytes, start, end);
  const plain = bytes.subarray(from, to).filter((byte) => byte !== mark);
  return numberFromBytes(plain, 0, plain.length, point);
}

function digits(bytes: Uint8Array, from: number, end: number): number {
  let at = from;
  while (at < end && bytes[at] >= 48 && bytes[at] <= 57) at++;
  return at - from;
}

function trimmed(bytes: Uint8Array, start: number, end: number): [number, number] {
  let [from, to] = [start, end];
  while (from < to && (bytes[from] === 32 || bytes[from] === 9)) from++;
  while (to > from && (bytes[to - 1] === 32 || bytes[to - 1] === 9)) to--;
  return [from, to];
}

/** Long texts are looked through four bytes at a time: a file of a million rows is looked through whole. */
const LONG = 64;
const HIGH_BITS = 0x80808080 | 0;
const ONES = 0x01010101;

/** Whether no byte of bytes[start, end) is over 127. */
export function isAscii(bytes: Uint8Array, start = 0, end = bytes.length): boolean {
  const words = wordsOf(bytes, start, end);
  if (words === null) return allAscii(bytes, start, end);
  let k = 0;
  for (; k + 4 <= words.length; k += 4) {
    if ((words[k] | words[k + 1] | words[k + 2] | words[k + 3]) & HIGH_BITS) return false;
  }
  for (; k < words.length; k++) if (words[k] & HIGH_BITS) return false;
  const from = words.byteOffset - bytes.byteOffset;
  return allAscii(bytes, start, from) && allAscii(bytes, from + words.byteLength, end);
}

function allAscii(bytes: Uint8Array, start: number, end: number): boolean {
  for (let i = start; i < end; i++) if (bytes[i] > 127) return false;
  return true;
}

/** Whether every byte is from 1 to 127: ASCII, and no zero among it. */
export function isNonzeroAscii(bytes: Uint8Array): boolean {
  const words = wordsOf(bytes, 0, bytes.length);
  if (words === null) return bytes.every(isNonzeroAsciiByte);
  let k = 0;
  for (; k + 4 <= words.length; k += 4) {
    const [a, b, c, d] = [words[k], words[k + 1], words[k + 2], words[k + 3]];
    // A zero is the only byte under 128 to leave a mark when one is taken from it.
    const marks = a | (a - ONES) | b | (b - ONES) | c | (c - ONES) | d | (d - ONES);
    if (marks & HIGH_BITS) return false;
  }
  const from = words.byteOffset - bytes.byteOffset;
  return (
    bytes.subarray(0, from).every(isNonzeroAsciiByte) &&
    bytes.subarray(from + 4 * k).every(isNonzeroAsciiByte)
  );
}

function isNonzeroAsciiByte(byte: number): boolean {
  return byte > 0 && byte < 128;
}

/** Index of the first zero byte, −1 without one. */
export function firstZero(bytes: Uint8Array): number {
  const words = wordsOf(bytes, 0, bytes.length);
  if (words === null) return bytes.indexOf(0);
  const from = words.byteOffset - bytes.byteOffset;
  for (let i = 0; i < from; i++) if (bytes[i] === 0) return i;
  let k = 0;
  for (; k + 4 <= words.length; k += 4) {
    const marks = (words[k] - ONES) | (words[k + 1] - ONES) | (words[k + 2] - ONES) | (words[k + 3] - ONES);
    // A zero or a byte over 128 leaves a mark.
    if (marks & HIGH_BITS && bytes.subarray(from + 4 * k, from + 4 * k + 16).includes(0)) break;
  }
  return bytes.indexOf(0, from + 4 * k);
}

/** The whole aligned words of a long range; null for a short one. */
function wordsOf(bytes: Uint8Array, start: number, end: number): Int32Array | null {
  if (end - start < LONG) return null;
  const first = start + (-(bytes.byteOffset + start) & 3);
  return new Int32Array(bytes.buffer, bytes.byteOffset + first, (end - first) >> 2);
}

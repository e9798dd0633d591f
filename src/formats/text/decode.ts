import { type TextEncoding, textDecoder, UTF_8, WINDOWS_1252 } from './encoding.ts';
import { isAscii, isNonzeroAscii } from './scan.ts';

/** Text bytes made ready for a byte reader: no byte-order mark, never UTF-16. */
export interface PlainText {
  readonly bytes: Uint8Array;
  /** Nothing but ASCII in it, and no zero byte. */
  readonly ascii: boolean;
  readonly encoding: string;
  /** Some of the bytes as text. */
  readonly decode: (bytes: Uint8Array) => string;
  /** True when nothing in the file said so, nobody did, and it is not plain ASCII or valid UTF-8. */
  readonly guessed: boolean;
}

/**
 * Strips a byte-order mark, turns UTF-16 (by its mark, or as its zero bytes show) into UTF-8, and settles on UTF-8 if valid, else on the encoding `given`, and on Windows-1252 without one that
 * is known.
 */
export function plainText(bytes: Uint8Array, given?: string): PlainText {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return fromUtf16(bytes.subarray(2), 'utf-16le');
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return fromUtf16(bytes.subarray(2), 'utf-16be');
  const unmarked = unmarkedUtf16(bytes);
  if (unmarked !== null) return fromUtf16(bytes, unmarked);
  const marked = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf;
  const body = marked ? bytes.subarray(3) : bytes;
  if (isNonzeroAscii(body)) return { ...inEncoding(body, UTF_8), ascii: true };
  if (isAscii(body) || isUtf8(body)) return inEncoding(body, UTF_8);
  const known = given === undefined ? null : textDecoder(given);
  return inEncoding(body, known ?? WINDOWS_1252, known === null);
}

function inEncoding(bytes: Uint8Array, { label, decode }: TextEncoding, guessed = false): PlainText {
  return { bytes, ascii: false, encoding: label, decode, guessed };
}

function fromUtf16(bytes: Uint8Array, label: string): PlainText {
  const text = new TextDecoder(label).decode(bytes);
  return inEncoding(new TextEncoder().encode(text), UTF_8);
}

const LOOKED_AT = 1024;
/** A few letters beyond Latin-1 (a dash, a sign of money) have no zero byte. Our own choice. */
const MOSTLY = 0.75;

/** UTF-16 without its mark, as some programs write it: of Latin letters every other byte is zero, and no byte between. */
function unmarkedUtf16(bytes: Uint8Array): 'utf-16le' | 'utf-16be' | null {
  const letters = Math.min(bytes.length, LOOKED_AT) >> 1;
  if (letters < 2) return null;
  const zeros = [0, 0];
  for (let i = 0; i < 2 * letters; i++) if (bytes[i] === 0) zeros[i & 1]++;
  const [first, second] = zeros;
  if (first === 0 && second >= MOSTLY * letters) return 'utf-16le';
  return second === 0 && first >= MOSTLY * letters ? 'utf-16be' : null;
}

/** Checked a piece at a time: a text of gigabytes must not be made into a string. */
const PIECE = 1 << 20;

export function isUtf8(bytes: Uint8Array): boolean {
  const decoder = new TextDecoder('utf-8', { fatal: true });
  try {
    for (let at = 0; at < bytes.length; at += PIECE)
      decoder.decode(bytes.subarray(at, at + PIECE), { stream: at + PIECE < bytes.length });
    return true;
  } catch {
    return false;
  }
}

import { isAscii } from './dictionary.ts';

/** Text bytes made ready for a byte reader: no byte-order mark, never UTF-16. */
export interface PlainText {
  readonly bytes: Uint8Array;
  readonly encoding: 'utf-8' | 'windows-1252';
  /** True when nothing in the file said so and it is not plain ASCII or valid UTF-8. */
  readonly guessed: boolean;
}

/** Strips a byte-order mark, turns UTF-16 into UTF-8, and settles on UTF-8 if valid and Windows-1252 otherwise. */
export function plainText(bytes: Uint8Array): PlainText {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return fromUtf16(bytes.subarray(2), 'utf-16le');
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return fromUtf16(bytes.subarray(2), 'utf-16be');
  const marked = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf;
  const body = marked ? bytes.subarray(3) : bytes;
  const utf8 = isAscii(body) || isUtf8(body);
  return { bytes: body, encoding: utf8 ? 'utf-8' : 'windows-1252', guessed: !utf8 };
}

function fromUtf16(bytes: Uint8Array, label: string): PlainText {
  const text = new TextDecoder(label).decode(bytes);
  return { bytes: new TextEncoder().encode(text), encoding: 'utf-8', guessed: false };
}

export function isUtf8(bytes: Uint8Array): boolean {
  try {
    new TextDecoder('utf-8', { fatal: true }).decode(bytes);
    return true;
  } catch {
    return false;
  }
}

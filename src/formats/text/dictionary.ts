import type { TextColumn, TextPlaces } from '../../engine/layers/source.ts';
import { isAscii } from './scan.ts';

/** What is kept of a text: where it begins and ends, its hash, and whether it holds doubled quotes. */
const START = 0;
const END = 1;
const HASH = 2;
const DOUBLED = 3;
const SLOTS = 4;
/** Texts are decoded so many bytes at a time and cut: far cheaper than a million strings letter by letter. */
const BATCH = 1 << 16;

/** Turns byte ranges into small codes, one per distinct text, without making a string per cell. */
export interface Dictionary {
  /** Code of the text in bytes[start, end). `doubled`: it holds doubled quotes, undone in the level. */
  code(start: number, end: number, doubled?: boolean): number;
  levels(decode: (bytes: Uint8Array) => string): string[];
}

/**
 * A column of text that is coded when it is first looked at: a million times of day that nobody asks for cost nothing.
 * Until then it holds the bytes of the file, and tells the places of its texts there.
 */
export function textColumn(
  name: string,
  read: () => Pick<TextColumn, 'codes' | 'levels'>,
  places: () => TextPlaces,
): TextColumn {
  let made: Pick<TextColumn, 'codes' | 'levels'> | null = null;
  let waiting: { read: typeof read; places: typeof places } | null = { read, places };
  const text = () => {
    made ??= waiting!.read();
    waiting = null;
    return made;
  };
  return {
    name,
    kind: 'text',
    get codes() {
      return text().codes;
    },
    get levels() {
      return text().levels;
    },
    get places() {
      return waiting?.places();
    },
  };
}

export function textDictionary(bytes: Uint8Array): Dictionary {
  let table = new Int32Array(256).fill(-1);
  let entries = new Int32Array(128 * SLOTS);
  let count = 0;

  /** The table stays at most half full, so as many texts as half its length fit. */
  function grow(): void {
    const wider = new Int32Array(entries.length * 4);
    wider.set(entries);
    entries = wider;
    table = new Int32Array(table.length * 4).fill(-1);
    for (let code = 0; code < count; code++) {
      let slot = entries[code * SLOTS + HASH] & (table.length - 1);
      while (table[slot] >= 0) slot = (slot + 1) & (table.length - 1);
      table[slot] = code;
    }
  }

  /** Decodes the plain texts from `code` on, a batch at most, into `texts`; gives the first code not decoded. */
  function decodeBatch(code: number, batch: Uint8Array, texts: string[]): number {
    let size = 0;
    let next = code;
    for (; next < count; next++) {
      const start = entries[next * SLOTS + START];
      const end = entries[next * SLOTS + END];
      if (size + end - start > BATCH || !isAscii(bytes, start, end)) break;
      for (let i = start; i < end; i++) batch[size++] = bytes[i];
    }
    const whole = PLAIN.decode(batch.subarray(0, size));
    for (let at = 0, each = code; each < next; each++) {
      const length = entries[each * SLOTS + END] - entries[each * SLOTS + START];
      texts.push(whole.slice(at, at + length));
      at += length;
    }
    return next;
  }

  return {
    code(start, end, doubled = false) {
      // FNV-1a, with a last mix because the table uses the low bits only.
      let hash = doubled ? 1 : 0x811c9dc5;
      for (let i = start; i < end; i++) hash = Math.imul(hash ^ bytes[i], 0x01000193);
      hash ^= hash >>> 15;
      const mark = doubled ? 1 : 0;
      let slot = hash & (table.length - 1);
      for (let code = table[slot]; code >= 0; code = table[slot]) {
        const at = code * SLOTS;
        if (
          entries[at + HASH] === hash &&
          entries[at + DOUBLED] === mark &&
          same(bytes, entries[at + START], entries[at + END], start, end)
        ) {
          return code;
        }
        slot = (slot + 1) & (table.length - 1);
      }
      const code = count++;
      table[slot] = code;
      const at = code * SLOTS;
      entries[at + START] = start;
      entries[at + END] = end;
      entries[at + HASH] = hash;
      entries[at + DOUBLED] = mark;
      if (count * 2 >= table.length) grow();
      return code;
    },
    levels(decode) {
      const texts: string[] = [];
      const batch = new Uint8Array(BATCH);
      for (let code = 0; code < count; ) {
        const next = decodeBatch(code, batch, texts);
        // Beyond ASCII, or longer than a batch: one by one.
        if (next === code)
          texts.push(decode(bytes.subarray(entries[code * SLOTS + START], entries[code * SLOTS + END])));
        code = Math.max(next, code + 1);
      }
      return texts.map((text, code) => (entries[code * SLOTS + DOUBLED] ? text.replaceAll('""', '"') : text));
    },
  };
}

const PLAIN = new TextDecoder();

function same(bytes: Uint8Array, a: number, aEnd: number, b: number, bEnd: number): boolean {
  if (aEnd - a !== bEnd - b) return false;
  for (let i = a, j = b; i < aEnd; i++, j++) if (bytes[i] !== bytes[j]) return false;
  return true;
}

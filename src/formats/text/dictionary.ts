import { asciiText } from './number-bytes.ts';

/** Turns byte ranges into small codes, one per distinct text, without making a string per cell. */
export interface Dictionary {
  /** Code of the text in bytes[start, end). `doubled`: it holds doubled quotes, undone in the level. */
  code(start: number, end: number, doubled?: boolean): number;
  levels(decode: (bytes: Uint8Array) => string): string[];
}

export function textDictionary(bytes: Uint8Array): Dictionary {
  let table = new Int32Array(256).fill(-1);
  const starts: number[] = [];
  const ends: number[] = [];
  const marks: boolean[] = [];
  const hashes: number[] = [];

  function grow(): void {
    table = new Int32Array(table.length * 4).fill(-1);
    for (let code = 0; code < hashes.length; code++) {
      let slot = hashes[code] & (table.length - 1);
      while (table[slot] >= 0) slot = (slot + 1) & (table.length - 1);
      table[slot] = code;
    }
  }

  return {
    code(start, end, doubled = false) {
      // FNV-1a, with a last mix because the table uses the low bits only.
      let hash = doubled ? 1 : 0x811c9dc5;
      for (let i = start; i < end; i++) hash = Math.imul(hash ^ bytes[i], 0x01000193);
      hash ^= hash >>> 15;
      let slot = hash & (table.length - 1);
      for (let code = table[slot]; code >= 0; code = table[slot]) {
        if (
          hashes[code] === hash &&
          marks[code] === doubled &&
          same(bytes, starts[code], ends[code], start, end)
        ) {
          return code;
        }
        slot = (slot + 1) & (table.length - 1);
      }
      const code = hashes.length;
      table[slot] = code;
      starts.push(start);
      ends.push(end);
      marks.push(doubled);
      hashes.push(hash);
      if (hashes.length * 2 > table.length) grow();
      return code;
    },
    levels(decode) {
      return starts.map((start, code) => {
        const end = ends[code];
        const text = isAscii(bytes, start, end)
          ? asciiText(bytes, start, end)
          : decode(bytes.subarray(start, end));
        return marks[code] ? text.replaceAll('""', '"') : text;
      });
    },
  };
}

function same(bytes: Uint8Array, a: number, aEnd: number, b: number, bEnd: number): boolean {
  if (aEnd - a !== bEnd - b) return false;
  for (let i = a, j = b; i < aEnd; i++, j++) if (bytes[i] !== bytes[j]) return false;
  return true;
}

export function isAscii(bytes: Uint8Array, start = 0, end = bytes.length): boolean {
  for (let i = start; i < end; i++) if (bytes[i] > 127) return false;
  return true;
}

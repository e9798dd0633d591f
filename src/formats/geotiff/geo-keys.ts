import { type Directory, numbersOf, type TifFile, textOf } from './directory.ts';

/** The numbers and texts of the geographic keys, by key (GeoTIFF 1.1, OGC 19-008r4, 7.1.1). */
export interface GeoKeys {
  number(key: number): number | null;
  /** All numbers of a key, where it has several. */
  numbers(key: number): readonly number[];
  text(key: number): string;
}

/** Keys of tag 34735, with their numbers in 34736 and their texts in 34737. Keys that point outside those are left out. */
export function geoKeysOf(tif: TifFile, directory: Directory): GeoKeys {
  const table = numbersOf(tif, directory, 34735) ?? new Float64Array(0);
  const doubles = numbersOf(tif, directory, 34736) ?? new Float64Array(0);
  const ascii = textOf(tif, directory, 34737) ?? '';
  const numbers = new Map<number, readonly number[]>();
  const texts = new Map<number, string>();
  const keys = Math.min(table[3] ?? 0, (table.length - 4) / 4);
  for (let k = 0; k < keys; k++) {
    const [key, tag, count, value] = table.subarray(4 + 4 * k, 8 + 4 * k);
    if (tag === 0) numbers.set(key, [value]);
    else if (tag === 34736 && value < doubles.length) {
      numbers.set(key, [...doubles.subarray(value, value + Math.max(1, count))]);
    } else if (tag === 34737) texts.set(key, ascii.slice(value, value + count).replace(/[|\s]+$/, ''));
  }
  return {
    number: (key) => numbers.get(key)?.[0] ?? null,
    numbers: (key) => numbers.get(key) ?? [],
    text: (key) => texts.get(key) ?? '',
  };
}

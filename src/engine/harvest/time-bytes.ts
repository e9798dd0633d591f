import type { TextPlaces } from '../layers/source.ts';
import { daysFromCivil } from './civil-days.ts';

const DAY_S = 86_400;
const [DASH, COLON, BLANK, T, Z] = [45, 58, 32, 84, 90];
/** 2026-10-03T13:00:00 */
const LENGTH = 19;

/**
 * Seconds since 1970 of moments written in full, `2026-10-03T13:00:00` (or with a blank for the T, or a Z behind), read from the bytes of the file: a log of a million seconds has
 * as many texts. The same figures as by `momentOf`; null where a text is written in another way. NaN where a record has none.
 */
export function isoSeconds({ bytes, starts, ends }: TextPlaces): Float64Array | null {
  const seconds = new Float64Array(starts.length).fill(NaN);
  let [date, day_s] = [-1, NaN];
  for (let r = 0; r < starts.length; r++) {
    const [at, end] = [starts[r], ends[r]];
    if (end === -1) continue;
    const zone = end - at - LENGTH;
    if (zone !== 0 && !(zone === 1 && bytes[at + LENGTH] === Z)) return null;
    const apart = bytes[at + 10];
    if (bytes[at + 4] !== DASH || bytes[at + 7] !== DASH || (apart !== T && apart !== BLANK)) return null;
    if (bytes[at + 13] !== COLON || bytes[at + 16] !== COLON) return null;
    const year = 100 * twoDigits(bytes, at) + twoDigits(bytes, at + 2);
    const own = 10_000 * year + 100 * twoDigits(bytes, at + 5) + twoDigits(bytes, at + 8);
    const hours = twoDigits(bytes, at + 11);
    const minutes = twoDigits(bytes, at + 14);
    const second = twoDigits(bytes, at + 17);
    if (own !== date) {
      date = own;
      day_s = daysFromCivil(Math.floor(own / 10_000), Math.floor(own / 100) % 100, own % 100) * DAY_S;
    }
    seconds[r] = day_s + (hours * 3600 + minutes * 60 + second);
    if (!(hours <= 24 && minutes <= 59 && second < 61) || Number.isNaN(seconds[r])) return null;
  }
  return seconds;
}

/** NaN where one of them is no digit. */
function twoDigits(bytes: Uint8Array, at: number): number {
  const tens = bytes[at] - 48;
  const ones = bytes[at + 1] - 48;
  return tens >= 0 && tens <= 9 && ones >= 0 && ones <= 9 ? 10 * tens + ones : NaN;
}

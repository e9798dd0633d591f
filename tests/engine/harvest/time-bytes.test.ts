import { describe, expect, it } from 'vitest';
import { isoSeconds } from '../../../src/engine/harvest/time-bytes.ts';

/** Texts one after another in bytes; null for a record without one. */
function placesOf(texts: readonly (string | null)[]) {
  const bytes = new TextEncoder().encode(texts.map((text) => text ?? '').join(','));
  const starts = new Int32Array(texts.length);
  const ends = new Int32Array(texts.length);
  let at = 0;
  for (const [r, text] of texts.entries()) {
    starts[r] = at;
    ends[r] = text === null ? -1 : at + text.length;
    at += (text ?? '').length + 1;
  }
  return { bytes, starts, ends };
}

const secondsOf = (...texts: (string | null)[]) => {
  const seconds = isoSeconds(placesOf(texts));
  return seconds && [...seconds];
};

describe('moments read from bytes', () => {
  it('are the seconds since 1970 that ECMAScript counts for them in UTC', () => {
    const texts = [
      '2026-10-03T13:00:00',
      '2026-10-03T23:59:59',
      '2026-10-04T00:00:00',
      '2024-02-29T12:30:15',
    ];
    expect(secondsOf(...texts)).toEqual(texts.map((text) => Date.parse(`${text}Z`) / 1000));
  });

  it('may have a blank for the T and a Z behind, and may lack', () => {
    const noon = Date.UTC(2026, 9, 3, 12) / 1000;
    expect(secondsOf('2026-10-03 12:00:00', null, '2026-10-03T12:00:00Z')).toEqual([noon, NaN, noon]);
  });

  it('are left to the reader of texts where one is written in another way or is none', () => {
    for (const other of [
      ...['2026-10-03T13:00', '2026-10-03T13:00:00.5', '10/03/2026 13:00:00', '2026-10-03T13:00:00+01'],
      ...['2026-02-30T13:00:00', '2026-10-03T25:00:00', '2026-10-03T13:60:00', '2026-1x-03T13:00:00', ''],
    ])
      expect(secondsOf('2026-10-03T13:00:00', other), other).toBeNull();
    const doubled = placesOf(['2026-10-03T13:00:00']);
    doubled.ends[0] -= 2 ** 31;
    expect(isoSeconds(doubled)).toBeNull();
  });
});

import { describe, expect, it } from 'vitest';
import { random } from '../../src/engine/math/random.ts';
import { firstZero, isAscii, isNonzeroAscii } from '../../src/formats/text/scan.ts';

describe('looking through bytes four at a time', () => {
  it('finds a zero and a byte over 127 wherever it is, as one byte at a time would', () => {
    const buffer = new Uint8Array(200).fill(65).buffer;
    for (let offset = 0; offset < 4; offset++) {
      for (const length of [0, 1, 3, 63, 64, 65, 66, 67, 150]) {
        const bytes = new Uint8Array(buffer, offset, length);
        expect([isAscii(bytes), firstZero(bytes)]).toEqual([true, -1]);
        for (let at = 0; at < length; at++) {
          bytes[at] = 0;
          expect(firstZero(bytes)).toBe(at);
          bytes[at] = 0x80;
          expect([isAscii(bytes), firstZero(bytes), isAscii(bytes, at + 1), isAscii(bytes, 0, at)]).toEqual([
            false,
            -1,
            true,
            true,
          ]);
          bytes[at] = 65;
        }
      }
    }
  });
  it('is not fooled by bytes of every value', () => {
    const dice = random(3);
    for (let run = 0; run < 500; run++) {
      const bytes = Uint8Array.from({ length: 64 + dice.integer(40) }, () => 1 + dice.integer(255));
      if (run % 2) bytes[dice.integer(bytes.length)] = 0;
      expect(firstZero(bytes)).toBe(bytes.indexOf(0));
      expect(isAscii(bytes)).toBe(bytes.every((byte) => byte < 128));
    }
  });
  it('tells ASCII without a zero as one byte at a time would', () => {
    const dice = random(4);
    const odd = [0, 1, 127, 128, 129, 255];
    for (let run = 0; run < 2000; run++) {
      const bytes = Uint8Array.from({ length: dice.integer(200) }, () => 1 + dice.integer(127));
      if (run % 4 && bytes.length > 0) bytes[dice.integer(bytes.length)] = odd[dice.integer(odd.length)];
      const text = bytes.subarray(Math.min(bytes.length, dice.integer(5)));
      expect(isNonzeroAscii(text)).toBe(text.every((byte) => byte > 0 && byte < 128));
    }
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { numberFromBytes } from '../../src/formats/text/number-bytes.ts';

const parse = (text: string, point?: number) => {
  const bytes = new TextEncoder().encode(text);
  return numberFromBytes(bytes, 0, bytes.length, point);
};

describe('numberFromBytes', () => {
  it.each([
    ['0', 0],
    ['-93.5', -93.5],
    ['+4.', 4],
    ['.25', 0.25],
    ['32000.500000000000000', 32000.5],
    ['0.1', 0.1],
    ['1e5', 1e5],
    ['-2.5E-3', -2.5e-3],
    ['00012', 12],
    ['123456789012345678', 123456789012345680],
    ['0.00000000000000000000000012', 1.2e-25],
  ])('reads %s', (text, value) => expect(parse(text)).toBe(value));

  it.each([
    '',
    '-',
    '.',
    '1,5',
    '1 2',
    '1e',
    '1e+',
    'e5',
    '0x1F',
    'NaN',
    'Infinity',
    '1e999',
    '1.2.3',
    '--1',
  ])('does not take %j for a number', (text) => expect(parse(text)).toBeNaN());

  it('reads a decimal comma when told so', () => {
    expect(parse('-93,5', 44)).toBe(-93.5);
    expect(parse('12345678,1234567890123', 44)).toBe(Number('12345678.1234567890123'));
    expect(parse('1.5', 44)).toBeNaN();
  });

  // Oracle: the platform's own Number(), correctly rounded by ECMA-262, to the last bit.
  it('agrees with Number() to the last bit on any plain decimal', () => {
    const digits = fc.stringMatching(/^\d{1,20}$/);
    fc.assert(
      fc.property(fc.constantFrom('', '-', '+'), digits, fc.option(digits), (sign, whole, fraction) => {
        const text = `${sign}${whole}${fraction === null ? '' : `.${fraction}`}`;
        expect(parse(text)).toBe(Number(text) === 0 ? 0 : Number(text));
      }),
      { seed: 1, numRuns: 20000 },
    );
  });

  it('agrees with Number() on every double printed shortest', () => {
    fc.assert(
      fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (value) => {
        expect(parse(String(value))).toBe(value === 0 ? 0 : value);
      }),
      { seed: 2, numRuns: 5000 },
    );
  });
});

import { describe, expect, it } from 'vitest';
import { noFigure, parseFigure } from '../../src/app/parts/parse-figure.ts';

describe('a figure as it is typed', () => {
  it.each([
    ['240', 240],
    [' 240.5 ', 240.5],
    ['$240', 240],
    ['$ 240.50', 240.5],
    ['32,000', 32_000],
    ['1,234,567.8', 1_234_567.8],
    ['-5', -5],
    ['−5', -5],
    ['.5', 0.5],
    ['0', 0],
  ])('%s is %d', (text, value) => {
    expect(parseFigure(text)).toBe(value);
  });

  it.each(['', ' ', 'abc', '240,50', '1,2', '12,34,567', '3,2000', '1e5', '240 USD', '.', '-', '$', '1.2.3'])(
    '%s is none',
    (text) => {
      expect(parseFigure(text)).toBeNaN();
    },
  );

  it('that has a comma for a point is told how to be written', () => {
    expect(noFigure('Price', '240,50')).toBe('Price: write a point where the decimals begin, as 240.50.');
    expect(noFigure('Price', 'abc')).toBe('Price is a number.');
  });
});

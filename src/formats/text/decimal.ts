/** No number of ours is longer; it also bounds the work of looking at one. */
const LONGEST = 60;

/** The number written as `text`, plain or with an exponent; NaN for anything else (blank, `nan`, `1,5`, 0x10, infinite). */
export function decimalIn(text: string): number {
  if (text.length > LONGEST || !/^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(text)) return Number.NaN;
  const value = Number(text);
  return Number.isFinite(value) ? value : Number.NaN;
}

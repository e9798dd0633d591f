/** 1 to 1e22, the powers of ten a double holds exactly. */
export const POWERS = Float64Array.from({ length: 23 }, (_, n) => Number(`1e${n}`));
const MINUS = 45;
const PLUS = 43;

/** The bytes as ASCII text (bytes over 127 as Latin-1: only used where there are none). */
export function asciiText(bytes: Uint8Array, start: number, end: number): string {
  let text = '';
  for (let i = start; i < end; i++) text += String.fromCharCode(bytes[i]);
  return text;
}

/**
 * The number written in bytes[start, end), NaN unless the whole range is a plain decimal number
 * (sign, digits, one point, optional exponent; no spaces, no thousands marks, never Infinity).
 *
 * Correctly rounded: up to 15 significant digits over a power of ten up to 1e22 is one exact division
 * (W. D. Clinger, "How to read floating point numbers accurately", 1990); anything longer goes to Number().
 */
export function numberFromBytes(bytes: Uint8Array, start: number, end: number, point = 46): number {
  const negative = bytes[start] === MINUS;
  const first = negative ? start + 1 : start;
  let at = first;
  let mantissa = 0;
  for (; at < end; at++) {
    const digit = bytes[at] - 48;
    if (digit < 0 || digit > 9) break;
    mantissa = mantissa * 10 + digit;
  }
  let digits = at - first;
  let decimals = 0;
  if (at < end && bytes[at] === point) {
    decimals = ++at;
    for (; at < end; at++) {
      const digit = bytes[at] - 48;
      if (digit < 0 || digit > 9) break;
      mantissa = mantissa * 10 + digit;
    }
    decimals = at - decimals;
    digits += decimals;
  }
  if (at < end || digits === 0 || digits > 15) return oddNumber(bytes, start, end, point);
  const value = mantissa / POWERS[decimals];
  return negative && value !== 0 ? -value : value;
}

/** A number with a plus, an exponent or more than 15 digits, of which fewer may be significant; NaN for what is none. */
function oddNumber(bytes: Uint8Array, start: number, end: number, point: number): number {
  let at = start;
  const negative = bytes[at] === MINUS;
  if (negative || bytes[at] === PLUS) at++;
  let mantissa = 0;
  let digits = 0;
  const whole = at;
  for (; at < end; at++) {
    const digit = bytes[at] - 48;
    if (digit < 0 || digit > 9) break;
    mantissa = mantissa * 10 + digit;
    if (mantissa !== 0) digits++;
  }
  let written = at - whole;
  let fraction = 0;
  if (at < end && bytes[at] === point) {
    const first = ++at;
    let zeros = 0;
    for (; at < end; at++) {
      const digit = bytes[at] - 48;
      if (digit < 0 || digit > 9) break;
      if (digit === 0) {
        zeros++;
        continue;
      }
      const step = zeros + 1;
      digits = mantissa === 0 ? 1 : digits + step;
      mantissa = digits > 15 ? 1 : mantissa * POWERS[step] + digit;
      fraction += step;
      zeros = 0;
    }
    written += at - first;
  }
  if (written === 0) return Number.NaN;
  if (at < end) return isExponent(bytes, at, end) ? slowNumber(bytes, start, end, point) : Number.NaN;
  if (digits > 15 || fraction > 22) return slowNumber(bytes, start, end, point);
  const value = mantissa / POWERS[fraction];
  return negative && value !== 0 ? -value : value;
}

function isExponent(bytes: Uint8Array, start: number, end: number): boolean {
  if (bytes[start] !== 69 && bytes[start] !== 101) return false;
  let at = start + 1;
  if (bytes[at] === MINUS || bytes[at] === PLUS) at++;
  const first = at;
  while (at < end && bytes[at] >= 48 && bytes[at] <= 57) at++;
  return at === end && at > first;
}

function slowNumber(bytes: Uint8Array, start: number, end: number, point: number): number {
  const text = asciiText(bytes, start, end);
  const value = Number(point === 46 ? text : text.replace(String.fromCharCode(point), '.'));
  return Number.isFinite(value) ? value : Number.NaN;
}

import type { Issue } from '../../engine/issue.ts';

/** Numbers that programs write for "no data" without saying so; common practice, no source. */
const USUAL = [-9999, -99999, -999, -32768, -32767, -2147483648];
/** Beyond this no measurement goes: what single-precision programs write as their lowest or highest number. */
const BEYOND = 1e38;
/** Of the band's own span: an undeclared number this far below all others is no measurement. */
const FAR = 3;
const ONE_VALUE_SHARE = 0.99;

/** Blanks the stored number that the file declares as no data (compared before scale and offset), and whatever is not finite. */
export function blankDeclared(values: Float64Array, noData: number | null, bits: number, kind: string): void {
  // The text of the tag is a decimal of the number stored, which may have half as many digits.
  const single = noData === null || kind !== 'float' || bits !== 32 ? noData : Math.fround(noData);
  for (let i = 0; i < values.length; i++) {
    const value = values[i];
    if (value === noData || value === single || !Number.isFinite(value)) values[i] = NaN;
  }
}

/**
 * Blanks numbers that stand for no data without being declared: beyond ±1e38, or one of the usual ones where it is the least of the band and lies three spans of the rest below it,
 * or where there is nothing else. Answers in words what was blanked.
 */
export function blankAssumed(values: Float64Array): string[] {
  const blanked: string[] = [];
  let beyond = 0;
  let [least, second, most] = [Infinity, Infinity, -Infinity];
  for (let i = 0; i < values.length; i++) {
    if (Math.abs(values[i]) >= BEYOND) {
      values[i] = NaN;
      beyond++;
    }
    const value = values[i];
    if (value < least) [least, second] = [value, least];
    else if (value > least && value < second) second = value;
    if (value > most) most = value;
  }
  if (beyond > 0) blanked.push(`${beyond} pixels beyond ±1e38`);
  const alone = second === Infinity;
  if (USUAL.includes(least) && (alone || second - least > FAR * (most - second))) {
    let count = 0;
    for (let i = 0; i < values.length; i++) {
      if (values[i] !== least) continue;
      values[i] = NaN;
      count++;
    }
    blanked.push(`${count} pixels of ${least}`);
  }
  return blanked;
}

export function assumedIssue(where: string, band: string, blanked: readonly string[]): Issue {
  return {
    code: 'tif-nodata-assumed',
    severity: 'warning',
    where,
    found: `${blanked.join(', ')} in ${band}`,
    expected: 'the number for no data declared in the file',
    effect: 'These pixels are taken as not known',
    remedy: 'Nothing to do if they are; else declare another number for no data in the file',
  };
}

/** A warning when nearly all known pixels hold one number: it may stand for no data, or the layer says nothing. */
export function oneValueIssue(where: string, band: string, values: Float64Array): Issue | null {
  // Boyer and Moore's majority vote finds the only number that can fill more than half.
  let candidate = NaN;
  let votes = 0;
  let known = 0;
  for (const value of values) {
    if (Number.isNaN(value)) continue;
    known++;
    if (votes === 0) candidate = value;
    votes += value === candidate ? 1 : -1;
  }
  let count = 0;
  for (const value of values) if (value === candidate) count++;
  if (known < 2 || count <= ONE_VALUE_SHARE * known) return null;
  return {
    code: 'tif-one-value',
    severity: 'warning',
    where,
    found: `${count} of ${known} known pixels are ${candidate} in ${band}`,
    expected: 'values that differ',
    effect: 'They are used as they are',
    remedy: `Declare ${candidate} as the number for no data if it is that`,
  };
}

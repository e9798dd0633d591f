import { median } from '../../math/median.ts';

/** Median of a over b where both are above zero, and how far the middle half spreads about it, as a share. NaN where fewer than 3 rows have both. */
export function ratioOf(a: ArrayLike<number>, b: ArrayLike<number>): { median: number; spread: number } {
  const ratios: number[] = [];
  for (let k = 0; k < a.length; k++) {
    const ratio = a[k] / b[k];
    if (a[k] > 0 && b[k] > 0 && Number.isFinite(ratio)) ratios.push(ratio);
  }
  if (ratios.length < 3) return { median: NaN, spread: NaN };
  const middle = median(ratios);
  return { median: middle, spread: median(ratios.map((ratio) => Math.abs(ratio / middle - 1))) };
}

/** Whether a number is another within a share of it. */
export function near(value: number, wanted: number, share: number): boolean {
  return Math.abs(value / wanted - 1) <= share;
}

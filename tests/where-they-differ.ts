/**
 * Share of a figure by which two fits of the same plots may differ: where a search comes to rest is known to about 1e-7, and covariances
 * near zero, sums of much larger ones, were seen to move by 1e-5 when the search was written otherwise.
 */
export const LAST_DIGITS = 1e-4;

/** Paths at which two documents differ: numbers by more than `share` of the second, all else at all. */
export function whereTheyDiffer(one: unknown, other: unknown, share: number, where = ''): string[] {
  if (typeof one === 'number' && typeof other === 'number')
    return Math.abs(one - other) <= share * Math.abs(other) ? [] : [where];
  if (typeof one !== 'object' || typeof other !== 'object' || one === null || other === null)
    return one === other ? [] : [where];
  const names = new Set([...Object.keys(one), ...Object.keys(other)]);
  return [...names].flatMap((name) =>
    whereTheyDiffer(one[name as never], other[name as never], share, `${where}/${name}`),
  );
}

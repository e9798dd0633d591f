import { Refusal } from '../issue.ts';

/** Refuses where there are more than `most` sets of 1 to `largest` of `n` products. */
export function refuseTooMany(n: number, largest: number, most: number, which: string): void {
  const sets = setsUpTo(n, largest);
  if (sets <= most) return;
  throw new Refusal({
    code: 'lineup-too-many-sets',
    where: 'rates.hoppers',
    found: `${n} products ${which}, ${largest} to be carried: ${sets.toLocaleString('en-US')} sets`,
    expected: `at most ${most.toLocaleString('en-US')} sets to weigh`,
    effect: 'No products are chosen, so no plan is made',
    remedy: 'Leave products out of the lineup, or allow fewer hoppers',
  });
}

/** Sets of 1 to `largest` of `n` things. */
function setsUpTo(n: number, largest: number): number {
  let sets = 0;
  let ofSize = 1;
  for (let size = 1; size <= largest; size++) {
    ofSize = (ofSize * (n - size + 1)) / size;
    sets += ofSize;
  }
  return sets;
}

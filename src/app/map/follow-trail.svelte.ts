import type { Results } from '../../run/results.ts';
import type { WhyHere } from '../../run/why-here.ts';

/** The trail of the picked cell, asked for again with every pick and every run; an answer that was overtaken is dropped. */
export function followTrail(
  cell: () => number | null,
  results: () => Results | null,
  why: (cell: number) => Promise<WhyHere | null>,
) {
  let trail = $state.raw<WhyHere | null>(null);
  $effect(() => {
    const asked = cell();
    if (asked === null || results() === null) {
      trail = null;
      return;
    }
    let overtaken = false;
    why(asked).then((found) => {
      if (!overtaken) trail = found;
    });
    return () => {
      overtaken = true;
    };
  });
  return {
    get trail() {
      return trail;
    },
  };
}

import type { ZoneChoice } from './assignment.ts';

/** Products of a zone that may turn out the best one there, the best by the figures first; with hundreds, those further down hardly can. */
const MOST_IN_A_ZONE = 40;

/** The products whose doubts matter to a choice: the leading ones of each zone, and those named besides. */
export function contendersOf(
  choices: readonly ZoneChoice[],
  besides: readonly number[],
): ReadonlySet<number> {
  return new Set([
    ...besides,
    ...choices.flatMap(({ chosen, options }) => [
      chosen.product,
      ...options.slice(0, MOST_IN_A_ZONE).map(({ product }) => product),
    ]),
  ]);
}

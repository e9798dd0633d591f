import type { Chances } from './chances.ts';

/**
 * What follows from a gain over the best flat plan: `map` where planting by map pays, `flat` where a flat plan is as good, `loses` where the plan falls short of it,
 * which only something set by hand or a rule can make it do.
 */
export type Verdict = 'map' | 'flat' | 'loses';

/** Under this a gain is no reason to plant by map, $/ac: less than anyone can measure in a field. Our own choice. */
export const GAIN_WORTH_HAVING_PER_AC = 1;
/** A loss is told sooner, $/ac: it is a certain one by the plan's own figures, and something in the plan makes it. */
const LOSS_WORTH_SAYING_PER_AC = 0.05;
/**
 * The plan must be ahead in this share of the worlds. Our own choice, tried on made fields (docs/truth.md): with it and the dollar above, of fields with nothing to gain 96 in 100 were told so, and half to nine in ten of those with $2 or more to
 * gain, by how well their products were tried, that the map pays.
 */
const SURE_ENOUGH = 0.85;

/** `chances` of bringing over `cost_perAc`, what planting by map costs; null where nothing says how sure the gain is. */
export function verdictOf(perAc: number, chances: Pick<Chances, 'ahead'> | null, cost_perAc = 0): Verdict {
  if (perAc < -LOSS_WORTH_SAYING_PER_AC) return 'loses';
  return perAc - cost_perAc < GAIN_WORTH_HAVING_PER_AC || (chances !== null && chances.ahead < SURE_ENOUGH)
    ? 'flat'
    : 'map';
}

import type { Chances } from '../../../engine/rates/chances.ts';
import { type Verdict, verdictOf } from '../../../engine/rates/verdict.ts';
import type { OverUsual } from '../../../run/stages/judge-worth.ts';
import { figure, money, moneyDifference } from '../../parts/figures.ts';

/** A gain too small to be named beside the verdict, $/ac. */
const SMALL_PER_AC = 0.05;

/** Null where nothing of it is taken as not sure: then there is no interval to show. */
export function unsure(chances: Chances | null): Chances | null {
  return chances && chances.low < chances.high ? chances : null;
}

/** `94 %`: never wholly sure and never hopeless, for worlds are drawn, and not all there are. */
export function chance(ahead: number): string {
  const share = Math.round(100 * ahead);
  if (share >= 100) return 'over 99 %';
  return share <= 0 ? 'under 1 %' : `${figure(share)} %`;
}

/** `nine times in ten between −$0.41 and $16.13`. */
export function nineInTen({ low, high }: Chances, currency: string): string {
  return `nine times in ten between ${money(low, currency)} and ${money(high, currency)}`;
}

/** What follows from the gain over the best flat plan, and why, in a sentence each. Planting by map may have its own cost, which it must bring first. */
export function verdictWords(
  perAc: number,
  gain: Chances | null,
  currency: string,
  mapCost_perAc = 0,
): { verdict: Verdict; headline: string; because: string } {
  const verdict = verdictOf(perAc, gain, mapCost_perAc);
  const cost = mapCost_perAc > 0 ? ` its cost of ${money(mapCost_perAc, currency)}/ac` : '';
  const spread = unsure(gain);
  const pays = spread ? `, ${chance(spread.ahead)} likely to pay${cost}` : '';
  const amount = `An estimated ${money(Math.abs(perAc), currency)}/ac`;
  if (verdict === 'map')
    return {
      verdict,
      headline: 'Planting by map pays.',
      because: `${amount} over the best flat plan${pays}.`,
    };
  if (verdict === 'loses')
    return {
      verdict,
      headline: 'The plan earns less than a flat one.',
      because: `${amount} less than the best flat plan: what is set by hand, or a rule or limit, costs that.`,
    };
  return {
    verdict,
    headline: 'A flat plan is as good.',
    because:
      perAc >= SMALL_PER_AC
        ? `${amount} over it${pays}: too little to go by.`
        : 'It earns within cents of the map.',
  };
}

/** What the plan earns over what is usually planted, in a sentence. */
export function overUsualWords(
  { seedsPerAc, perAc, perField, chances }: OverUsual,
  name: string,
  currency: string,
): string {
  const gain = `An estimated ${money(Math.abs(perAc), currency)}/ac ${perAc < 0 ? 'less than' : 'over'} the usual ${name} at ${figure(seedsPerAc)} seeds/ac, ${moneyDifference(perField, currency, 0)} on the field`;
  const spread = unsure(chances);
  return spread
    ? `${gain}; ${nineInTen(spread, currency)}, ${chance(spread.ahead)} likely to pay.`
    : `${gain}.`;
}

/** Whether of a gain so small nothing more is to be told. */
export function isSmall(perAc: number): boolean {
  return Math.abs(perAc) < SMALL_PER_AC;
}

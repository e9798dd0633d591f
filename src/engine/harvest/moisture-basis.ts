import { bushelAndBase } from './yield-unit.ts';

/** What a yield counts: grain brought to the moisture it is sold at, grain with the water it was cut with, or nobody says. */
export type MoistureBasis = 'dry' | 'wet' | 'unknown';

/** The basis in words: `dry at 15.5 %`, `wet as harvested`, `not told`. */
export function basisText(basis: MoistureBasis, crop: string): string {
  if (basis === 'wet') return 'wet as harvested';
  if (basis === 'unknown') return 'not told';
  const base = bushelAndBase(crop)?.baseMoisture_pct;
  return base === undefined ? 'dry' : `dry at ${base} %`;
}

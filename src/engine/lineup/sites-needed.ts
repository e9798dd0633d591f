import { tOfLevel } from './estimate.ts';

/** Differences under this are none, bu/ac: half of the last figure told. */
export const NO_DIFFERENCE_BU_PER_AC = 0.05;
/** Beyond this many nobody will ever have them. Our own choice. */
const MOST_SITES = 1000;

/**
 * How many more sites it takes for the interval of a mean difference to leave zero, if difference and spread stay as they are: the least n ≥ (t·sd/|d|)²,
 * t being that of n − 1 degrees of freedom; 0 where it has left zero already. Even then the chance is only about even: the next sites bring a difference of their own.
 */
export function moreSitesNeeded(
  sites: number,
  difference_buPerAc: number,
  sd_buPerAc: number,
  level: number,
): number | 'more than 1,000' | 'cannot be told' {
  const d = Math.abs(difference_buPerAc);
  if (sites < 2 || !(d >= NO_DIFFERENCE_BU_PER_AC) || Number.isNaN(sd_buPerAc)) return 'cannot be told';
  // t falls with n, so once enough is always enough.
  const enough = (n: number) => n >= ((tOfLevel(level, n - 1) * sd_buPerAc) / d) ** 2;
  if (enough(sites)) return 0;
  let few = sites;
  let many = sites + MOST_SITES;
  if (!enough(many)) return 'more than 1,000';
  while (many - few > 1) {
    const middle = (few + many) >> 1;
    if (enough(middle)) many = middle;
    else few = middle;
  }
  return many - sites;
}

import { range, yieldedAgainst } from './head-to-head-words.ts';
import type { Standing, StandingGroup, Standings } from './standings.ts';

/** Where one product stands among all of its crop, in a sentence; null where it met no other. It claims no more than its interval. */
export function standingSentence(product: number, found: Standings, names: readonly string[]): string | null {
  for (const group of found.groups) {
    const own = group.standings.find((standing) => standing.product === product);
    if (own) return own.met > 0 ? sentence(own, group, found, names) : null;
  }
  return null;
}

function sentence(
  { product, sites, lead }: Standing,
  { averaged }: StandingGroup,
  { level }: Standings,
  names: readonly string[],
): string {
  const average =
    averaged === 1 ? 'the one product the average is of' : `the average of ${averaged} products`;
  const yielded = `As if all had been at every site, ${yieldedAgainst(names[product], lead.value, average)}`;
  const known = Number.isFinite(lead.low);
  if (sites === 1)
    return `${yielded}, by one site alone, which tells little of the next${known ? `: ${range(lead)}` : ''}.`;
  if (!known) return `${yielded}; how sure that is cannot be told.`;
  return lead.low > 0 || lead.high < 0
    ? `${yielded}, ${range(lead)} (${Number((100 * level).toFixed(1))} % sure).`
    : `${yielded}, but is not told from it: ${range(lead)} fits.`;
}

/** What the standings are, for under a table of them. */
export function standingsSentences({ groups, betweenSites_buPerAc, df }: Standings): string[] {
  const one = groups.flatMap(({ standings }) => standings).some(({ sites, met }) => sites === 1 && met > 0);
  const several = groups.flatMap(({ standings }) => standings).some(({ sites }) => sites > 1);
  return [
    `Over the average product, as if all had been at every site and at one stand: strong rivals and poor sites count against nobody.`,
    df > 0
      ? `Intervals go by how products differ from site to site (some ${betweenSites_buPerAc.toFixed(1)} bu/ac beside what plots do), plots of one site being no repetition of it.`
      : 'Too few sites share products to say how sure that is.',
    ...(one && several
      ? ['Products of one site stand last: they are in no average, and one site tells little of the next.']
      : []),
    ...(groups.length > 1
      ? [
          `The sites fall into ${groups.length} groups that share no product: each is held against its own average, and nothing compares one group with another.`,
        ]
      : []),
  ];
}

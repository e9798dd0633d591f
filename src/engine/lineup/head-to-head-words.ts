import type { Estimate } from './estimate.ts';
import type { Comparison, HeadToHead } from './head-to-head.ts';
import { NO_DIFFERENCE_BU_PER_AC } from './sites-needed.ts';

/** What the two sides are called: `Plover 108` and `Kestrel 112`, or `the mean of the other 12`. */
export interface Sides {
  readonly one: string;
  readonly other: string;
}

/** The sides of a head to head by the names of the products of the table. Of several others only those count that stood where the one did. */
export function sidesOf({ one, others, othersMet }: HeadToHead, names: readonly string[]): Sides {
  const many =
    othersMet > 0 && othersMet < others.length
      ? `the ${othersMet === 1 ? 'one other' : `${othersMet} others`} it met`
      : `the other ${others.length}`;
  return {
    one: names[one],
    other: others.length === 1 ? names[others[0]] : othersMet === 1 ? many : `the mean of ${many}`,
  };
}

/** A head to head in sentences, the answer first. None claims more than its interval. */
export function headToHeadSentences(found: HeadToHead, sides: Sides): string[] {
  return [
    answer(found, sides),
    ...rivals(found),
    ...(found.sites > 0 ? [coverage(found)] : []),
    ...oneYear(found),
    ...halves(found),
    ...leftOut(found, sides),
  ];
}

function answer(found: HeadToHead, { one, other }: Sides): string {
  const { difference, sites, level } = found;
  if (sites === 0) return `${one} and ${other} never stood at one site and stand: nothing can be compared.`;
  const yielded = yieldedAgainst(one, difference.value, other);
  if (sites === 1) return `${yielded} at the one site both were at, which tells nothing of the next.`;
  const { low, high } = difference;
  if (low > 0 || high < 0)
    return `${yielded} over ${sites} sites, ${span(low, high)} (${Number((100 * level).toFixed(1))} % sure); ${score(found)}.`;
  return `No telling them apart yet: ${yielded} over ${sites} sites, and anything from ${moreOrLess(low)} to ${moreOrLess(high)} fits; ${score(found)}. ${needed(found)}`;
}

/** `Plover 108 yielded 4.0 bu/ac more than Kestrel 112`. */
export function yieldedAgainst(one: string, value: number, other: string): string {
  return isNone(value)
    ? `${one} yielded as much as ${other}`
    : `${one} yielded ${moreOrLess(value)} than ${other}`;
}

/** `1.1 to 7.3`, or `0.7 to 2.5 less` where both ends lie under zero: the nearer one first. */
function span(low: number, high: number): string {
  return low > 0
    ? `${low.toFixed(1)} to ${high.toFixed(1)} more`
    : `${(-high).toFixed(1)} to ${(-low).toFixed(1)} less`;
}

export function moreOrLess(value: number): string {
  return isNone(value)
    ? 'no difference'
    : `${Math.abs(value).toFixed(1)} bu/ac ${value < 0 ? 'less' : 'more'}`;
}

function isNone(value: number): boolean {
  return Math.abs(value) < NO_DIFFERENCE_BU_PER_AC;
}

function score({ wins, losses, ties, sites }: Comparison): string {
  const tied = ties > 0 ? ` and tied at ${ties}` : '';
  return wins === sites || losses === sites
    ? `it ${wins === sites ? 'won' : 'lost'} at all of them`
    : `it won at ${wins}, lost at ${losses}${tied}`;
}

function needed({ moreSites }: HeadToHead): string {
  if (moreSites === 'cannot be told')
    return 'There is no difference to speak of, so no number of sites can be named that would tell them apart.';
  if (moreSites === 'more than 1,000')
    return 'More than 1,000 more sites like these would be needed, should the difference stay.';
  const rough = moreSites < 10 ? String(moreSites) : `some ${Number(moreSites.toPrecision(2))}`;
  const sites = moreSites === 1 ? 'site like these' : 'sites like these';
  return `${capital(rough)} more ${sites} would be needed, should the difference stay.`;
}

/** Of several others how many it was held against, where that is not all of them at every site. */
function rivals({ others, othersMet, pairs }: HeadToHead): string[] {
  const least = pairs.reduce((few, pair) => Math.min(few, pair.others), Infinity);
  const most = pairs.reduce((many, pair) => Math.max(many, pair.others), 0);
  if (pairs.length === 0 || least === others.length) return [];
  const all = `It met ${othersMet} of the other ${others.length}`;
  const atASite = `${least === most ? '' : `${least} to `}${most} at a site`;
  return [`${least === othersMet ? all : `${all}, ${atASite}`}: the difference is from those alone.`];
}

/** Years and ground covered. */
function coverage({ years, sitesWithoutYear, sites, least_buPerAc, most_buPerAc }: HeadToHead): string {
  const seasons =
    years.length === 0
      ? 'The years of the sites are not told'
      : `${years.length === 1 ? `The year is ${years[0]}` : `The years are ${listed(years)}`}${sitesWithoutYear > 0 ? `, that of ${sitesWithoutYear === 1 ? '1 site' : `${sitesWithoutYear} sites`} not told` : ''}`;
  if (Number.isNaN(least_buPerAc)) return `${seasons}; what the ground yields is not known.`;
  return sites === 1 || least_buPerAc === most_buPerAc
    ? `${seasons}; the ground yields ${most_buPerAc.toFixed(0)} bu/ac.`
    : `${seasons}; the ground yields ${least_buPerAc.toFixed(0)} to ${most_buPerAc.toFixed(0)} bu/ac.`;
}

function oneYear({ years, sitesWithoutYear, sites }: HeadToHead): string[] {
  if (sites < 2 || years.length !== 1 || sitesWithoutYear > 0) return [];
  return [`All sites are of one year and share its weather: another year may turn it about.`];
}

function halves({ halves: found }: HeadToHead): string[] {
  if (!found) return [];
  const half = (name: string, part: Comparison) =>
    `on the ${name} ${part.sites} sites (${part.least_buPerAc.toFixed(0)} to ${part.most_buPerAc.toFixed(0)} bu/ac) ${moreOrLess(part.difference.value)}, ${range(part.difference)}`;
  return [`${capital(half('poorer', found.poorer))}; ${half('better', found.better)}.`];
}

/** An interval: `1.1 to 7.3 more`, or `anything from 1.0 bu/ac less to 7.3 bu/ac more` where it holds zero. */
export function range({ low, high }: Pick<Estimate, 'low' | 'high'>): string {
  return low > 0 || high < 0 ? span(low, high) : `anything from ${moreOrLess(low)} to ${moreOrLess(high)}`;
}

function leftOut(
  { others, standsApart, oneLeftOut, othersLeftOut }: HeadToHead,
  { one, other }: Sides,
): string[] {
  const theirs = others.length > 1 ? 'the others' : other;
  const apart =
    standsApart > 0
      ? [
          `At ${standsApart === 1 ? '1 site' : `${standsApart} sites`} both were, but not at one stand: left out.`,
        ]
      : [];
  if (oneLeftOut + othersLeftOut === 0) return apart;
  return [
    ...apart,
    `Plots without a counterpart, left out: ${oneLeftOut} of ${one}, ${othersLeftOut} of ${theirs}.`,
  ];
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

function listed(years: readonly number[]): string {
  return `${years.slice(0, -1).join(', ')} and ${years[years.length - 1]}`;
}

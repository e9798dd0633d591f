import type { LineupSite } from '../../../plan/lineup-schema.ts';

/** Ground as the trials of a product met it: the poorer, middle and better third of its sites. */
export interface Third {
  readonly name: 'Poorer ground' | 'Middling ground' | 'Better ground' | 'All ground';
  /** Mean environment of its sites, bu/ac. */
  readonly environment_buPerAc: number;
  readonly sites: ReadonlySet<number>;
}

/** Fewer sites than this are not parted. Our own choice. */
const FEWEST = 6;

/** Thirds of the sites given, by their environment; one piece where they are few, or not known: then at `otherwise`. */
export function groundThirds(
  used: readonly number[],
  sites: readonly LineupSite[],
  otherwise_buPerAc: number,
): Third[] {
  const known = used
    .map((site) => ({ site, environment: sites[site].environment_buPerAc }))
    .filter((own): own is { site: number; environment: number } => own.environment !== null)
    .sort((a, b) => a.environment - b.environment || a.site - b.site);
  const meanOf = (part: typeof known) => part.reduce((sum, own) => sum + own.environment, 0) / part.length;
  const third = (name: Third['name'], part: typeof known): Third => ({
    name,
    environment_buPerAc: part.length > 0 ? meanOf(part) : otherwise_buPerAc,
    sites: new Set(part.length > 0 ? part.map(({ site }) => site) : used),
  });
  if (known.length < FEWEST || known[0].environment === known[known.length - 1].environment)
    return [third('All ground', known)];
  const [one, two] = [Math.round(known.length / 3), Math.round((2 * known.length) / 3)];
  return [
    third('Poorer ground', known.slice(0, one)),
    third('Middling ground', known.slice(one, two)),
    third('Better ground', known.slice(two)),
  ];
}

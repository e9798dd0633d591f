import type { TrialRole } from '../trials/trial-role.ts';
import { roleNamed } from '../trials/trial-words.ts';
import { type LineupRole, lineupRole } from './lineup-columns.ts';

/** Only plots have these. */
const OF_PLOTS: readonly (TrialRole | undefined)[] = [
  'site',
  'trial',
  'year',
  'environment',
  'stand',
  'rate',
  'emergence',
  'rep',
  'block',
];
/** Only what is sold has these. */
const OF_PRODUCTS: readonly (LineupRole | null)[] = ['price', 'seeds', 'gdd', 'treatments', 'traits'];

/** Whether a table is one of products, by the names of its columns: what is sold and stands in no plot, or what has no yield. */
export function isProductTable(columns: readonly string[]): boolean {
  const roles = columns.map((name) => roleNamed(name)?.role);
  if (!roles.includes('yield')) return true;
  return (
    columns.some((name) => OF_PRODUCTS.includes(lineupRole(name))) &&
    !roles.some((role) => OF_PLOTS.includes(role))
  );
}

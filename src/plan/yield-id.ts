import type { Plan } from './schema.ts';

/** The name by which results know a yield map: its source, and the harvest where a file holds several. */
export function yieldId({
  source,
  where,
}: Pick<Plan['evidence']['yields'][number], 'source' | 'where'>): string {
  return where ? `${source} · ${where.equals}` : source;
}

import { Refusal } from '../issue.ts';
import type { Source } from './source.ts';

/** The values of a column of numbers, by its exact name. Refuses a column that is missing or holds text. */
export function numberColumn(source: Source, name: string, effect: string): Float64Array {
  const column = source.columns.find((candidate) => candidate.name === name);
  if (column?.kind === 'number') return column.values;
  throw new Refusal({
    code: column ? 'column-not-numbers' : 'column-missing',
    where: source.file,
    found: column ? `column ${name} holds text` : `no column ${name}`,
    expected: `one of ${
      source.columns
        .filter((candidate) => candidate.kind === 'number')
        .map((candidate) => candidate.name)
        .join(', ') || 'no column of numbers at all'
    }`,
    effect,
    remedy: 'Name a column of numbers',
  });
}

import { columnWords } from '../../engine/harvest/recognise/column-words.ts';

/** A column name as words between underscores (`columnWords`), Nordic letters written out: `Udsædsmængde` is `_udsaedsmaengde_`. */
export function headerText(name: string): string {
  return columnWords(
    name
      .replace(/[æÆ]/g, 'ae')
      .replace(/[øØ]/g, 'o')
      .replace(/œ/g, 'oe')
      // Names in capitals with a small word among them.
      .replace(/\bPER\b/g, 'per'),
  );
}

/** What stands in brackets at the end of a name, as a unit does: `Yield (lb/hill)`; null without. */
export function bracketed(name: string): string | null {
  const match = /[([]([^()[\]]{1,40})[)\]]\s*$/.exec(name.slice(0, 200));
  return match ? match[1].trim() : null;
}

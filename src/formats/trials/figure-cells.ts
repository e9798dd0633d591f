import type { Column, NumberColumn } from '../../engine/layers/source.ts';
import { figureOf } from '../text/figure-text.ts';
import type { TrialRole } from './trial-role.ts';

/** A column of figures as people mean them, and the records of its cells that are more, or less, than a plain number. */
export interface FigureCells {
  readonly column: NumberColumn;
  /** Figures not written as plain numbers: `80 000`, `32k`. */
  readonly written: readonly number[];
  /** Figures with a star or letters of significance after them: `212.4 ab`. */
  readonly marked: readonly number[];
  /** Words in place of a figure. */
  readonly words: readonly number[];
}

/** Counts of plants and seeds, in which a lone mark and three digits part thousands. */
const COUNTS: readonly (TrialRole | undefined)[] = ['stand', 'rate'];
const SHARES: readonly (TrialRole | undefined)[] = ['moisture', 'emergence'];

const MARKED = /^(.*\d)\s*(\*{1,3}|[†‡]|[a-z]{1,6}|[a-z]-[a-z])$/i;
/** Some letter after a figure that is not the k of thousands. */
const LETTERED = /\d\s*[a-jl-z]{1,6}$/i;

/** Cells of a column as figures; null where fewer than half of those that say something are some, of environments fewer than 95 in 100. */
export function figureCells(
  column: Column,
  texts: readonly string[],
  role: TrialRole | undefined,
): FigureCells | null {
  const values = Float64Array.from(texts, () => Number.NaN);
  const [written, marked, words]: number[][] = [[], [], []];
  const lettered = !COUNTS.includes(role) && texts.some((text) => LETTERED.test(text));
  let figures = 0;
  for (const [record, text] of texts.entries()) {
    const plain = column.kind === 'number' ? column.values[record] : Number.NaN;
    const shown = SHARES.includes(role) ? text.replace(/\s*%$/, '') : text;
    const letters = lettered && Number.isNaN(plain) ? withoutMark(shown, role) : null;
    const own = Number.isNaN(plain) ? (letters ?? figureOf(shown, COUNTS.includes(role))) : plain;
    // Nothing was given.
    if (own === null) continue;
    const value = Number.isNaN(own) ? withoutMark(shown, role) : own;
    if (value === null || !Number.isFinite(value)) {
      words.push(record);
      continue;
    }
    values[record] = value;
    figures++;
    if (Number.isNaN(own) || letters !== null) marked.push(record);
    else if (Number.isNaN(plain) && Number(text) !== value) written.push(record);
  }
  // Environments by name are sites.
  const least = role === 'environment' ? 0.95 : 0.5;
  if (figures === 0 || figures < least * (figures + words.length)) return null;
  const unit = column.kind === 'number' ? column.unit : undefined;
  const { name } = column;
  return { column: { name, kind: 'number', values, ...(unit ? { unit } : {}) }, written, marked, words };
}

/** The figure before a star or letters of significance, which stand in the order of the alphabet; null without them. */
function withoutMark(text: string, role: TrialRole | undefined): number | null {
  const match = MARKED.exec(text);
  if (!match) return null;
  const letters = match[2].toLowerCase().replace('-', '');
  if ([...letters].some((letter, k) => k > 0 && letter <= letters[k - 1] && letter !== '*')) return null;
  const figure = figureOf(match[1], COUNTS.includes(role));
  return figure === null || Number.isNaN(figure) ? null : figure;
}

import type { RatingScale } from '../../engine/lineup/product.ts';

const NUMBER = '[-+]?\\d+(?:\\.\\d+)?';
const RANGE = new RegExp(`(${NUMBER})\\s*(?:-|–|—|to|bis|à|a|tot|til|\\.\\.)\\s*(${NUMBER})`, 'i');
/** `9 best`, `9 = best`, `best 9`, `best is 9`. */
const BEST = new RegExp(
  `(${NUMBER})\\s*(?:=|is|ist)?\\s*(?:the\\s+)?best|best\\s*(?:=|is|:)?\\s*(${NUMBER})`,
  'i',
);
const HIGH = /\b(high(est|er)?|most)\b[^,;]*\bbest\b|\bbest\b[^,;]*\bhigh(est|er)?\b/i;
const LOW = /\b(low(est|er)?|least)\b[^,;]*\bbest\b|\bbest\b[^,;]*\blow(est|er)?\b/i;

/**
 * A scale as written: `1 to 9, 9 best`, `1-5 (1 = best)`, `0 to 10, lowest is best`, with its name before a colon if it has one. Null where ends or direction are not
 * told: whether 9 is good is never guessed.
 */
export function scaleOf(text: string): RatingScale | null {
  const named = /^\s*(.*\S)\s*:\s*(.*)$/.exec(text);
  const said = (named ? named[2] : text).trim();
  const range = RANGE.exec(said);
  if (!range) return null;
  const [lowest, highest] = [Number(range[1]), Number(range[2])];
  if (!(lowest < highest)) return null;
  const rest = said.replace(range[0], ' ');
  const figure = BEST.exec(rest);
  const value = figure ? Number(figure[1] ?? figure[2]) : null;
  const high = value === null ? HIGH.test(rest) : value === highest;
  const low = value === null ? LOW.test(rest) : value === lowest;
  if (high === low) return null;
  const scale = { lowest, highest, best: high ? 'highest' : 'lowest' } as const;
  const id = (named ? named[1] : plain(scale)).slice(0, 40);
  return { id, ...scale };
}

/** The same, so that it is read back. */
export function scaleText(scale: RatingScale): string {
  return scale.id === plain(scale) ? scale.id : `${scale.id}: ${plain(scale)}`;
}

function plain({ lowest, highest, best }: Omit<RatingScale, 'id'>): string {
  return `${lowest} to ${highest}, ${best === 'highest' ? highest : lowest} best`;
}

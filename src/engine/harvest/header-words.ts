import type { Column } from '../layers/source.ts';

const DOWN =
  /^(1|down|lowered|low|on|working|work|in ?work|active|true|yes|y|harvest(ing)?|engaged|recording|cutting|abgesenkt|unten|bajo|abajo|abaixado|bas|baisse)$/;
const UP =
  /^(0|up|raised|high|off|idle|not ?working|out ?of ?work|inactive|false|no|n|transport|turning|disengaged|lifted|ausgehoben|oben|arriba|levantado|haut|leve)$/;

/** A header's state from a text: 1 down, 0 up, NaN neither. */
export function headerState(text: string): number {
  const word = text
    .trim()
    .toLowerCase()
    .replace(/^(header|hdr)[ _-]*/, '')
    .replace(/[_-]/g, ' ');
  return DOWN.test(word) ? 1 : UP.test(word) ? 0 : NaN;
}

/** States by record: 1 down, 0 up, NaN not recorded. `upIsOne` for a column that counts the header up as 1. */
export function headerStates(column: Column, upIsOne: boolean): Float64Array {
  const flip = (state: number) => (upIsOne ? 1 - state : state);
  if (column.kind === 'number')
    return column.values.map((value) => (value === 0 || value === 1 ? flip(value) : NaN));
  // Text says down or up itself, whatever the column is called, unless it says 1 and 0.
  const states = column.levels.map((level) =>
    /^\s*[01]\s*$/.test(level) ? flip(headerState(level)) : headerState(level),
  );
  return Float64Array.from(column.codes, (code) => (code < 0 ? NaN : states[code]));
}

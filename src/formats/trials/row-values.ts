/** A year as written: `2024`, `24`, `Y2024`. `rest`: what it says beyond the year, which keeps two seasons apart. */
export function yearOf(text: string): { year: number | null; rest: string } {
  const plain = text.trim();
  if (/^\d{2}$/.test(plain)) {
    const two = Number(plain);
    return { year: two < 50 ? 2000 + two : 1900 + two, rest: '' };
  }
  const match = /(?<!\d)(19|20|21)\d\d(?!\d)/.exec(plain);
  if (!match) return { year: null, rest: plain };
  const rest = plain.replace(match[0], '').replace(/^[\s_-]+|[\s_-]+$/g, '');
  return { year: Number(match[0]), rest: /^(y|yr|year|\.0+|crop)?$/i.test(rest) ? '' : rest };
}

/** What a cell of a moisture basis says; null where it says neither. */
export function basisOf(text: string): 'wet' | 'dry' | null {
  if (/wet|fresh|harvest|moist|feucht|frisch|humid|h[uú]med|nat|vad|vers/i.test(text)) return 'wet';
  return /dry|trocken|sec|droog|t[oø]r|base|standard/i.test(text) ? 'dry' : null;
}

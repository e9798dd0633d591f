/** What stands for a figure nobody gave. */
const NOTHING =
  /^(-+|–|—|\.+|\*+|n\.?\/?a\.?|n\.?r\.?|n\.?d\.?|not rated|no data|miss(ing)?\.?|lost|nan|null|none|\?|k\.?\s?a\.?|#n\/a)?$/i;
/** Thousands parted by a comma, point, blank or apostrophe. */
const PARTED = /^[-+]?\d{1,3}(?:([.,'’\s])\d{3})(?:\1\d{3})*$/;

/** A figure as people write it: `80,000`, `80k`, `140 000`, `1.285,50`; null where there is none, NaN where it is none. Of whole figures a lone mark and three digits part thousands. */
export function figureOf(text: string, whole: boolean): number | null {
  const said = text.trim().replace(/[\u00a0\u2009\u202f]/g, ' ');
  if (NOTHING.test(said)) return null;
  const thousand = /^(.*\d)\s*k$/i.exec(said);
  if (thousand) return Math.round(plainFigure(thousand[1], false) * 1e6) / 1000;
  return plainFigure(said, whole);
}

function plainFigure(said: string, whole: boolean): number {
  if (PARTED.test(said) && (whole || !/^[-+]?\d{1,3}[.]\d{3}$/.test(said)))
    return Number(said.replace(/[.,'’\s]/g, ''));
  if (/^[-+]?(\d+\.?\d*|\.\d+)(e[-+]?\d+)?$/i.test(said)) return Number(said);
  // The last mark is the decimal one, the others part thousands.
  const both = /^([-+]?\d{1,3}(?:([.,'’\s])\d{3})*|[-+]?\d+)([.,])(\d+)$/.exec(said);
  if (!both || both[2] === both[3]) return Number.NaN;
  return Number(`${both[1].replace(/[.,'’\s]/g, '')}.${both[4]}`);
}

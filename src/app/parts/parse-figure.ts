/**
 * A figure as it is typed: `1,234.5`, `$240`; NaN for what is none. A comma parts thousands; where it can only be meant for a point (`240,50`) the figure is not guessed at.
 */
export function parseFigure(text: string): number {
  const plain = text.trim().replace(/^\$\s*/, '');
  if (!/^[-−+]?(\d{1,3}(,\d{3})+|\d+)?(\.\d*)?$/.test(plain) || !/\d/.test(plain)) return Number.NaN;
  return Number(plain.replaceAll(',', '').replace('−', '-'));
}

/** Why a text is no figure, for the label of its field. */
export function noFigure(label: string, text: string): string {
  return /^\D*\d+,\d+\D*$/.test(text.trim())
    ? `${label}: write a point where the decimals begin, as ${text.trim().replace(/,/, '.').replace(/^\$/, '')}.`
    : `${label} is a number.`;
}

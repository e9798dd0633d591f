import { keptOutText } from '../engine/lineup/placement-words.ts';
import type { Results } from './results.ts';
import type { WhySentence } from './why-rate.ts';

/** Products kept out that are told with their rules. */
const MOST_TOLD = 3;

/** What placement rules say on a cell: of the product planted there, and which products they keep out. Empty where no rule speaks. */
export function placedSentences(
  { zoning, placement, choices, lineup }: Results,
  cell: number,
): WhySentence[] {
  if (!zoning || !placement || !choices) return [];
  const zone = zoning.label[cell];
  const { product } = choices[zone].chosen;
  const own = placement[zone][product];
  const { name } = lineup[product];
  const out = placement[zone].flatMap((check, index) =>
    check.verdict === 'not here' ? [`${lineup[index].name} may not go here ${keptOutText(check)}.`] : [],
  );
  const more = out.length - MOST_TOLD;
  return [
    ...own.because.map((text) => `${name}: ${text[0].toLowerCase()}${text.slice(1)}`),
    ...own.unknown.map((text) => `${name}: ${text[0].toLowerCase()}${text.slice(1)}`),
    ...out.slice(0, MOST_TOLD),
    ...(more > 0 ? [`Placement rules keep ${more} more out of here.`] : []),
  ].map((text) => ({ text, source: 'lineup, placement rules' }));
}

import { dayName } from './day-of-year.ts';
import type { SeasonFigures, SeasonFit } from './season-fit.ts';

/** A season fit in sentences, the verdict with its margin first. */
export function seasonSentences(fit: SeasonFit, name: string): string[] {
  if (fit.verdict === 'cannot be told') return [`Whether ${name} ripens in time cannot be told: ${fit.why}.`];
  const { figures, fromEmergence } = fit;
  return [
    `${name} is ${fit.verdict === 'too long' ? 'too long for the season' : fit.verdict}: ${margin(figures)}.`,
    need(figures),
    ...(fromEmergence ? [`If the rating counts from emergence it is ${fromEmergence}.`] : []),
    ...fit.cautions,
  ];
}

function margin({ margin: spare, blackLayer, freeze }: SeasonFigures): string {
  const days = blackLayer === null ? 0 : freeze - blackLayer;
  return blackLayer === null
    ? `${whole(-spare)} growing degree days short of black layer when it freezes on ${dayName(freeze)}`
    : `black layer about ${dayName(blackLayer)}, ${days === 1 ? '1 day' : `${days} days`} before the freeze on ${dayName(freeze)}, with ${whole(spare)} growing degree days to spare`;
}

function need({ need: wanted, available, planted, freeze }: SeasonFigures): string {
  const parts = [
    `${whole(wanted.rated)} as rated`,
    ...(wanted.toEmergence > 0 ? [`${whole(wanted.toEmergence)} more to emergence`] : []),
    ...(wanted.offForLatePlanting > 0
      ? [
          `${whole(wanted.offForLatePlanting)} less for planting ${wanted.daysLate === 1 ? '1 day' : `${wanted.daysLate} days`} after 1 May`,
        ]
      : []),
  ];
  const how = parts.length > 1 ? ` (${parts.join(', ')})` : '';
  return `It needs ${whole(wanted.gdd)} growing degree days${how}; from ${dayName(planted)} to ${dayName(freeze)} there are ${whole(available)}.`;
}

function whole(value: number): string {
  return value.toLocaleString('en-US', { maximumFractionDigits: 0 });
}

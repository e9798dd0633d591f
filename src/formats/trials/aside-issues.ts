import type { Issue } from '../../engine/issue.ts';
import { type Tally, tallyText } from '../tally.ts';
import type { RowCrops } from './crops-of-rows.ts';
import { mostStand_plantsPerAc, mostYield_buPerAc } from './highest-plot.ts';
import { trialIssue } from './trial-issue.ts';
import type { AsideReason, PlotsRead } from './trial-plots.ts';
import type { TrialSheet } from './trial-sheet.ts';

const ASIDE: Readonly<Record<AsideReason, readonly [found: string, expected: string]>> = {
  'summary-row': ['means, least differences and the like', 'plots alone'],
  'duplicate-row': ['the same cells as in a row above', 'every plot once'],
  'no-product': ['no product', 'a product in every row'],
  'no-site': ['no site', 'a site in every row'],
  'no-crop': ['no crop', 'a crop in every row, or the crop stated'],
  'no-yield': ['no yield', 'a yield in every row'],
  'yield-not-possible': ['a yield under zero or over what the crop gives', 'yields that are possible'],
  'stand-not-possible': [
    'a stand of zero, under zero or over what the crop stands',
    'stands that are possible',
  ],
  'no-moisture': ['a wet yield without its moisture', 'the moisture of every wet yield, 0 to 100 %'],
  'no-bushel': ['a crop whose bushel is not known here', 'its yield in bu/ac'],
};

/** What was set aside, by reason, with the lines. */
export function asideIssues(read: PlotsRead, { file, place, records }: TrialSheet, crops: RowCrops): Issue[] {
  const issues = [...read.aside].map(([reason, tally]) => {
    const [found, expected] = ASIDE[reason];
    const summary = reason === 'summary-row';
    const words = summary ? ` (${firstOf(read.summaryWords, 10)})` : '';
    return trialIssue(
      'warning',
      `trial-${reason}`,
      file,
      `${found}${words}: ${lines(tally, place)}`,
      LIMITS[reason]?.(crops.crops) ?? expected,
      `${tally.count} ${tally.count === 1 ? 'row is' : 'rows are'} set aside`,
      summary ? 'Give a product of such a name another' : 'Correct these rows if they matter',
    );
  });
  const [most] = [...read.aside].filter(
    ([reason, { count }]) => !EXPECTED.includes(reason) && 2 * count > records,
  );
  if (most === undefined || read.table.product.length === 0) return issues;
  return [
    ...issues,
    trialIssue(
      'error',
      'trial-mostly-set-aside',
      file,
      `${most[1].count} of ${records === 1 ? '1 row' : `${records} rows`} set aside for one reason: ${ASIDE[most[0]][0]}`,
      'most rows to be plots',
      'What is left may not be what the trials say',
      'See why these rows were set aside; a column may be taken for what it is not',
    ),
  ];
}

/** Reasons a table may be full of without anything being wrong with how it is read. */
const EXPECTED: readonly AsideReason[] = ['no-yield', 'summary-row', 'duplicate-row'];

/** What is possible, by crop. */
const LIMITS: Readonly<Partial<Record<AsideReason, (crops: readonly string[]) => string>>> = {
  'yield-not-possible': (crops) =>
    `yields of 0 to ${crops.map((crop) => `${mostYield_buPerAc(crop)} bu/ac (${crop})`).join(', ')}`,
  'stand-not-possible': (crops) =>
    `stands of up to ${crops.map((crop) => `${Math.round(mostStand_plantsPerAc(crop))} plants/ac (${crop})`).join(', ')}, and shares of seeds up to 120 %`,
};

function firstOf(words: readonly string[], most: number): string {
  return `${words.slice(0, most).join(', ')}${words.length > most ? ', …' : ''}`;
}

export function lines(tally: Tally, place: string): string {
  return tallyText(tally, tally.count === 1 ? place : `${place}s`);
}

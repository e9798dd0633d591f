import type { Issue, Severity } from '../../engine/issue.ts';
import type { Column } from '../../engine/layers/source.ts';
import { type Tally, tallyText } from '../tally.ts';
import type { AsideReason, PlotsRead } from './trial-plots.ts';
import { NUMBER_ROLES, type TrialQuestion, type TrialReading } from './trial-role.ts';
import type { TrialSheet } from './trial-sheet.ts';
import { roleNamed } from './trial-words.ts';

export function trialIssue(
  severity: Severity,
  code: string,
  where: string,
  found: string,
  expected: string,
  effect: string,
  remedy: string,
): Issue {
  return { code, severity, where, found, expected, effect, remedy };
}

const ASIDE: Readonly<Record<AsideReason, readonly [found: string, expected: string]>> = {
  'summary-row': ['means, least differences and the like', 'plots alone'],
  'duplicate-row': ['the same cells as in a row above', 'every plot once'],
  'no-product': ['no product', 'a product in every row'],
  'no-site': ['no site', 'a site in every row'],
  'no-crop': ['no crop', 'a crop in every row, or the crop stated'],
  'no-yield': ['no yield', 'a yield in every row'],
  'yield-not-possible': ['a yield under zero or over what any crop gives', 'yields of 0 to 1000 bu/ac'],
  'stand-not-possible': [
    'a stand of zero, under zero or over what any crop stands',
    'stands of up to 2000 plants a square metre, and shares of seeds up to 120 %',
  ],
  'no-moisture': ['a wet yield without its moisture', 'the moisture of every wet yield, 0 to 100 %'],
  'no-bushel': ['a crop whose bushel is not known here', 'its yield in bu/ac'],
};

/** What was set aside, by reason, with the lines. */
export function asideIssues({ aside }: PlotsRead, { file, place }: TrialSheet): Issue[] {
  return [...aside].map(([reason, tally]) => {
    const [found, expected] = ASIDE[reason];
    return trialIssue(
      reason === 'summary-row' ? 'note' : 'warning',
      `trial-${reason}`,
      file,
      `${found}: ${lines(tally, place)}`,
      expected,
      `${tally.count} ${tally.count === 1 ? 'row is' : 'rows are'} set aside`,
      reason === 'summary-row' ? 'Nothing to do' : 'Correct these rows if they matter',
    );
  });
}

/** Columns nothing was taken from: those called as figures are, but full of words, apart from the others. */
export function unusedIssues({ columns, file }: TrialSheet, readings: readonly TrialReading[]): Issue[] {
  const used = new Set(readings.map(({ column }) => column));
  const unused = columns.filter(({ name }) => !used.has(name));
  const isWords = ({ name, kind }: Column) => {
    const role = roleNamed(name)?.role;
    // Environments by name are sites, which a table may have others of.
    return kind === 'text' && role !== undefined && role !== 'environment' && NUMBER_ROLES.includes(role);
  };
  const words = unused.filter(isWords);
  const others = unused.filter((column) => !isWords(column));
  const shown = (own: readonly Column[]) =>
    `${own
      .slice(0, 20)
      .map(({ name }) => name)
      .join(', ')}${own.length > 20 ? ', …' : ''}`;
  const expected = 'columns of product, site, stand, yield and what else is read of trials';
  return [
    ...(words.length > 0
      ? [
          trialIssue(
            'warning',
            'trial-not-numbers',
            file,
            `words in ${shown(words)}`,
            'numbers',
            'These columns are not read',
            'Write numbers, and leave blank what is not known',
          ),
        ]
      : []),
    ...(others.length > 0
      ? [
          trialIssue(
            'note',
            'trial-columns-unused',
            file,
            `columns ${shown(others)}`,
            expected,
            'They are not read',
            'State what they are if they matter',
          ),
        ]
      : []),
  ];
}

/** What was assumed where a person could settle it. */
export function questionIssue({ about, column, options, proposed }: TrialQuestion, file: string): Issue {
  return trialIssue(
    'warning',
    'trial-assumed',
    `${file} › ${column}`,
    `${about}: ${options.map(({ value, because }) => `${value} (${because})`).join(' or ')}`,
    'one plausible reading',
    `${options[proposed].value} is taken until somebody says otherwise`,
    'State which it is',
  );
}

/** What else there is to tell of the plots. */
export function plotIssues(read: PlotsRead, { file, place }: TrialSheet, withStands: boolean): Issue[] {
  const issues: Issue[] = [];
  const spelt = (what: string, variants: readonly string[]) => {
    if (variants.length === 0) return;
    const more = variants.length > 10 ? ` and ${variants.length - 10} more` : '';
    issues.push(
      trialIssue(
        'note',
        `trial-${what}-spelling`,
        file,
        `${variants.slice(0, 10).join('; ')}${more}`,
        `one spelling of each ${what}`,
        'Names that differ only in case and blanks are taken as one',
        'Write them apart if they are not the same',
      ),
    );
  };
  spelt('product', read.productVariants);
  spelt('site', read.siteVariants);
  if (withStands && read.withoutStand.count > 0)
    issues.push(
      trialIssue(
        'warning',
        'trial-no-stand',
        file,
        `plots without a stand: ${lines(read.withoutStand, place)}`,
        'plants standing, or seeds and their emergence',
        `${read.withoutStand.count} plots tell of products and sites, not of how yield answers to stand`,
        'Add the stands if they are known',
      ),
    );
  if (read.unevenEnvironments.length > 0)
    issues.push(
      trialIssue(
        'warning',
        'trial-uneven-environment',
        file,
        `several yield environments at ${read.unevenEnvironments.slice(0, 10).join(', ')}`,
        'one for each site and year',
        'Their mean is taken',
        'Give places with environments of their own names of their own',
      ),
    );
  if (read.twoDigitYears > 0)
    issues.push(
      trialIssue(
        'note',
        'trial-short-year',
        file,
        `years of two digits in ${read.twoDigitYears} rows`,
        'years of four digits',
        '50 to 99 are taken as the last century, 00 to 49 as this one',
        'Write years in full if this is wrong',
      ),
    );
  if (read.table.product.length === 0)
    issues.push(
      trialIssue(
        'error',
        'trial-no-plots',
        file,
        '0 rows that are plots',
        'rows with a product, a site and a yield',
        'There is nothing to fit',
        'See why the rows were set aside',
      ),
    );
  return issues;
}

function lines(tally: Tally, place: string): string {
  return tallyText(tally, tally.count === 1 ? place : `${place}s`);
}

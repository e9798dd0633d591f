import type { Issue } from '../../engine/issue.ts';
import type { Column } from '../../engine/layers/source.ts';
import { LONGEST_NAME } from '../lineup/name-rule.ts';
import { lines } from './aside-issues.ts';
import { longNameIssues } from './short-names.ts';
import { trialIssue } from './trial-issue.ts';
import { LONGEST_SITE, type PlotsRead } from './trial-plots.ts';
import { NUMBER_ROLES, type TrialQuestion, type TrialReading } from './trial-role.ts';
import type { TrialSheet } from './trial-sheet.ts';
import { roleNamed } from './trial-words.ts';

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
  issues.push(
    ...longNameIssues('product', read.cutProducts, LONGEST_NAME, file),
    ...longNameIssues('site', read.cutSites, LONGEST_SITE, file),
  );
  if (read.alike.count > 0)
    issues.push(
      trialIssue(
        'note',
        'trial-alike-rows',
        file,
        `rows with the same cells as a row above, and no column of repetitions, blocks or plots: ${lines(read.alike, place)}`,
        'a column that tells plots apart',
        'They are taken as repetitions that came out alike',
        'Remove them if they were copied',
      ),
    );
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
        `${read.withoutStand.count === 1 ? '1 plot tells' : `${read.withoutStand.count} plots tell`} of products and sites, not of how yield answers to stand`,
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
        `years of two digits in ${read.twoDigitYears === 1 ? '1 row' : `${read.twoDigitYears} rows`}`,
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

import { answersToGround } from '../engine/lineup/answers-to-ground.ts';
import type { Estimate } from '../engine/lineup/estimate.ts';
import type { GroundAnswers } from '../engine/lineup/finlay-wilkinson.ts';
import { groundSentence, groundSentences } from '../engine/lineup/ground-answer-words.ts';
import { type HeadToHead, headToHead, theOthers } from '../engine/lineup/head-to-head.ts';
import { headToHeadSentences, sidesOf } from '../engine/lineup/head-to-head-words.ts';
import { type Standing, type Standings, standingsOf } from '../engine/lineup/standings.ts';
import { standingSentence, standingsSentences } from '../engine/lineup/standings-words.ts';
import type { TrialTable } from '../engine/lineup/trial-table.ts';
import { plainCrop } from '../engine/math/crop-name.ts';
import { openTrials } from '../jobs/open-trials.ts';
import { namedProduct } from './named-product.ts';
import { DONE, hasError, table as rowsOfText, tell, tellIssues, tellJson, WRONG_INPUT } from './tell.ts';
import { loadTrials, readingsJson, readingsText } from './trial-files.ts';
import { type TrialWords, trialOptions } from './trial-words.ts';

export interface CompareOptions extends TrialWords {
  readonly one?: string;
  readonly against?: string;
  readonly json?: boolean;
}

/** `eachacre compare FILE…`: where the products of a crop stand, head to head over the sites both were at, and how each answers to ground. */
export async function compare(paths: readonly string[], options: CompareOptions): Promise<number> {
  const trials = openTrials(loadTrials(paths), trialOptions(options));
  const { table, issues: reading, files } = trials;
  const where = files.map(({ file }) => file).join(', ');
  const names = table.products.map(({ name }) => name);
  const one =
    options.one === undefined ? null : namedProduct(table.products, options.one, where, options.crop);
  // Nothing is held against a product of another crop.
  const against =
    options.against === undefined || one === null
      ? null
      : namedProduct(table.products, options.against, where, table.products[one].crop);
  const crops = [...new Set(table.products.map(({ crop }) => plainCrop(crop)))];
  const wanted = one === null ? crops : [plainCrop(table.products[one].crop)];
  const issues = [...reading];
  const answers = wanted.map((crop) => {
    const { average, ground, answers: answered } = answersToGround(table, crop);
    const standing = standingsOf(average);
    issues.push(...ground.issues);
    const { environment_buPerAc: environments } = ground;
    const pairs =
      one === null
        ? everyone(table, crop).map((own) => versus(table, own, theOthers(table, own), environments))
        : [versus(table, one, against === null ? theOthers(table, one) : [against], environments)];
    const met = pairs.filter((own) => own !== null);
    const stood = met.length === 0 ? [] : standingSaid(standing, names, one, against);
    return { crop, ground, answered, standing, stood, pairs: met };
  });
  if (options.json) {
    tellJson({
      ...readingsJson(trials),
      crops: answers.map(({ crop, ground, answered, standing, stood, pairs }) => ({
        crop,
        environments: table.sites.flatMap(({ name, year }, k) =>
          Number.isNaN(ground.environment_buPerAc[k])
            ? []
            : [{ site: name, year, environment_buPerAc: ground.environment_buPerAc[k] }],
        ),
        ground: {
          ...answered,
          products: answered.products.map(({ product, ...own }) => ({ product: names[product], ...own })),
        },
        standings: {
          ...standing,
          groups: standing.groups.map(({ sites, standings, ...group }) => ({
            ...group,
            sites: sites.map((site) => table.sites[site].name),
            standings: standings.map(({ product, ...own }) => ({ product: names[product], ...own })),
          })),
        },
        headToHead: pairs.map((own) => ({
          ...own,
          one: names[own.one],
          others: own.others.map((other) => names[other]),
          pairs: own.pairs.map(({ site, ...pair }) => ({ site: table.sites[site].name, ...pair })),
          said: headToHeadSentences(own, sidesOf(own, names)),
        })),
        said: [...ground.said, ...stood, ...said(answered, names, one)],
      })),
      issues,
    });
  } else {
    tell(readingsText(trials));
    for (const { crop, ground, answered, standing, stood, pairs } of answers) {
      tell(['', `${capital(crop)}`, ...ground.said].join('\n'));
      if (pairs.length === 0) tell('\nOne product alone: there is nothing to compare it with.');
      else if (one === null) tell(`\n${standings(names, standing)}\n\n${stood.join('\n')}`);
      else
        for (const own of pairs)
          tell(`\n${[...stood, ...headToHeadSentences(own, sidesOf(own, names))].join('\n')}`);
      tell(`\n${said(answered, names, one).join('\n')}`);
    }
    tellIssues(issues);
  }
  return hasError(issues) ? WRONG_INPUT : DONE;
}

/** What the standings are, or where one of them stands if it is held against all. */
function standingSaid(
  found: Standings,
  names: readonly string[],
  one: number | null,
  against: number | null,
): string[] {
  if (one === null) return standingsSentences(found);
  const own = against === null ? standingSentence(one, found, names) : null;
  return own === null ? [] : [own];
}

/** How all answer to ground, or one of them. */
function said(answered: GroundAnswers, names: readonly string[], one: number | null): string[] {
  if (one === null) return groundSentences(answered, names);
  const own = answered.products.find(({ product }) => product === one);
  return own ? [groundSentence(own, answered, names)] : [];
}

function everyone({ products, product }: TrialTable, crop: string): number[] {
  const stood = new Set(product);
  return products.flatMap((own, k) => (plainCrop(own.crop) === crop && stood.has(k) ? [k] : []));
}

/** Null for the only product of its crop. */
function versus(
  table: TrialTable,
  one: number,
  others: readonly number[],
  environments: ArrayLike<number>,
): HeadToHead | null {
  return others.length === 0 ? null : headToHead(table, one, others, environments);
}

/** Every product over the average of its group, a table a group. */
function standings(names: readonly string[], { groups }: Standings): string {
  const row = ({ product, sites, met, lead }: Standing, others: number) => [
    names[product],
    String(sites),
    signed(lead.value),
    interval(lead),
    `${met} of ${others}`,
  ];
  return groups
    .map(({ standings: own, averaged }) =>
      rowsOfText(
        [
          [`over the average of ${averaged}`, 'sites', 'bu/ac', '95 % interval', 'met'],
          ...own.map((standing) => row(standing, own.length - 1)),
        ],
        1,
      ),
    )
    .join('\n\n');
}

function interval({ low, high }: Estimate): string {
  return Number.isFinite(low) && Number.isFinite(high) ? `${signed(low)} to ${signed(high)}` : 'not told';
}

function signed(value: number): string {
  if (Number.isNaN(value)) return '–';
  // Not a negative zero.
  const rounded = Math.round(10 * value) / 10 + 0;
  return `${rounded > 0 ? '+' : ''}${rounded.toFixed(1)}`;
}

function capital(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}`;
}

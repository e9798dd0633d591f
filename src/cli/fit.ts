import { type Issue, Refusal } from '../engine/issue.ts';
import { cropsTried, withEarlierPlots } from '../jobs/earlier-plots.ts';
import type { FitEvidence } from '../jobs/fit-evidence.ts';
import { type FittedDocument, fitTrials } from '../jobs/fit-lineup.ts';
import { openTrials } from '../jobs/open-trials.ts';
import type { Lineup } from '../plan/lineup-schema.ts';
import { readLineup } from '../plan/validate.ts';
import { figure } from '../run/figures.ts';
import { saveFile } from './disk.ts';
import { evidenceJson } from './evidence-json.ts';
import { bestStandAt, evidenceOf, rowsOf } from './fit-rows.ts';
import { cropText } from './fit-text.ts';
import { openLineup } from './open-lineup.ts';
import { DONE, hasError, progress, tell, tellIssues, tellJson, WRONG_INPUT } from './tell.ts';
import { loadTrials, readingsJson, readingsText } from './trial-files.ts';
import { type TrialWords, trialOptions } from './trial-words.ts';

export interface FitOptions extends TrialWords {
  readonly out: string;
  readonly products?: string;
  readonly name?: string;
  readonly reference?: number;
  readonly bootstrap?: boolean;
  readonly force?: boolean;
  readonly json?: boolean;
}

/** `eachacre fit TRIALS… --out LINEUP`: responses to population from trials, with how sure they are. */
export async function fitFiles(paths: readonly string[], options: FitOptions): Promise<number> {
  const trials = openTrials(loadTrials(paths), trialOptions(options));
  const issues: Issue[] = [...trials.issues];
  const known = options.products === undefined ? null : knownProducts(options.products, options.crop, issues);
  const going = progress();
  let made: FittedDocument;
  let evidence: ReadonlyMap<number, FitEvidence>;
  try {
    const request = { name: options.name ?? trials.files[0].file.replace(/\.[^.]*$/, ''), known };
    made = fitTrials(trials, { ...request, reference_buPerAc: options.reference ?? null }, going);
    if (known) made = { ...made, lineup: withEarlierPlots(made.lineup, known, cropsTried(trials.table)) };
    evidence = evidenceOf(trials.table, made, options.bootstrap ?? false, going);
  } finally {
    going.end();
  }
  // What is written must be a lineup that can be read again.
  issues.push(...made.issues, ...readLineup(made.lineup, options.out).issues);
  const wrong = hasError(issues);
  if (!wrong) {
    const bytes = new TextEncoder().encode(`${JSON.stringify(made.lineup, null, 1)}\n`);
    saveFile(options.out, bytes, options.force ?? false);
  }
  const fitted = made.fits.map((fit) => ({
    crop: fit.crop,
    own: fit.fitted,
    rows: rowsOf(fit, evidence),
  }));
  if (options.json) {
    tellJson({
      lineup: wrong ? null : options.out,
      ...readingsJson(trials),
      crops: fitted.map(({ crop, own, rows }) => ({
        crop,
        family: own.family,
        reference_buPerAc: own.reference_buPerAc,
        said: own.said,
        products: rows.map(({ product, evidence: why }) => ({
          name: product.name,
          response: product.response,
          tested_plantsPerAc: product.tested_plantsPerAc,
          fit: product.fit,
          bestStand_k: bestStandAt(product, own.reference_buPerAc),
          evidence: evidenceJson(trials.table, why),
        })),
      })),
      issues,
    });
  } else {
    tell(readingsText(trials));
    for (const { crop, own, rows } of fitted)
      tell(`\n${cropText(crop, own, rows, options.bootstrap ?? false)}`);
    tellIssues(issues);
    if (!wrong) tell(`\n${writtenText(options.out, made.lineup)}`);
  }
  return wrong ? WRONG_INPUT : DONE;
}

/** What was written, and what is next. */
function writtenText(out: string, { products }: Lineup): string {
  const lineup = /\s/.test(out) ? `"${out}"` : out;
  const unpriced = products.filter(({ pricePerUnit }) => pricePerUnit === null).length;
  return [
    `Wrote ${out}: ${figure.count(products.length, 'product')}.`,
    `Which yields more, and on which ground: eachacre compare ${lineup}`,
    ...(unpriced > 0
      ? [
          `Prices are missing of ${figure.count(unpriced, 'product')}: eachacre lineup table ${lineup} --out prices.csv, fill them in, then eachacre lineup read prices.csv --onto ${lineup} --out ${lineup} --force`,
        ]
      : []),
  ].join('\n');
}

/** A lineup document, or a table of products. */
function knownProducts(path: string, crop: string | undefined, issues: Issue[]): Lineup {
  const { lineup, issues: found } = openLineup(path, crop);
  if (lineup === null) throw new Refusal(found.find(({ severity }) => severity === 'error') ?? found[0]);
  issues.push(...found);
  return lineup;
}

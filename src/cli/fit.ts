import { type Issue, Refusal } from '../engine/issue.ts';
import type { FittedLineup } from '../engine/lineup/fit-lineup.ts';
import type { Product } from '../engine/lineup/product.ts';
import { optimumInterval } from '../engine/lineup/response-interval.ts';
import { FAMILIES } from '../engine/response/families.ts';
import { type FittedDocument, fitTrials, type KnownProducts } from '../jobs/fit-lineup.ts';
import { openTrials } from '../jobs/open-trials.ts';
import { figure } from '../run/figures.ts';
import { loadFile, saveFile } from './disk.ts';
import { openLineup } from './open-lineup.ts';
import { readingsText } from './readings-text.ts';
import {
  DONE,
  hasError,
  progress,
  table as rowsOfText,
  tell,
  tellIssues,
  tellJson,
  WRONG_INPUT,
} from './tell.ts';
import { type TrialWords, trialOptions } from './trial-words.ts';

export interface FitOptions extends TrialWords {
  readonly out: string;
  readonly products?: string;
  readonly name?: string;
  readonly reference?: number;
  readonly force?: boolean;
  readonly json?: boolean;
}

/** `eachacre fit TRIALS --out LINEUP`: responses to population from trials, with how sure they are. */
export async function fitFile(path: string, options: FitOptions): Promise<number> {
  const [file] = loadFile(path);
  const trials = openTrials(file, trialOptions(options));
  const issues: Issue[] = [...trials.issues];
  const known = options.products === undefined ? null : knownProducts(options.products, options.crop, issues);
  const going = progress();
  let made: FittedDocument;
  try {
    const request = { name: options.name ?? file.name.replace(/\.[^.]*$/, ''), known };
    made = fitTrials(trials, { ...request, reference_buPerAc: options.reference ?? null }, going);
  } finally {
    going.end();
  }
  issues.push(...made.issues);
  const wrong = hasError(issues);
  if (!wrong) {
    const bytes = new TextEncoder().encode(`${JSON.stringify(made.lineup, null, 1)}\n`);
    saveFile(options.out, bytes, options.force ?? false);
  }
  const fitted = made.fits.map(({ crop, fitted: own }) => ({
    crop,
    own,
    rows: productsOf(own, trials.table.products, made),
  }));
  if (options.json) {
    tellJson({
      lineup: wrong ? null : options.out,
      readings: trials.readings,
      questions: trials.questions,
      ledger: trials.ledger,
      crops: fitted.map(({ crop, own, rows }) => ({
        crop,
        family: own.family,
        reference_buPerAc: own.reference_buPerAc,
        said: own.said,
        products: rows.map(({ name, response, tested_plantsPerAc, fit: how }) => ({
          name,
          response,
          tested_plantsPerAc,
          fit: how,
          bestStand_k: response && optimumInterval(response, own.reference_buPerAc, 0),
        })),
      })),
      issues,
    });
  } else {
    tell(readingsText(file.name, trials.readings, trials.ledger));
    for (const { crop, own, rows } of fitted) tell(`\n${cropText(crop, own, rows)}`);
    tellIssues(issues);
    if (!wrong) tell(`\nWrote ${options.out}: ${figure.count(made.lineup.products.length, 'product')}.`);
  }
  return wrong ? WRONG_INPUT : DONE;
}

/** A lineup document, or a table of products. */
function knownProducts(path: string, crop: string | undefined, issues: Issue[]): KnownProducts {
  const { lineup, issues: found } = openLineup(path, crop);
  if (lineup === null) throw new Refusal(found.find(({ severity }) => severity === 'error') ?? found[0]);
  issues.push(...found);
  return lineup;
}

function productsOf(
  own: FittedLineup,
  names: readonly { name: string }[],
  { lineup }: FittedDocument,
): Product[] {
  const wanted = own.products.map(({ product }) => names[product].name);
  return lineup.products.filter((product) => product.plots !== null && wanted.includes(product.name));
}

function cropText(crop: string, own: FittedLineup, rows: readonly Product[]): string {
  const lines = rows.map(({ name, response, fit: how }) => {
    if (response === null || how === null) return [name, '–', '–', '–', '–', String(how?.sites ?? 0), '–'];
    const best = optimumInterval(response, own.reference_buPerAc, 0);
    return [
      name,
      FAMILIES[response.family].title,
      response.level_buPerAc.toFixed(1),
      best && Number.isFinite(best.value) ? `${best.value.toFixed(1)}k` : 'none',
      best && Number.isFinite(best.low)
        ? `${best.low.toFixed(1)} to ${Number.isFinite(best.high) ? best.high.toFixed(1) : 'any'}`
        : '–',
      String(how.sites),
      `${Math.round(100 * how.leaning)} %`,
    ];
  });
  const head = ['product', 'curve', 'bu/ac', 'best stand', '95 % interval', 'sites', 'leaning'];
  const doubts = rows.flatMap(({ name, fit: how }) =>
    (how?.said ?? []).slice(1).map((text) => `${name}: ${text}`),
  );
  return [
    `${crop.charAt(0).toUpperCase()}${crop.slice(1)}, on ground of ${own.reference_buPerAc} bu/ac`,
    ...own.said,
    '',
    rowsOfText([head, ...lines], 2),
    ...(doubts.length > 0 ? ['', ...doubts] : []),
  ].join('\n');
}

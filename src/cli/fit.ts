import { type Issue, Refusal } from '../engine/issue.ts';
import type { Estimate } from '../engine/lineup/estimate.ts';
import type { FittedLineup } from '../engine/lineup/fit-lineup.ts';
import type { Product } from '../engine/lineup/product.ts';
import { optimumInterval } from '../engine/lineup/response-interval.ts';
import type { TrialTable } from '../engine/lineup/trial-table.ts';
import { FAMILIES } from '../engine/response/families.ts';
import { STANDS_FOR_A_CURVE } from '../engine/response/fit/fit-refusal.ts';
import { productKey } from '../formats/lineup/product-ids.ts';
import { type FitEvidence, fitEvidence } from '../jobs/fit-evidence.ts';
import { type FittedDocument, fitTrials, type KnownProducts } from '../jobs/fit-lineup.ts';
import { openTrials } from '../jobs/open-trials.ts';
import { figure } from '../run/figures.ts';
import type { RunControl } from '../run/walk.ts';
import { loadFile, saveFile } from './disk.ts';
import { evidenceJson } from './evidence-json.ts';
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
  readonly bootstrap?: boolean;
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
  let evidence: ReadonlyMap<number, FitEvidence>;
  try {
    const request = { name: options.name ?? file.name.replace(/\.[^.]*$/, ''), known };
    made = fitTrials(trials, { ...request, reference_buPerAc: options.reference ?? null }, going);
    evidence = evidenceOf(trials.table, made, options.bootstrap ?? false, going);
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
    rows: rowsOf(own, trials.table.products, made, evidence),
  }));
  issues.push(...fitted.flatMap(({ rows }) => rows.flatMap(fewStands)));
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
        products: rows.map(
          ({ product: { name, response, tested_plantsPerAc, fit: how }, evidence: why }) => ({
            name,
            response,
            tested_plantsPerAc,
            fit: how,
            bestStand_k: bestStandAt(response, own.reference_buPerAc),
            evidence: evidenceJson(trials.table, why),
          }),
        ),
      })),
      issues,
    });
  } else {
    tell(readingsText(file.name, trials.readings, trials.ledger));
    for (const { crop, own, rows } of fitted)
      tell(`\n${cropText(crop, own, rows, options.bootstrap ?? false)}`);
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

/** By product of the trials. */
function evidenceOf(
  table: TrialTable,
  { fits }: FittedDocument,
  bootstrap: boolean,
  { signal, onProgress }: RunControl,
): ReadonlyMap<number, FitEvidence> {
  return new Map(
    fits.flatMap(({ crop, fitted }) =>
      fitEvidence(table, fitted, {
        bootstrap,
        onProduct: (share) => {
          signal?.throwIfAborted();
          onProgress?.({ step: `What the curves of ${crop} rest on`, share });
        },
      }).map((own) => [own.product, own] as const),
    ),
  );
}

interface FittedRow {
  readonly product: Product;
  readonly evidence: FitEvidence;
}

function rowsOf(
  own: FittedLineup,
  names: TrialTable['products'],
  { lineup }: FittedDocument,
  evidence: ReadonlyMap<number, FitEvidence>,
): FittedRow[] {
  const byKey = new Map(lineup.products.map((product) => [productKey(product), product]));
  return own.products.flatMap(({ product: index }) => {
    const product = byKey.get(productKey(names[index]));
    const why = evidence.get(index);
    return product && why ? [{ product, evidence: why }] : [];
  });
}

/** A curve over fewer stands than show one: the line between them, or what the other products have. */
function fewStands({ product: { name, response }, evidence: { stands } }: FittedRow): Issue[] {
  if (response === null || stands >= STANDS_FOR_A_CURVE) return [];
  return [
    {
      code: 'product-few-stands',
      severity: 'warning',
      where: name,
      found: stands === 1 ? 'plots at one stand' : `plots at ${stands} stands`,
      expected: `${STANDS_FOR_A_CURVE} stands or more, for a best one to show`,
      effect:
        response.family === 'line'
          ? 'Its response is the straight line between them: no best stand of its own is known'
          : 'Its best stand is that of the other products of its crop',
      remedy: 'Add trials in which its stand was varied more',
    },
  ];
}

function cropText(crop: string, own: FittedLineup, rows: readonly FittedRow[], bootstrap: boolean): string {
  const lines = rows.map(({ product: { name, response, fit: how }, evidence: { bootstrap_k } }) => {
    const drawn = bootstrap ? [intervalText(bootstrap_k)] : [];
    if (response === null || how === null)
      return [name, '–', '–', '–', '–', ...drawn, String(how?.sites ?? 0), '–'];
    const best = bestStandAt(response, own.reference_buPerAc);
    return [
      name,
      FAMILIES[response.family].title,
      response.level_buPerAc.toFixed(1),
      best && Number.isFinite(best.value) ? `${best.value.toFixed(1)}k` : 'none',
      intervalText(best),
      ...drawn,
      String(how.sites),
      `${Math.round(100 * how.leaning)} %`,
    ];
  });
  const head = ['product', 'curve', 'bu/ac', 'best stand', '95 % interval'];
  const all = [...head, ...(bootstrap ? ['sites drawn again'] : []), 'sites', 'leaning'];
  const doubts = rows.flatMap(({ product: { name, fit: how }, evidence: { said } }) => [
    ...(how?.said ?? []).slice(1).map((text) => `${name}: ${text}`),
    ...said.map((text) => `${name}: ${text}`),
  ]);
  return [
    `${crop.charAt(0).toUpperCase()}${crop.slice(1)}, on ground of ${own.reference_buPerAc} bu/ac`,
    ...own.said,
    '',
    rowsOfText([all, ...lines], 2),
    ...(doubts.length > 0 ? ['', ...doubts] : []),
  ].join('\n');
}

/** Null for a straight line: its best end is that of the stands tried, and no best stand. */
function bestStandAt(response: Product['response'], reference_buPerAc: number): Estimate | null {
  return response === null || response.family === 'line'
    ? null
    : optimumInterval(response, reference_buPerAc, 0);
}

function intervalText(of: { readonly low: number; readonly high: number } | null): string {
  if (of === null || !Number.isFinite(of.low)) return '–';
  return `${of.low.toFixed(1)} to ${Number.isFinite(of.high) ? of.high.toFixed(1) : 'any'}`;
}

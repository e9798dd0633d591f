import { type Issue, Refusal } from '../engine/issue.ts';
import type { SourceLedger } from '../engine/layers/source.ts';
import type { TrialTable } from '../engine/lineup/trial-table.ts';
import type { FileBytes } from '../formats/file-bytes.ts';
import { isProductTable } from '../formats/lineup/is-product-table.ts';
import { readLineupCsv } from '../formats/lineup/read-lineup-csv.ts';
import { readTrials, trialColumnNames } from '../formats/trials/read-trials.ts';
import type { TrialOptions } from '../formats/trials/trial-options.ts';
import type { TrialQuestion, TrialReading } from '../formats/trials/trial-role.ts';
import type { Lineup } from '../plan/lineup-schema.ts';
import { readLineup } from '../plan/validate.ts';
import { portion, type RunControl } from '../run/walk.ts';
import {
  cropsTried,
  type EarlierPlots,
  earlierPlots,
  trialsOfCrops,
  withEarlierPlots,
} from './earlier-plots.ts';
import { type FittedDocument, fitTrials, type KnownProducts } from './fit-lineup.ts';
import { joinTrials } from './join-trials.ts';
import { readLineupFile } from './read-file.ts';
import { isLineup } from './sort-files.ts';
import { withProducts } from './with-products.ts';

/** Files of trials, of products, or lineups, to be made into a lineup. */
export interface LineupRequest {
  readonly files: readonly FileBytes[];
  /** What a person has said of a file, by its name. */
  readonly said: Readonly<Record<string, SaidOfLineupFile>>;
  /** The lineup there is; null for none. */
  readonly known: Lineup | null;
  /** Whether the plots that lineup keeps of the crops that come stay beside the new ones; else they go, and their sites with them. Those of other crops stay. */
  readonly keepTrials: boolean;
  /** Name of a lineup where there was none. */
  readonly name: string;
}

export interface SaidOfLineupFile extends TrialOptions {
  readonly as?: 'trials' | 'products';
}

/** One of the files, as it was read. */
export interface DraftedFile {
  readonly name: string;
  readonly kind: 'trials' | 'products' | 'lineup';
  /** Names of all its columns; none of a lineup, or where it is no table. */
  readonly columns: readonly string[];
  readonly readings: readonly TrialReading[];
  readonly questions: readonly TrialQuestion[];
  /** Null where it could not be read. */
  readonly ledger: SourceLedger | null;
  readonly issues: readonly Issue[];
}

/** What would come of the files. Nothing is changed by it. */
export interface LineupDraft {
  readonly files: readonly DraftedFile[];
  /** Null where nothing could be made of them. */
  readonly lineup: Lineup | null;
  /** By crop; none where no trials came. */
  readonly fits: FittedDocument['fits'];
  /** What may stay or go; null where no trials came. */
  readonly earlier: EarlierPlots | null;
  readonly issues: readonly Issue[];
}

type Made = Omit<LineupDraft, 'files' | 'lineup'> & Pick<FittedDocument, 'lineup'>;

interface Gathered {
  known: KnownProducts & Pick<Lineup, 'sites'>;
  trials: TrialTable | null;
  readonly files: DraftedFile[];
  readonly issues: Issue[];
}

/** Reads the files, lays what they tell of products over what is known, and fits the trials. A file that cannot be read is told and left out. */
export function draftLineup(request: LineupRequest, control: RunControl = {}): LineupDraft {
  const known = request.known ?? NOTHING_KNOWN;
  const gathered: Gathered = { known, trials: null, files: [], issues: [] };
  for (const [k, file] of request.files.entries()) {
    control.signal?.throwIfAborted();
    control.onProgress?.({ step: `Reading ${file.name}`, share: (0.2 * k) / request.files.length });
    gathered.files.push(take(file, request.said[file.name] ?? {}, gathered));
  }
  const name = request.known?.name ?? request.name;
  const made = lineupOf(gathered, request.keepTrials, name, portion(control, 0.2, 1));
  if (made === null)
    return { files: gathered.files, lineup: null, fits: [], earlier: null, issues: gathered.issues };
  const issues = [...gathered.issues, ...made.issues];
  // What was joined from several documents must be one itself.
  const { value, issues: wrong } = readLineup(made.lineup, 'lineup');
  return {
    files: gathered.files,
    lineup: value,
    fits: made.fits,
    earlier: made.earlier,
    issues: value === null ? [...issues, ...wrong] : issues,
  };
}

const NOTHING_KNOWN: Gathered['known'] = { products: [], scales: [], sites: [] };

function take(file: FileBytes, { as, ...options }: SaidOfLineupFile, gathered: Gathered): DraftedFile {
  const told = { name: file.name, columns: [], readings: [], questions: [], ledger: null };
  if (isLineup(file)) {
    const { lineup, issues } = readLineupFile(file);
    if (lineup) gathered.known = lineup;
    const read = lineup?.products.length ?? 0;
    const ledger = lineup && { read, used: read, repaired: 0, setAside: {} };
    return { ...told, kind: 'lineup', ledger, issues };
  }
  let columns: readonly string[] = [];
  let kind = as ?? 'trials';
  try {
    columns = trialColumnNames(file, options);
    if (as === undefined && isProductTable(columns)) kind = 'products';
    if (kind === 'products') {
      const { crop } = options;
      const read = readLineupCsv(file, crop === undefined ? {} : { crop });
      gathered.known = { ...gathered.known, ...withProducts(gathered.known, read) };
      return { ...told, kind, columns, ledger: read.ledger, issues: read.issues };
    }
    const { table, readings, questions, ledger, issues } = readTrials(file, options);
    if (gathered.trials === null) gathered.trials = table;
    else {
      const joined = joinTrials(gathered.trials, table, file.name);
      gathered.trials = joined.table;
      gathered.issues.push(...joined.issues);
    }
    return { name: file.name, kind, columns, readings, questions, ledger, issues };
  } catch (thrown) {
    if (!(thrown instanceof Refusal)) throw thrown;
    return { ...told, kind, columns, issues: [thrown.issue] };
  }
}

function lineupOf(
  { known, trials, files, issues }: Gathered,
  keepTrials: boolean,
  name: string,
  control: RunControl,
): Made | null {
  if (files.every(({ ledger }) => ledger === null)) return null;
  const before: Lineup = { document: 'eachacre-lineup', version: 1, name, ...known };
  if (trials === null) return { lineup: before, fits: [], earlier: null, issues: [] };
  const crops = cropsTried(trials);
  const kept = trialsOfCrops(before, crops);
  const joined = keepTrials && kept.product.length > 0 ? joinTrials(kept, trials, 'trials') : null;
  issues.push(...(joined?.issues ?? []));
  const made = fitTrials({ table: joined?.table ?? trials, lineup: null }, { name, known }, control);
  return {
    ...made,
    lineup: withEarlierPlots(made.lineup, before, crops),
    earlier: earlierPlots(before, trials),
  };
}

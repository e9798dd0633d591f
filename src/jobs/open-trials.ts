import { type Issue, Refusal } from '../engine/issue.ts';
import type { SourceLedger } from '../engine/layers/source.ts';
import type { TrialTable } from '../engine/lineup/trial-table.ts';
import type { FileBytes } from '../formats/file-bytes.ts';
import { readTrials, type TrialsRead } from '../formats/trials/read-trials.ts';
import type { TrialOptions } from '../formats/trials/trial-options.ts';
import type { TrialQuestion, TrialReading } from '../formats/trials/trial-role.ts';
import type { Lineup } from '../plan/lineup-schema.ts';
import { lineupTrials } from '../plan/lineup-trials.ts';
import { joinTrials } from './join-trials.ts';
import { readLineupFile } from './read-file.ts';
import { isLineup } from './sort-files.ts';
import { refuseIdleUnits, wordsOfFiles } from './words-of-files.ts';

/** One of the files, as it was read. */
export interface OpenedTrials {
  readonly file: string;
  /** None of a lineup. */
  readonly readings: readonly TrialReading[];
  readonly questions: readonly TrialQuestion[];
  readonly ledger: SourceLedger;
}

/** Trials out of files: tables of plots, or those lineups keep. */
export interface OpenTrials {
  readonly table: TrialTable;
  /** The lineup they came in; null for tables of plots. */
  readonly lineup: Lineup | null;
  readonly files: readonly OpenedTrials[];
  /** Of all files together; plots that a later file tells again are set aside. */
  readonly ledger: SourceLedger;
  readonly issues: readonly Issue[];
}

/**
 * Several are joined in their order. Words about a column are for the tables that have it, and a unit for those that have what it measures. Throws a Refusal for a file that is no trials, for a lineup without plots, for words
 * that fit none, and for two lineups, of which only one can say what the products cost.
 */
export function openTrials(files: readonly FileBytes[], options: TrialOptions = {}): OpenTrials {
  const lineups = files.filter(isLineup);
  if (lineups.length > 1) refuseLineups(lineups);
  const tables = files.filter((file) => !isLineup(file));
  const where = files.map(({ name }) => name).join(', ');
  const words = wordsOfFiles(tables, options, where);
  const roles = new Set<string>();
  let lineup: Lineup | null = null;
  let table: TrialTable | null = null;
  const opened: OpenedTrials[] = [];
  const issues: Issue[] = [];
  for (const file of files) {
    const at = tables.indexOf(file);
    const read = at < 0 ? openLineup(file) : { lineup: null, ...readTrials(file, words[at]) };
    for (const role of read.roles) roles.add(role);
    lineup ??= read.lineup;
    const joined: ReturnType<typeof joinTrials> =
      table === null ? { table: read.table, issues: [] } : joinTrials(table, read.table, file.name);
    table = joined.table;
    const { readings, questions, ledger } = read;
    opened.push({ file: file.name, readings, questions, ledger });
    issues.push(...read.issues, ...joined.issues);
  }
  refuseIdleUnits(roles, options, where);
  if (table === null) throw new Error('no files');
  return { table, lineup, files: opened, ledger: together(opened, table.product.length), issues };
}

type Read = Omit<TrialsRead, 'columns'> & Pick<OpenTrials, 'lineup'>;

function openLineup(file: FileBytes): Read {
  const { lineup, issues } = readLineupFile(file);
  if (lineup === null) throw new Refusal(issues.find(({ severity }) => severity === 'error') ?? issues[0]);
  const table = lineupTrials(lineup);
  const plots = table.product.length;
  if (plots === 0) {
    throw new Refusal({
      code: 'lineup-without-trials',
      where: file.name,
      found: 'a lineup that keeps no plots',
      expected: 'trials, or a lineup fitted from them',
      effect: 'There is nothing to compare',
      remedy: 'Hand over the trial table, or fit the lineup from it',
    });
  }
  const ledger = { read: plots, used: plots, repaired: 0, setAside: {} };
  return { table, lineup, roles: [], readings: [], questions: [], ledger, issues };
}

/** read = used + set aside, over all files. */
function together(files: readonly OpenedTrials[], used: number): SourceLedger {
  const setAside: Record<string, number> = {};
  let [read, told] = [0, 0];
  for (const { ledger } of files) {
    read += ledger.read;
    told += ledger.used;
    for (const [reason, count] of Object.entries(ledger.setAside))
      setAside[reason] = (setAside[reason] ?? 0) + count;
  }
  if (told > used) setAside['told-again'] = told - used;
  return { read, used, repaired: 0, setAside };
}

function refuseLineups(lineups: readonly FileBytes[]): never {
  throw new Refusal({
    code: 'trials-of-lineups',
    where: lineups.map(({ name }) => name).join(', '),
    found: `${lineups.length} lineups`,
    expected: 'one at most, and tables of trials',
    effect: 'Nothing was read: each says for itself what its products cost, and how they are rated',
    remedy: 'Hand over one of them with the trial tables the others were fitted from',
  });
}

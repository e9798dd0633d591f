import { type Issue, Refusal } from '../engine/issue.ts';
import type { SourceLedger } from '../engine/layers/source.ts';
import type { TrialTable } from '../engine/lineup/trial-table.ts';
import type { FileBytes } from '../formats/file-bytes.ts';
import { readTrials } from '../formats/trials/read-trials.ts';
import type { TrialOptions } from '../formats/trials/trial-options.ts';
import type { TrialQuestion, TrialReading } from '../formats/trials/trial-role.ts';
import type { Lineup } from '../plan/lineup-schema.ts';
import { lineupTrials } from '../plan/lineup-trials.ts';
import { readLineupFile } from './read-file.ts';
import { isLineup } from './sort-files.ts';

/** Trials out of a file: a table of plots, or those a lineup keeps. */
export interface OpenTrials {
  readonly table: TrialTable;
  /** The lineup they came in; null for a table of plots. */
  readonly lineup: Lineup | null;
  /** Names of the columns; none of a lineup. */
  readonly columns: readonly string[];
  readonly readings: readonly TrialReading[];
  readonly questions: readonly TrialQuestion[];
  readonly ledger: SourceLedger;
  readonly issues: readonly Issue[];
}

/** Throws a Refusal for what is neither, and for a lineup without plots. */
export function openTrials(file: FileBytes, options: TrialOptions = {}): OpenTrials {
  if (!isLineup(file)) return { lineup: null, ...readTrials(file, options) };
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
  return {
    table,
    lineup,
    columns: [],
    readings: [],
    questions: [],
    ledger: { read: plots, used: plots, repaired: 0, setAside: {} },
    issues,
  };
}

import type { Issue } from '../engine/issue.ts';
import type { FileBytes } from '../formats/file-bytes.ts';
import type { Plan } from '../plan/schema.ts';
import type { PriceGrid } from '../run/price-grid.ts';
import type { Results } from '../run/results.ts';
import type { WhyHere } from '../run/why-here.ts';
import type { LineupDraft, LineupRequest } from './draft-lineup.ts';
import type { Proof } from './prove.ts';
import type { SortedFile } from './sort-files.ts';
import type { TrialsRequest, TrialsTold } from './trials-told.ts';

/** The files of a hand-off with the proof of them; `files` is empty when there is nothing to release. */
export interface HandOff {
  readonly files: readonly FileBytes[];
  readonly proof: Proof | null;
  readonly issues: readonly Issue[];
}

export interface DraftRequest {
  readonly files: readonly FileBytes[];
  readonly name: string;
  readonly season: number;
  readonly crop: string;
}

export interface DraftAnswer {
  /** Null when there is no field to plan for, or nothing that could be run. */
  readonly plan: Plan | null;
  readonly files: readonly SortedFile[];
  readonly issues: readonly Issue[];
}

/** Every call a door can make, by name: what it takes and what it answers. */
export interface Calls {
  /** Put files on the desk; those that were there are gone. */
  open: { takes: { files: readonly FileBytes[] }; gives: { files: number } };
  /** Put loose files on the desk and make a plan of them: each is recognised, and what cannot be read or used is told. */
  draft: { takes: DraftRequest; gives: DraftAnswer };
  /**
   * Run a plan over the open files; only stages whose needs changed run again. `lineup` stands in for the file of the plan's lineup, which an edit has left
   * behind.
   */
  run: { takes: { plan: Plan; lineup?: FileBytes | undefined }; gives: Results };
  /** What would come of files of trials and products; nothing on the desk is changed by it. */
  lineup: { takes: LineupRequest; gives: LineupDraft };
  /** What the trials a lineup keeps tell of its products; null where it keeps none of the crop. */
  trials: { takes: TrialsRequest; gives: TrialsTold | null };
  /** The trail of one cell of the last run; null when there is none. */
  why: { takes: { cell: number }; gives: WhyHere | null };
  /** What the last run's plan would be worth at other prices, planned anew; null when there is no such run, or it came to no plan. */
  prices: { takes: { plan: Plan }; gives: PriceGrid | null };
  /** Write and prove the hand-off of the last run; refused (`hand-off-other-plan`) when that was of another plan, or is not over. */
  handOff: { takes: { plan: Plan }; gives: HandOff };
}

export type CallName = keyof Calls;

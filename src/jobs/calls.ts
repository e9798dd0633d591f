import type { Issue } from '../engine/issue.ts';
import type { FileBytes } from '../formats/file-bytes.ts';
import type { Plan } from '../plan/schema.ts';
import type { Results } from '../run/results.ts';
import type { WhyHere } from '../run/why-here.ts';
import type { Proof } from './prove.ts';

/** The files of a hand-off with the proof of them; `files` is empty when there is nothing to release. */
export interface HandOff {
  readonly files: readonly FileBytes[];
  readonly proof: Proof | null;
  readonly issues: readonly Issue[];
}

/** Every call a door can make, by name: what it takes and what it answers. */
export interface Calls {
  /** Put files on the desk; those that were there are gone. */
  open: { takes: { files: readonly FileBytes[] }; gives: { files: number } };
  /** Run a plan over the open files; only stages whose needs changed run again. */
  run: { takes: { plan: Plan }; gives: Results };
  /** The trail of one cell of the last run; null when there is none. */
  why: { takes: { cell: number }; gives: WhyHere | null };
  /** Write and prove the hand-off of the last run; refused (`hand-off-other-plan`) when that was of another plan, or is not over. */
  handOff: { takes: { plan: Plan }; gives: HandOff };
}

export type CallName = keyof Calls;

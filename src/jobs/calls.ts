import type { Issue } from '../engine/issue.ts';
import type { FileBytes } from '../formats/file-bytes.ts';
import type { Plan } from '../plan/schema.ts';
import type { Results } from '../run/results.ts';
import type { WhyHere } from '../run/why-here.ts';
import type { Proof } from './proof.ts';

/** The files of a hand-off with the proof of them; files is empty when the proof failed. */
export interface HandOff {
  readonly files: readonly FileBytes[];
  readonly proof: Proof;
  readonly issues: readonly Issue[];
}

/** Every call a door can make, by name: what it takes and what it answers. */
export interface Calls {
  /** Take the files a plan names (bytes are kept by the desk until replaced). */
  open: { takes: { files: readonly FileBytes[] }; gives: { issues: readonly Issue[] } };
  /** Run a plan over the open files; only stages whose needs changed run again. */
  run: { takes: { plan: Plan }; gives: Results };
  /** The trail of one cell of the last run. */
  why: { takes: { cell: number }; gives: WhyHere };
  /** Write and prove the hand-off of the last run. */
  handOff: { takes: { plan: Plan }; gives: HandOff };
}

export type CallName = keyof Calls;

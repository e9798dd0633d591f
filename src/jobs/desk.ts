import type { Issue } from '../engine/issue.ts';
import type { FileBytes } from '../formats/file-bytes.ts';
import type { ReadTogether } from '../formats/registry.ts';
import type { Plan } from '../plan/schema.ts';
import { priceGrid } from '../run/price-grid.ts';
import type { Results } from '../run/results.ts';
import { run } from '../run/run.ts';
import { portion, type RunControl, type StageCache } from '../run/walk.ts';
import { whyHere } from '../run/why-here.ts';
import type { CallName, Calls, HandOff } from './calls.ts';
import { draftFromLoose } from './draft-plan.ts';
import { type AnswerLineup, answerHere } from './lineup-thread.ts';
import { type ReadCache, readInputs } from './read-inputs.ts';
import { remembering } from './remembering.ts';
import { writeHandOff } from './write-hand-off.ts';

/** Where calls are answered: in this process, or by a worker behind the same interface. */
export interface Desk {
  call<N extends CallName>(
    name: N,
    takes: Calls[N]['takes'],
    control?: RunControl,
  ): Promise<Calls[N]['gives']>;
}

/** A desk in this process. It holds the open files, what was read from them, and the last run, so that a change reruns only what it touches.
 * Files are read and lineups answered for in this thread unless others are given. */
export function createDesk(readTogether?: ReadTogether, answerLineup: AnswerLineup = answerHere): Desk {
  let reading = remembering(readTogether);
  let files: readonly FileBytes[] = [];
  const readCache: ReadCache = new Map();
  const stages: StageCache = new Map();
  let last: { plan: Plan; results: Results } | null = null;
  // Calls overlap: only the newest run over the files that are open may become the last one.
  let newest = 0;

  /** The results of the last run, if it was of this very plan. */
  const ranFrom = (plan: Plan) =>
    last && JSON.stringify(last.plan) === JSON.stringify(plan) ? last.results : null;

  const answers: {
    [N in CallName]: (takes: Calls[N]['takes'], control: RunControl) => Promise<Calls[N]['gives']>;
  } = {
    open: async (takes) => {
      files = takes.files;
      reading = remembering(readTogether);
      readCache.clear();
      stages.clear();
      last = null;
      newest++;
      return { files: files.length };
    },
    draft: async (takes, control) => {
      files = takes.files;
      reading = remembering(readTogether);
      readCache.clear();
      stages.clear();
      last = null;
      newest++;
      return draftFromLoose(takes, reading, control);
    },
    run: async ({ plan, lineup }, control) => {
      last = null;
      const own = ++newest;
      // Reading is the first part of the work, the walk the rest.
      const there = lineup ? [...files.filter(({ name }) => name !== lineup.name), lineup] : files;
      const inputs = await readInputs(plan, there, readCache, portion(control, 0, 0.4), reading);
      const unread = inputs.issues.some((issue) => issue.severity === 'error');
      const walked = await run(plan, inputs, portion(control, 0.4, 1), stages);
      const results: Results = {
        ...walked,
        issues: [...inputs.issues, ...walked.issues],
        ...(unread ? NOTHING_TO_HAND_OFF : {}),
      };
      if (own === newest) last = { plan, results };
      return results;
    },
    lineup: (takes, control) => answerLineup({ name: 'lineup', takes }, control),
    trials: (takes, control) => answerLineup({ name: 'trials', takes }, control),
    why: async ({ cell }) => (last ? whyHere(last.results, last.plan, cell) : null),
    prices: async ({ plan }, control) => {
      const results = ranFrom(plan);
      return results && priceGrid(results, plan, control);
    },
    handOff: async ({ plan }, control) => {
      const results = ranFrom(plan);
      return results ? writeHandOff(plan, results, control) : refuseOther(last?.plan ?? null);
    },
  };
  return {
    call: (name, takes, control = {}) => answers[name](takes, control),
  };
}

/** With a source missing or refused, zones may still be looked at; rates may not be trusted. */
const NOTHING_TO_HAND_OFF = {
  choices: null,
  worth: null,
  sure: null,
  ledger: null,
  prescription: null,
} as const;

/** Results belong to the plan they were run from; nothing is written for another. */
function refuseOther(ran: Plan | null): HandOff {
  const issue: Issue = {
    code: 'hand-off-other-plan',
    severity: 'error',
    where: 'hand-off',
    found: ran ? `a run of another plan (${ran.name})` : 'no finished run',
    expected: 'a finished run of this very plan',
    effect: 'The hand-off is withheld',
    remedy: 'Run the plan, then ask for its hand-off',
  };
  return { files: [], proof: null, issues: [issue] };
}

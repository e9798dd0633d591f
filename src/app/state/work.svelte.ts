import type { Issue } from '../../engine/issue.ts';
import type { FileBytes } from '../../formats/file-bytes.ts';
import type { DraftAnswer, DraftRequest, HandOff } from '../../jobs/calls.ts';
import type { Desk } from '../../jobs/desk.ts';
import type { Edited } from '../../plan/edits/edit.ts';
import { lineupFile, withLineup } from '../../plan/edits/with-lineup.ts';
import { type History, present, record, redo, startHistory, undo } from '../../plan/history.ts';
import type { Lineup } from '../../plan/lineup-schema.ts';
import type { Plan } from '../../plan/schema.ts';
import type { Results } from '../../run/results.ts';
import type { Progress } from '../../run/walk.ts';
import type { WhyHere } from '../../run/why-here.ts';
import { createArriving } from './arriving.svelte.ts';
import { issueOf } from './issue-of.ts';
import { createOtherPrices } from './other-prices.svelte.ts';
import { createTrialsTold } from './trials-told.svelte.ts';
import { createWritten } from './written-lineups.ts';

/** Edits closer together than this run once, ms. */
const PAUSE = 150;

/** What came of the present plan: results belong to `plan`, which an edit may have left behind. */
interface Outcome {
  readonly plan: Plan;
  readonly results: Results;
}

/** Files handed over without a plan, and what was made of them. */
export interface HandedOver extends DraftAnswer {
  readonly request: DraftRequest;
}

/** The plan with its history, and what the desk made of it. Every edit runs again; a later run cancels the one before. */
export function createWork(desk: Desk) {
  let history = $state.raw<History<Plan> | null>(null);
  let outcome = $state.raw<Outcome | null>(null);
  let progress = $state.raw<Progress | null>(null);
  let stopped = $state(false);
  let issues = $state.raw<readonly Issue[]>([]);
  let handOff = $state.raw<(HandOff & { plan: Plan }) | null>(null);
  let handedOver = $state.raw<HandedOver | null>(null);
  /** What lies on the desk, to be put back there should loose files make no plan. */
  let files: readonly FileBytes[] = [];
  const written = createWritten();
  const arriving = createArriving((request, control) => desk.call('lineup', request, control));
  const trials = createTrialsTold((request, control) => desk.call('trials', request, control));
  const prices = createOtherPrices((request, control) => desk.call('prices', request, control));
  /** Edits of the lineup, one after the other: writing one takes a moment. */
  let writing: Promise<unknown> = Promise.resolve();
  let sorting = false;
  let running: AbortController | null = null;
  let waiting: ReturnType<typeof setTimeout> | undefined;

  const plan = $derived(history ? present(history) : null);
  /** The lineup of the present plan: as edited here, or as the last run read it. */
  const lineup = $derived.by((): Lineup | null => {
    const file = plan && lineupFile(plan);
    if (!file) return null;
    const ran =
      outcome && lineupFile(outcome.plan)?.sha256 === file.sha256 ? outcome.results.lineupDocument : null;
    return written.of(file.sha256)?.lineup ?? ran;
  });

  async function run(): Promise<void> {
    clearTimeout(waiting);
    running?.abort();
    prices.leave();
    const asked = plan;
    if (!asked) return;
    const control = new AbortController();
    running = control;
    stopped = false;
    progress = { step: 'Starting', share: 0 };
    try {
      const results = await desk.call(
        'run',
        { plan: asked, lineup: written.of(lineupFile(asked)?.sha256)?.file },
        {
          signal: control.signal,
          onProgress: (next) => {
            if (running === control) progress = next;
          },
        },
      );
      if (running === control) {
        outcome = { plan: asked, results };
        // Before anybody looks, so that nothing jumps when they do.
        if (lineup) trials.want({ lineup, crop: asked.crop });
      }
    } catch (error) {
      if (running === control && !control.signal.aborted) issues = [...issues, issueOf(error)];
    } finally {
      if (running === control) {
        running = null;
        progress = null;
      }
    }
  }

  function moveTo(next: History<Plan>): void {
    if (next === history || sorting) return;
    history = next;
    prices.leave();
    clearTimeout(waiting);
    waiting = setTimeout(run, PAUSE);
  }

  /** Write the lineup that `make` answers and rest the plan on it; answers why not, or null. */
  function rewrite(note: string, make: (before: Lineup | null) => Lineup | string): Promise<string | null> {
    const edit = async () => {
      if (!history) return 'No plan is open.';
      if (sorting) return 'Files are being read; wait until they are, or cancel.';
      const next = make(lineup);
      if (typeof next === 'string') return next;
      const file = await written.write(next, lineupFile(present(history))?.file ?? 'lineup.json');
      moveTo(record(history, withLineup(present(history), file), note));
      return null;
    };
    const own = writing.then(edit);
    writing = own.catch(() => undefined);
    return own;
  }

  return {
    get plan() {
      return plan;
    },
    get lineup() {
      return lineup;
    },
    /** The file of the lineup where it was edited here: the plan names these very bytes, and no disk holds them yet. */
    get editedLineup(): FileBytes | null {
      return written.of(plan && lineupFile(plan)?.sha256)?.file ?? null;
    },
    get outcome() {
      return outcome;
    },
    get progress() {
      return progress;
    },
    /** True when a run was cancelled, so that what is shown is not of the present plan. */
    get stopped() {
      return stopped;
    },
    /** Trouble with opening, apart from the issues of a run. */
    get issues() {
      return issues;
    },
    /** The hand-off, while it is of the present plan. */
    get handOff() {
      return handOff && handOff.plan === plan ? handOff : null;
    },
    get canUndo() {
      return history !== null && history.at > 0;
    },
    get canRedo() {
      return history !== null && history.at < history.states.length - 1;
    },
    /** Why the last edit can be undone, in words. */
    get lastNote() {
      return history && history.at > 0 ? history.states[history.at].note : null;
    },

    /** What was handed over without a plan, while nothing else was opened since. */
    get handedOver() {
      return handedOver;
    },

    async open(next: Plan, given: readonly FileBytes[], found: readonly Issue[]): Promise<void> {
      clearTimeout(waiting);
      running?.abort();
      running = null;
      history = null;
      outcome = null;
      handOff = null;
      handedOver = null;
      arriving.leave();
      prices.forget();
      files = given;
      issues = found;
      progress = { step: 'Opening', share: 0 };
      try {
        await desk.call('open', { files });
      } catch (error) {
        issues = [...found, issueOf(error)];
        progress = null;
        return;
      }
      history = startHistory(next);
      await run();
    },
    /** Sort files nobody said anything of and make a plan of them. Where they make none, the plan that was open stays open. */
    async handOver(request: DraftRequest): Promise<void> {
      clearTimeout(waiting);
      running?.abort();
      const control = new AbortController();
      running = control;
      sorting = true;
      stopped = false;
      issues = [];
      progress = { step: 'Reading the files', share: 0 };
      let answer: DraftAnswer | null = null;
      try {
        answer = await desk.call('draft', request, {
          signal: control.signal,
          onProgress: (next) => {
            if (running === control) progress = next;
          },
        });
      } catch (error) {
        if (!control.signal.aborted) issues = [issueOf(error)];
      }
      // Something else was opened meanwhile.
      if (running !== null && running !== control) return;
      sorting = false;
      running = null;
      progress = null;
      if (answer) handedOver = { ...answer, request };
      if (answer?.plan) {
        arriving.leave();
        prices.forget();
        files = request.files;
        history = startHistory(answer.plan);
        outcome = null;
        handOff = null;
      } else if (history) {
        // The desk holds the loose files now.
        await desk.call('open', { files });
      }
      if (history) await run();
    },
    /** Say what keeps a plan from being opened; what was open stays open. */
    refuse(found: readonly Issue[]): void {
      issues = found;
    },
    /** Make an edit; answers why it is refused, or null when it is made. */
    edit(note: string, verb: (plan: Plan) => Edited): string | null {
      if (!history) return 'No plan is open.';
      if (sorting) return 'Files are being read; wait until they are, or cancel.';
      const edited = verb(present(history));
      if (edited.refused !== null) return edited.refused;
      moveTo(record(history, edited.plan, note));
      return null;
    },
    /** Make an edit of the lineup, which is then another file than the one opened; answers why it is refused, or null when it is made. */
    editLineup(note: string, verb: (lineup: Lineup) => Lineup | string): Promise<string | null> {
      return rewrite(note, (before) => (before ? verb(before) : 'No lineup is open.'));
    },
    /** Files of trials and products that are looked at. */
    arriving,
    /** What the trials of the lineup tell. */
    trials,
    /** What the plan would be worth at other prices. */
    prices,
    /** Take what they make into the plan; answers why not, or null. */
    takeArrived(note: string): Promise<string | null> {
      return rewrite(note, (before) => {
        const { request, draft } = arriving;
        if (!request || !draft?.lineup) return 'There is nothing to take.';
        if (request.known !== before) {
          arriving.lookAgain(before);
          return 'The lineup has changed meanwhile: look at what would come of it now.';
        }
        arriving.leave();
        return draft.lineup;
      });
    },
    undo(): void {
      if (history) moveTo(undo(history));
    },
    redo(): void {
      if (history) moveTo(redo(history));
    },
    cancel(): void {
      clearTimeout(waiting);
      running?.abort();
      running = null;
      progress = null;
      stopped = !sorting;
      sorting = false;
    },
    run,
    async why(cell: number): Promise<WhyHere | null> {
      try {
        return await desk.call('why', { cell });
      } catch {
        // Overtaken by a new run; the card asks again when it ends.
        return null;
      }
    },
    async build(): Promise<void> {
      const asked = plan;
      if (!asked) return;
      progress = { step: 'Writing the hand-off', share: 0 };
      try {
        const built = await desk.call(
          'handOff',
          { plan: asked },
          { onProgress: (next) => (progress = next) },
        );
        handOff = { ...built, plan: asked };
      } catch (error) {
        issues = [...issues, issueOf(error)];
      } finally {
        progress = null;
      }
    },
  };
}

export type Work = ReturnType<typeof createWork>;

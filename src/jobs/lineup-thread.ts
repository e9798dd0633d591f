import type { Progress, RunControl } from '../run/walk.ts';
import type { Calls } from './calls.ts';
import { draftLineup } from './draft-lineup.ts';
import { trialsTold } from './trials-told.ts';

/** Calls about a lineup that take long, and how each is answered. */
type LineupCall = 'lineup' | 'trials';
export const LINEUP_ANSWERS: {
  readonly [N in LineupCall]: (takes: Calls[N]['takes'], control: RunControl) => Calls[N]['gives'];
} = { lineup: draftLineup, trials: trialsTold };

/** What goes to a thread, once, and what comes back. */
export interface ToLineupThread<N extends LineupCall = LineupCall> {
  readonly name: N;
  readonly takes: Calls[N]['takes'];
}
export type FromLineupThread =
  | { readonly progress: Progress }
  | { readonly gives: Calls[LineupCall]['gives'] }
  | { readonly failed: string };

/** A thread for one question, wherever threads come from. */
export interface LineupThread {
  ask(question: ToLineupThread): void;
  hear(listener: (answer: FromLineupThread) => void): void;
  stop(): void;
}

export type AnswerLineup = <N extends LineupCall>(
  question: ToLineupThread<N>,
  control: RunControl,
) => Promise<Calls[N]['gives']>;

export const answerHere: AnswerLineup = async ({ name, takes }, control) =>
  LINEUP_ANSWERS[name](takes, control);

/** In a thread of its own, a new one each time: hundreds of products take seconds, and are stopped the moment they are cancelled. */
export function answeringInThread(start: () => LineupThread): AnswerLineup {
  return (question, { signal, onProgress }) =>
    new Promise((resolve, reject) => {
      signal?.throwIfAborted();
      const thread = start();
      const cancel = () => {
        thread.stop();
        reject(new DOMException('Cancelled', 'AbortError'));
      };
      signal?.addEventListener('abort', cancel, { once: true });
      thread.hear((answer) => {
        if ('progress' in answer) {
          onProgress?.(answer.progress);
          return;
        }
        signal?.removeEventListener('abort', cancel);
        thread.stop();
        // A thread answers what it was asked.
        if ('gives' in answer) resolve(answer.gives as never);
        else reject(new Error(answer.failed));
      });
      thread.ask(question);
    });
}

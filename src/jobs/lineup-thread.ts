import type { RunControl } from '../run/walk.ts';
import type { LineupDraft, LineupRequest } from './draft-lineup.ts';

/** What comes back from a thread that drafts a lineup; a request is all that goes there. */
export type FromDrafter =
  | { readonly progress: { readonly step: string; readonly share: number } }
  | { readonly draft: LineupDraft }
  | { readonly failed: string };

/** A thread for one draft, wherever threads come from. */
export interface DraftingThread {
  ask(request: LineupRequest): void;
  hear(listener: (answer: FromDrafter) => void): void;
  stop(): void;
}

export type DraftLineup = (request: LineupRequest, control: RunControl) => Promise<LineupDraft>;

/** Drafting in a thread of its own, a new one each time: fitting hundreds of products takes seconds, and is stopped the moment it is cancelled. */
export function draftingInThread(start: () => DraftingThread): DraftLineup {
  return (request, { signal, onProgress }) =>
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
        if ('draft' in answer) resolve(answer.draft);
        else reject(new Error(answer.failed));
      });
      thread.ask(request);
    });
}

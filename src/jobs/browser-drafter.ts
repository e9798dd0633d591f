import '../plan/no-eval.ts';
import { draftLineup, type LineupRequest } from './draft-lineup.ts';
import type { FromDrafter } from './lineup-thread.ts';

/** A worker that drafts one lineup: its desk stops it when it is done, or no longer wanted. */
const answer = (message: FromDrafter) => self.postMessage(message);
self.addEventListener('message', ({ data }: MessageEvent<LineupRequest>) => {
  try {
    answer({ draft: draftLineup(data, { onProgress: (progress) => answer({ progress }) }) });
  } catch (thrown) {
    answer({ failed: thrown instanceof Error ? thrown.message : String(thrown) });
  }
});

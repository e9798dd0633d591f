import '../plan/no-eval.ts';
import { type FromLineupThread, LINEUP_ANSWERS, type ToLineupThread } from './lineup-thread.ts';

/** A worker for one question of a lineup: its desk stops it when it is done, or no longer wanted. */
const answer = (message: FromLineupThread) => self.postMessage(message);
self.addEventListener('message', ({ data }: MessageEvent<ToLineupThread>) => {
  try {
    const own = LINEUP_ANSWERS[data.name];
    answer({ gives: own(data.takes as never, { onProgress: (progress) => answer({ progress }) }) });
  } catch (thrown) {
    answer({ failed: thrown instanceof Error ? thrown.message : String(thrown) });
  }
});

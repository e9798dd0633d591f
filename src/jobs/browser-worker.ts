import '../plan/no-eval.ts';
import { createDesk } from './desk.ts';
import type { FromDesk, ToDesk } from './messages.ts';

/** The worker's side: serves one desk to the page, one message a call. */
const desk = createDesk();
const running = new Map<number, AbortController>();
const answer = (message: FromDesk) => self.postMessage(message);

self.addEventListener('message', async ({ data }: MessageEvent<ToDesk>) => {
  if ('cancel' in data) {
    running.get(data.id)?.abort();
    return;
  }
  const { id } = data;
  const abort = new AbortController();
  running.set(id, abort);
  try {
    const gives = await desk.call(data.name, data.takes as never, {
      signal: abort.signal,
      onProgress: (progress) => answer({ id, progress }),
    });
    answer({ id, gives });
  } catch (thrown) {
    answer({
      id,
      failed: thrown instanceof Error ? thrown.message : String(thrown),
      cancelled: abort.signal.aborted,
    });
  } finally {
    running.delete(id);
  }
});

import '../plan/no-eval.ts';
import { boundedReading, type ReadingThread } from './bounded-reading.ts';
import { createDesk } from './desk.ts';
import { answeringInThread, type FromLineupThread, type LineupThread } from './lineup-thread.ts';
import type { FromDesk, ToDesk } from './messages.ts';
import type { FromReader } from './reading-thread.ts';

/** The worker's side: serves one desk to the page, one message a call. */
const desk = createDesk(boundedReading(startReader), answeringInThread(startLineupThread));
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

/** A reader is a worker of this worker: it can be stopped while the desk goes on. A browser does not tell a worker's memory, so only time is watched. */
function startReader(): ReadingThread {
  const worker = new Worker(new URL('./browser-reader.ts', import.meta.url), { type: 'module' });
  let listener: (answer: FromReader | null, why?: string) => void = () => undefined;
  worker.addEventListener('message', ({ data }: MessageEvent<FromReader>) => listener(data));
  worker.addEventListener('error', ({ message }) => listener(null, message || undefined));
  return {
    ask: (request) => worker.postMessage(request),
    hear: (next) => {
      listener = next;
    },
    stop: () => worker.terminate(),
  };
}

function startLineupThread(): LineupThread {
  const worker = new Worker(new URL('./browser-lineup.ts', import.meta.url), { type: 'module' });
  return {
    ask: (question) => worker.postMessage(question),
    hear: (listener) => {
      worker.addEventListener('message', ({ data }: MessageEvent<FromLineupThread>) => listener(data));
      worker.addEventListener('error', ({ message }) =>
        listener({ failed: message || 'The worker stopped' }),
      );
    },
    stop: () => worker.terminate(),
  };
}

import { isMainThread, parentPort, Worker } from 'node:worker_threads';
import type { ReadTogether } from '../formats/registry.ts';
import { boundedReading, type ReadingThread } from '../jobs/bounded-reading.ts';
import { type FromReader, serveReading, type ToReader } from '../jobs/reading-thread.ts';

/** Most the reader's own objects may take; the arrays it fills are watched from outside. */
const HEAP_MB = 2048;

/** Reading in a worker thread of this process, under limits. The thread runs this same program and serves. */
export function readingInThread(): ReadTogether {
  return boundedReading(startThread, undefined, () => process.memoryUsage.rss() / 1e6);
}

/** In such a thread, serve and answer true: the program is then no command line. */
export function servesReading(): boolean {
  if (isMainThread || !parentPort) return false;
  const port = parentPort;
  const serve = serveReading((message, handOver) => port.postMessage(message, handOver));
  port.on('message', (request: ToReader) => serve(request));
  return true;
}

function startThread(): ReadingThread {
  const worker = new Worker(new URL(import.meta.url), {
    resourceLimits: { maxOldGenerationSizeMb: HEAP_MB },
    // What the command was asked is not for the reader.
    argv: [],
  });
  let listener: (answer: FromReader | null, why?: string) => void = () => undefined;
  worker.on('message', (answer: FromReader) => listener(answer));
  worker.on('error', (error: NodeJS.ErrnoException) =>
    error.code === 'ERR_WORKER_OUT_OF_MEMORY' ? listener(null) : listener(null, error.message),
  );
  // A waiting reader keeps no command from ending. Listening holds it again, so this comes last.
  worker.unref();
  return {
    ask: (request) => worker.postMessage(request),
    hear: (next) => {
      listener = next;
    },
    stop: () => void worker.terminate(),
  };
}

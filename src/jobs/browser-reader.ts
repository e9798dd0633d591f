import '../plan/no-eval.ts';
import { serveReading, type ToReader } from './reading-thread.ts';

/** A worker that only reads files: its desk stops it when a file takes too long. */
const serve = serveReading((message, handOver) => self.postMessage(message, { transfer: handOver }));
self.addEventListener('message', ({ data }: MessageEvent<ToReader>) => serve(data));

import type { Breathe } from '../formats/breathe.ts';
import type { RunControl } from '../run/walk.ts';

/** Longest a piece of work goes on before a cancel in the queue is heard, ms: well under what a person feels. Our own choice. */
const SLICE_MS = 25;

/** Breath for work under a control: every while it lets what waits in the queue come to its turn, tells progress at `share` of the whole, and stops when asked. */
export function breathing({ signal, onProgress }: RunControl, share: number): Breathe {
  let since = performance.now();
  return async (doing) => {
    if (performance.now() - since < SLICE_MS) return;
    onProgress?.({ step: doing, share });
    await new Promise((resolve) => setTimeout(resolve, 0));
    signal?.throwIfAborted();
    since = performance.now();
  };
}

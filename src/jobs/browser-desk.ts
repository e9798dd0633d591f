import type { RunControl } from '../run/walk.ts';
import type { Desk } from './desk.ts';
import type { FromDesk, ToDesk } from './messages.ts';

interface Waiting {
  readonly resolve: (gives: never) => void;
  readonly reject: (reason: Error) => void;
  readonly control: RunControl;
}

/** A desk in a worker of its own: the page stays free while it works. A cancelled call rejects with an AbortError at once. */
export function createBrowserDesk(): Desk {
  const worker = new Worker(new URL('./browser-worker.ts', import.meta.url), { type: 'module' });
  const waiting = new Map<number, Waiting>();
  let next = 0;
  const send = (message: ToDesk) => worker.postMessage(message);

  worker.addEventListener('message', ({ data }: MessageEvent<FromDesk>) => {
    const call = waiting.get(data.id);
    if (!call) return;
    if ('progress' in data) {
      call.control.onProgress?.(data.progress);
      return;
    }
    waiting.delete(data.id);
    if ('failed' in data)
      call.reject(data.cancelled ? new DOMException(data.failed, 'AbortError') : new Error(data.failed));
    else call.resolve(data.gives as never);
  });
  worker.addEventListener('error', (event) => {
    for (const call of waiting.values()) call.reject(new Error(event.message || 'The worker stopped'));
    waiting.clear();
  });

  return {
    call: (name, takes, control = {}) =>
      new Promise((resolve, reject) => {
        const id = next++;
        waiting.set(id, { resolve, reject, control });
        control.signal?.addEventListener('abort', () => {
          if (!waiting.delete(id)) return;
          send({ id, cancel: true });
          reject(new DOMException('Cancelled', 'AbortError'));
        });
        send({ id, name, takes });
      }),
  };
}

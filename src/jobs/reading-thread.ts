import type { Ring } from '../engine/geometry/ring.ts';
import type { Source } from '../engine/layers/source.ts';
import type { FileBytes } from '../formats/file-bytes.ts';
import type { Reading, ReadOptions } from '../formats/format.ts';
import { readTogether } from '../formats/registry.ts';

/** What crosses to a thread that reads, and back. */
export interface ToReader {
  readonly id: number;
  readonly files: readonly FileBytes[];
  readonly options: ReadOptions;
}
export type FromReader =
  | { readonly id: number; readonly reading: Reading }
  | { readonly id: number; readonly failed: string };

/** The thread's side: reads what it is asked to, one request after another; what it read is handed over, not copied. */
export function serveReading(answer: (message: FromReader, handOver: ArrayBuffer[]) => void) {
  return async ({ id, files, options }: ToReader): Promise<void> => {
    try {
      const reading = await readTogether(files, options);
      answer({ id, reading }, buffersOf(reading.sources));
    } catch (thrown) {
      answer({ id, failed: thrown instanceof Error ? thrown.message : String(thrown) }, []);
    }
  };
}

/** Every buffer behind the sources, once: two arrays may share one, and one that is handed over twice is refused. */
function buffersOf(sources: readonly Source[]): ArrayBuffer[] {
  const buffers = new Set<ArrayBuffer>();
  const add = (array: Ring | Int32Array) => {
    if (array.buffer instanceof ArrayBuffer) buffers.add(array.buffer);
  };
  for (const { x, y, rings, columns } of sources) {
    add(x);
    add(y);
    for (const column of columns) add(column.kind === 'number' ? column.values : column.codes);
    for (const ring of rings.flatMap((own) => own ?? [])) add(ring);
  }
  return [...buffers];
}

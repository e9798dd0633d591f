import type { Issue } from '../engine/issue.ts';
import type { FileBytes } from '../formats/file-bytes.ts';
import type { Reading } from '../formats/format.ts';
import type { ReadTogether } from '../formats/registry.ts';
import type { FromReader, ToReader } from './reading-thread.ts';

/** A thread that reads, wherever threads come from: it can be asked, heard and stopped. */
export interface ReadingThread {
  ask(request: ToReader): void;
  /** Called with every answer; with null when the thread has died: for want of memory, or for the reason given. */
  hear(listener: (answer: FromReader | null, why?: string) => void): void;
  stop(): void;
}

export interface ReadingLimits {
  /** Longest a layer may take, by its bytes. */
  readonly seconds: (bytes: number) => number;
  /** Most memory a layer may take beyond what was in use before, by its bytes, MB. */
  readonly megabytes: (bytes: number) => number;
}

/** Far beyond what any sound file needs (a million rows of CSV, 71 MB, take half a second and 266 MB: docs/bench.md), and soon enough to be told. Our own choice. */
export const READING_LIMITS: ReadingLimits = {
  seconds: (bytes) => 20 + bytes / 1e6,
  megabytes: (bytes) => 512 + (12 * bytes) / 1e6,
};

/** How often memory is looked at, ms. */
const WATCH = 200;

/**
 * Reading in a thread of its own, under limits of time and memory: a file that would hang or fill the machine becomes an issue, and the next is read in a
 * fresh thread. Layers are read one after another. `inUse_MB` tells the memory of the whole process; without it only time is watched.
 */
export function boundedReading(
  start: () => ReadingThread,
  limits: ReadingLimits = READING_LIMITS,
  inUse_MB: (() => number) | null = null,
): ReadTogether {
  let thread: ReadingThread | null = null;
  let turn: Promise<unknown> = Promise.resolve();
  let next = 0;

  const readOne: ReadTogether = (files, options) =>
    new Promise<Reading>((resolve, reject) => {
      const bytes = files.reduce((sum, file) => sum + file.bytes.length, 0);
      const [seconds, megabytes] = [limits.seconds(bytes), limits.megabytes(bytes)];
      const before = inUse_MB?.() ?? 0;
      const id = next++;
      thread ??= start();
      const own = thread;
      const done = () => {
        clearTimeout(late);
        clearInterval(watch);
      };
      const giveUp = (issue: Issue) => {
        done();
        own.stop();
        // A thread stopped before may die late, when the next has long begun.
        if (thread === own) thread = null;
        resolve({ sources: [], issues: [issue] });
      };
      const late = setTimeout(() => giveUp(tookTooLong(files, seconds)), 1000 * seconds);
      const watch = setInterval(() => {
        if (inUse_MB && inUse_MB() - before > megabytes)
          giveUp(tookTooMuch(files, `more than ${Math.round(megabytes)} MB`));
      }, WATCH);
      own.hear((answer, why) => {
        if (answer === null)
          giveUp(why ? readFailed(files, why) : tookTooMuch(files, 'more memory than the reader may have'));
        else if (answer.id === id) {
          done();
          if ('failed' in answer) reject(new Error(answer.failed));
          else resolve(answer.reading);
        }
      });
      try {
        own.ask({ id, files, options });
      } catch (thrown) {
        done();
        reject(thrown);
      }
    });

  return (files, options) => {
    const mine = turn.then(() => readOne(files, options));
    turn = mine.catch(() => undefined);
    return mine;
  };
}

function tookTooLong(files: readonly FileBytes[], seconds: number): Issue {
  return {
    code: 'read-took-too-long',
    severity: 'error',
    where: files[0].name,
    found: `no end of reading after ${Math.round(seconds)} s`,
    expected: 'a file of its size read well within that',
    effect: 'The file was not read',
    remedy: 'Export it again, in parts if it is very large',
  };
}

function tookTooMuch(files: readonly FileBytes[], found: string): Issue {
  return {
    code: 'read-took-too-much',
    severity: 'error',
    where: files[0].name,
    found: `reading that takes ${found}`,
    expected: 'about ten times the size of the file',
    effect: 'The file was not read',
    remedy: 'Export it again, in parts if it is very large',
  };
}

function readFailed(files: readonly FileBytes[], found: string): Issue {
  return {
    code: 'read-failed',
    severity: 'error',
    where: files[0].name,
    found: `a fault while reading: ${found}`,
    expected: 'a file read, or refused with a reason',
    effect: 'The file was not read',
    remedy: 'Try again; if it stays, this is a fault of the program and not of the file',
  };
}

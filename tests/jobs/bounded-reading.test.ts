import { Worker } from 'node:worker_threads';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { Reading } from '../../src/formats/format.ts';
import { boundedReading, READING_LIMITS, type ReadingThread } from '../../src/jobs/bounded-reading.ts';
import type { FromReader, ToReader } from '../../src/jobs/reading-thread.ts';
import { table } from '../engine/layers/small-source.ts';

const file = (name: string, bytes = 10) => ({ name, bytes: new Uint8Array(bytes) });
const reading = (name: string): Reading => ({ sources: [table({ yield: [150] }, name)], issues: [] });
const told = ({ sources, issues }: Reading) => [
  ...sources.map((source) => source.file),
  ...issues.map(({ code, severity }) => `${severity} ${code}`),
];

/** A thread that keeps what it is asked until a test answers for it. */
class SlowThread implements ReadingThread {
  readonly asked: ToReader[] = [];
  stopped = 0;
  listener: (answer: FromReader | null, why?: string) => void = () => undefined;
  ask(request: ToReader) {
    this.asked.push(request);
  }
  hear(listener: (answer: FromReader | null, why?: string) => void) {
    this.listener = listener;
  }
  stop() {
    this.stopped++;
  }
  answer(name = this.asked.at(-1)?.files[0].name ?? '') {
    this.listener({ id: this.asked.at(-1)?.id ?? -1, reading: reading(name) });
  }
}

describe('reading in a thread under limits', () => {
  let threads: SlowThread[] = [];
  let inUse_MB = 100;
  const limits = { seconds: (bytes: number) => 2 + bytes, megabytes: (bytes: number) => 50 + bytes };
  const start = () => {
    const thread = new SlowThread();
    threads.push(thread);
    return thread;
  };
  const bounded = () => boundedReading(start, limits, () => inUse_MB);
  const settle = (ms = 0) => vi.advanceTimersByTimeAsync(ms);

  beforeEach(() => {
    vi.useFakeTimers();
    threads = [];
    inUse_MB = 100;
  });
  afterEach(() => {
    // Whatever was answered, nothing may be left that keeps a process from ending.
    expect(vi.getTimerCount()).toBe(0);
    vi.useRealTimers();
  });

  it('answers what the thread read, one layer after another in one thread', async () => {
    const read = bounded();
    const first = read([file('a.csv')], {});
    const second = read([file('b.csv')], { swapLonLat: true });
    await settle();
    expect(threads).toHaveLength(1);
    expect(threads[0].asked.map(({ files }) => files[0].name)).toEqual(['a.csv']);
    threads[0].answer();
    expect(told(await first)).toEqual(['a.csv']);
    await settle();
    expect(threads[0].asked.map(({ files, options }) => [files[0].name, options])).toEqual([
      ['a.csv', {}],
      ['b.csv', { swapLonLat: true }],
    ]);
    threads[0].answer();
    expect(told(await second)).toEqual(['b.csv']);
    expect([threads.length, threads[0].stopped]).toEqual([1, 0]);
  });

  it('stops a thread that does not answer after its time, by the size of all its files, and reads the next in a fresh one', async () => {
    const read = bounded();
    // 2 s and a second a byte: 12 s for both members.
    const stuck = read([file('a.shp', 7), file('a.dbf', 3)], {});
    const next = read([file('b.csv')], {});
    await settle(11_990);
    expect(threads[0].stopped).toBe(0);
    await settle(20);
    const { sources, issues } = await stuck;
    expect(sources).toEqual([]);
    expect(issues).toMatchObject([
      {
        code: 'read-took-too-long',
        severity: 'error',
        where: 'a.shp',
        found: 'no end of reading after 12 s',
      },
    ]);
    for (const words of Object.values(issues[0])) expect(words).not.toBe('');
    expect(threads.map(({ stopped }) => stopped)).toEqual([1, 0]);
    expect(threads[1].asked[0].files[0].name).toBe('b.csv');
    threads[1].answer();
    expect(told(await next)).toEqual(['b.csv']);
  });

  it('stops a thread that takes too much memory beyond what was in use before', async () => {
    inUse_MB = 900;
    const read = bounded();
    const greedy = read([file('a.csv', 10)], {});
    await settle();
    // 50 MB and one a byte.
    inUse_MB = 960;
    await settle(1000);
    expect(threads[0].stopped).toBe(0);
    inUse_MB = 961;
    await settle(200);
    expect(told(await greedy)).toEqual(['error read-took-too-much']);
    expect((await greedy).issues[0]).toMatchObject({
      where: 'a.csv',
      found: 'reading that takes more than 60 MB',
    });
    expect(threads[0].stopped).toBe(1);
    // What the first took is given back later, or never: the next is measured from where it begins.
    const next = read([file('b.csv')], {});
    await settle(1000);
    threads[1].answer();
    expect(told(await next)).toEqual(['b.csv']);
  });

  it('takes a thread that dies for one that had too little memory, and starts another', async () => {
    const read = bounded();
    const first = read([file('a.csv')], {});
    await settle();
    threads[0].listener(null);
    expect(told(await first)).toEqual(['error read-took-too-much']);
    const next = read([file('b.csv')], {});
    await settle();
    expect(threads).toHaveLength(2);
    threads[1].answer();
    expect(told(await next)).toEqual(['b.csv']);
  });

  it('tells a thread that failed for another reason by that reason', async () => {
    const read = bounded();
    const first = read([file('a.csv')], {});
    await settle();
    threads[0].listener(null, 'the program is not whole');
    const { issues } = await first;
    expect(issues).toMatchObject([
      { code: 'read-failed', where: 'a.csv', found: 'a fault while reading: the program is not whole' },
    ]);
  });

  it('reads on after a thread has died with nothing to do', async () => {
    const read = bounded();
    const first = read([file('a.csv')], {});
    await settle();
    threads[0].answer();
    expect(told(await first)).toEqual(['a.csv']);
    threads[0].listener(null);
    const next = read([file('b.csv')], {});
    await settle();
    expect(threads).toHaveLength(2);
    threads[1].answer();
    expect(told(await next)).toEqual(['b.csv']);
  });

  it('hears a thread that was stopped no more: neither its late answer nor its death touches the fresh one', async () => {
    const read = bounded();
    const stuck = read([file('a.csv')], {});
    await settle(12_000);
    expect(told(await stuck)).toEqual(['error read-took-too-long']);
    const second = read([file('b.csv')], {});
    await settle();
    threads[0].answer('a.csv');
    threads[0].listener(null);
    await settle();
    expect(threads[1].stopped).toBe(0);
    threads[1].answer();
    expect(told(await second)).toEqual(['b.csv']);
    const third = read([file('c.csv')], {});
    await settle();
    expect(threads).toHaveLength(2);
    threads[1].answer();
    expect(told(await third)).toEqual(['c.csv']);
  });

  it('passes on a fault of the reader itself, and reads the next all the same', async () => {
    const read = bounded();
    const first = read([file('a.csv')], {});
    const next = read([file('b.csv')], {});
    const failing = expect(first).rejects.toThrow('the reader is broken');
    await settle();
    threads[0].listener({ id: threads[0].asked[0].id, failed: 'the reader is broken' });
    await failing;
    await settle();
    threads[0].answer();
    expect(told(await next)).toEqual(['b.csv']);
  });

  it('leaves nothing behind when a request cannot be sent', async () => {
    const read = boundedReading(
      () =>
        Object.assign(start(), {
          ask: () => {
            throw new Error('cannot be cloned');
          },
        }),
      limits,
    );
    await expect(read([file('a.csv')], {})).rejects.toThrow('cannot be cloned');
  });

  it('allows a sound file many times what it needs, and no file without end', () => {
    // A yield log of 100 MB: two minutes, 1.7 GB.
    expect(READING_LIMITS.seconds(1e8)).toBe(120);
    expect(READING_LIMITS.megabytes(1e8)).toBe(1712);
    expect(READING_LIMITS.seconds(0)).toBe(20);
  });
});

/** A real thread that runs a script; the script answers on `parentPort`. */
function realThread(script: string): ReadingThread {
  const worker = new Worker(script, { eval: true, resourceLimits: { maxOldGenerationSizeMb: 32 } });
  let listener: (answer: FromReader | null) => void = () => undefined;
  worker.on('message', (answer: FromReader) => listener(answer));
  worker.on('error', () => listener(null));
  return {
    ask: (request) => worker.postMessage(request),
    hear: (next) => {
      listener = next;
    },
    stop: () => void worker.terminate(),
  };
}

describe('a real thread', () => {
  const ANSWERS = `
    const { parentPort } = require('node:worker_threads');
    parentPort.on('message', ({ id, files }) => {
      const name = files[0].name;
      if (name === 'loop.csv') for (;;);
      if (name === 'greedy.csv') { const held = []; for (;;) held.push(new Array(1e5).fill({})); }
      parentPort.postMessage({ id, reading: { sources: [], issues: [{ code: name }] } });
    });`;
  const codes = ({ issues }: Reading) => issues.map(({ code }) => code);

  it('in a loop without end is stopped, one out of memory is told, and the files between are read', async () => {
    let started = 0;
    let last: ReadingThread | null = null;
    const read = boundedReading(
      () => {
        started++;
        last = realThread(ANSWERS);
        return last;
      },
      { seconds: (bytes) => bytes, megabytes: () => 1e6 },
    );
    const all = await Promise.all(
      ['a.csv', 'loop.csv', 'b.csv', 'greedy.csv', 'c.csv'].map((name) =>
        // Two seconds for the loop; as long as it takes for the others.
        read([file(name, name === 'loop.csv' ? 2 : 50)], {}),
      ),
    );
    (last as ReadingThread | null)?.stop();
    expect(all.map(codes)).toEqual([
      ['a.csv'],
      ['read-took-too-long'],
      ['b.csv'],
      ['read-took-too-much'],
      ['c.csv'],
    ]);
    expect(started).toBe(3);
  });
});

import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { createDesk } from '../../src/jobs/desk.ts';
import {
  answerHere,
  answeringInThread,
  type FromLineupThread,
  LINEUP_ANSWERS,
  type ToLineupThread,
} from '../../src/jobs/lineup-thread.ts';
import type { Lineup } from '../../src/plan/lineup-schema.ts';
import { readLineup } from '../../src/plan/validate.ts';
import { lineup as withoutPlots } from '../run/small-field.ts';

const sample = readLineup(JSON.parse(readFileSync('sample-fields/lineup.json', 'utf8')), 'lineup.json')
  .value as Lineup;
const question: ToLineupThread<'trials'> = { name: 'trials', takes: { lineup: sample, crop: 'Corn' } };

/** A thread whose answers the test gives; what crosses is copied, as it is between threads. */
function silent() {
  const own = { asked: [] as ToLineupThread[], stopped: 0, tell: (_: FromLineupThread): void => undefined };
  const start = () => ({
    ask: (asked: ToLineupThread) => void own.asked.push(structuredClone(asked)),
    hear: (listener: (answer: FromLineupThread) => void) => {
      own.tell = (answer) => listener(structuredClone(answer));
    },
    stop: () => void own.stopped++,
  });
  return { own, start };
}

describe('a lineup answered for in a thread of its own', () => {
  it('tells progress, says what this thread would, and is over then', async () => {
    const { own, start } = silent();
    const shares: number[] = [];
    const told = answeringInThread(start)(question, { onProgress: ({ share }) => shares.push(share) });
    const [{ name, takes }] = own.asked;
    expect(name).toBe('trials');
    own.tell({
      gives: LINEUP_ANSWERS[name](takes as never, { onProgress: (progress) => own.tell({ progress }) }),
    });
    expect(await told).toEqual(await answerHere(question, {}));
    expect(shares).toEqual([0.1, 0.5]);
    expect([own.asked.length, own.stopped]).toEqual([1, 1]);
  });

  it('is stopped the moment it is cancelled, and says what it died of', async () => {
    const { own, start } = silent();
    const abort = new AbortController();
    const told = answeringInThread(start)(question, { signal: abort.signal });
    abort.abort();
    await expect(told).rejects.toThrow('Cancelled');
    expect(own.stopped).toBe(1);
    const dying = silent();
    const other = answeringInThread(dying.start)(question, {});
    dying.own.tell({ failed: 'out of memory' });
    await expect(other).rejects.toThrow('out of memory');
    expect(dying.own.stopped).toBe(1);
  });

  it('is not begun where it was cancelled before', async () => {
    const { own, start } = silent();
    const told = answeringInThread(start)(question, { signal: AbortSignal.abort() });
    await expect(told).rejects.toThrow();
    expect(own.asked).toEqual([]);
  });
});

describe('what trials tell, asked of the desk', () => {
  it('is of the products of the crop that have plots', async () => {
    const told = await createDesk().call('trials', question.takes);
    const tried = sample.products.flatMap(({ crop, plots }, k) => (crop === 'corn' && plots ? [k] : []));
    const stood = told!.standings.groups.flatMap(({ standings }) => standings.map(({ product }) => product));
    expect(stood.sort((a, b) => a - b)).toEqual(tried);
    expect(told!.answers.products.filter(({ sites }) => sites > 0)).toHaveLength(tried.length);
    expect(told!.environment_buPerAc).toHaveLength(sample.sites.length);
  });

  it('is nothing where the lineup keeps no plot of the crop', async () => {
    const desk = createDesk();
    expect(await desk.call('trials', { lineup: withoutPlots, crop: 'corn' })).toBeNull();
    expect(await desk.call('trials', { lineup: sample, crop: 'sorghum' })).toBeNull();
  });
});

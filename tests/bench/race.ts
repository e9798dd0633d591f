import { median } from '../../src/engine/math/median.ts';
import type { Timed } from './timed-process.ts';

/** Something that does the job in processes of its own. */
export interface Contestant {
  readonly name: string;
  run(): Promise<Timed>;
}

export interface Standing {
  readonly name: string;
  /** Median wall time of whole processes, and the span of all repeats, ms. */
  readonly ms: number;
  readonly least: number;
  readonly most: number;
  readonly peak_MB: number | null;
  readonly runs: readonly Timed[];
}

const REPEATS = 3;

/** One warm-up each, then three rounds in turn, so that a busy minute falls on all alike. */
export async function race(contestants: readonly Contestant[]): Promise<Standing[]> {
  for (const contestant of contestants) await contestant.run();
  const runs: Timed[][] = contestants.map(() => []);
  for (let round = 0; round < REPEATS; round++) {
    for (const [k, contestant] of contestants.entries()) runs[k].push(await contestant.run());
  }
  return contestants.map(({ name }, k) => {
    const times = runs[k].map(({ ms }) => ms);
    const peaks = runs[k].map(({ peak_MB }) => peak_MB ?? Number.NaN);
    return {
      name,
      ms: median(times),
      least: Math.min(...times),
      most: Math.max(...times),
      peak_MB: peaks.some(Number.isNaN) ? null : median(peaks),
      runs: runs[k],
    };
  });
}

import type { HarvestLog, Passes } from './harvest-log.ts';
import { followTrack, type Track } from './track.ts';
import { trustedHeader } from './trusted-header.ts';
import { markTurns } from './turns.ts';

/** Records in a row with nothing cut that end a pass; one or two may be a hiccup of the sensor. */
const IDLE_RECORDS = 3;

/**
 * Passes of a log: runs of records cut one after another without a gap in time, a leap, a sharp turn, the header going up or down, or another recorded pass
 * number. Header-up records make passes of their own. A record without a position, or one that leaps away from its pass which then goes on without it, belongs to
 * none (−1), though it may stand between the first and last of one. All figures here are common practice, without a source.
 * `track` may be that of the same log before its grain was moved.
 */
export function findPasses(log: HarvestLog, track: Track = followTrack(log)): Passes {
  const { order, placed, breaks } = track;
  const idle = idleRuns(log, order, placed);
  const starts = breaks.slice();
  for (let p = 1; p < placed.length; p++) if (idle[p] !== idle[p - 1]) starts[p] = 1;
  markTurns(track, starts);
  return { order, ...numberPasses(order, placed, starts), interval_s: track.interval_s, track };
}

function numberPasses(order: Uint32Array, placed: Uint32Array, starts: Uint8Array) {
  const pass = new Int32Array(order.length).fill(-1);
  const first: number[] = [];
  const last: number[] = [];
  for (let p = 0; p < placed.length; p++) {
    if (starts[p]) first.push(placed[p]);
    last[first.length - 1] = placed[p];
    pass[order[placed[p]]] = first.length - 1;
  }
  return { pass, first: Uint32Array.from(first), last: Uint32Array.from(last) };
}

/** 1 where the header is up, or nothing is cut for some records, by place on the track. */
function idleRuns(log: HarvestLog, order: Uint32Array, placed: Uint32Array): Uint8Array {
  const header = trustedHeader(log);
  const idle = new Uint8Array(placed.length);
  let run = 0;
  for (let p = 0; p < placed.length; p++) {
    const i = order[placed[p]];
    if (header?.[i] === 0) idle[p] = 1;
    run = log.value[i] <= 0 ? run + 1 : 0;
    if (run === IDLE_RECORDS) idle.fill(1, p + 1 - run, p + 1);
    if (run > IDLE_RECORDS) idle[p] = 1;
  }
  return idle;
}

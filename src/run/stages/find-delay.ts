import { estimateDelay, type FlowDelay } from '../../engine/harvest/flow-delay.ts';
import type { GrainRate } from '../../engine/harvest/grain-rate.ts';
import type { HarvestLog, Passes } from '../../engine/harvest/harvest-log.ts';
import type { Issue } from '../../engine/issue.ts';
import type { DelayUsed } from '../results.ts';

/** The plan's word, else what the data say, else nothing is moved. */
export function findDelay(
  log: HarvestLog,
  passes: Passes,
  said_s: number | null,
  rate: GrainRate,
): DelayUsed {
  const all = new Uint8Array(log.records).fill(1);
  const estimate = passes.first.length > 1 ? estimateDelay(log, passes, all, {}, rate) : null;
  if (said_s !== null) return { delay_s: said_s, from: 'the plan', estimate };
  if (estimate?.confident) {
    // Under half an interval nothing is gained, and moving by a part of a record blends it with its neighbour.
    const worth = Math.abs(estimate.delay_s) >= passes.interval_s / 2;
    return { delay_s: worth ? estimate.delay_s : 0, from: 'the data', estimate };
  }
  return { delay_s: 0, from: 'not known', estimate };
}

/** The data leave the delay open: nothing is moved, and whoever knows the machine may say. */
function delayNotKnown(estimate: FlowDelay, where: string): Issue {
  return {
    code: 'delay-not-known',
    severity: 'note',
    where,
    found: estimate.because,
    expected: 'neighbouring passes driven towards each other that show how late yields are recorded',
    effect: 'Yields stay where they were recorded',
    remedy: 'Say the seconds in the plan (delay_s) if you know them',
  };
}

/** What is to be told of a delay: that grain was moved, on which clock, or that nobody knows. */
export function tellDelay({ delay_s, from, estimate }: DelayUsed, log: HarvestLog, where: string): Issue[] {
  if (from === 'not known') return estimate ? [delayNotKnown(estimate, where)] : [];
  if (delay_s === 0) return [];
  const seconds = Math.abs(delay_s).toFixed(1);
  const side = delay_s > 0 ? 'after' : 'before';
  const tell = (issue: Omit<Issue, 'where'>): Issue => ({ ...issue, where });
  if (from === 'the data' && estimate)
    return [
      tell({
        code: 'delay-estimated',
        severity: 'note',
        found: `yields recorded ${seconds} s ${side} they were cut (${estimate.because})`,
        expected: 'yields where they were cut',
        effect: 'They are moved by so much',
        remedy: 'Say the seconds in the plan (delay_s) if you know better; 0 moves nothing',
      }),
    ];
  if (log.time_s !== null || (log.distance_m && log.speed_mPerS)) return [];
  return [
    tell({
      code: 'delay-clock-assumed',
      severity: 'warning',
      found: `${seconds} s to move yields by, and no time in the log`,
      expected: 'a time, or distance and speed, by record',
      effect: 'Seconds are counted by the way from record to record at 4.5 mph',
      remedy: 'Check that the map is not moved too far, or set delay_s to null',
    }),
  ];
}

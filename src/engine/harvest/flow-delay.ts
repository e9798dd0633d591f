import { Refusal } from '../issue.ts';
import { peakOf } from '../math/peak.ts';
import { usualOf } from '../math/usual.ts';
import { type GrainRate, grainRate } from './grain-rate.ts';
import type { HarvestLog, Passes } from './harvest-log.ts';
import { type NeighbourAgreement, neighbourAgreement } from './neighbour-agreement.ts';
import { opposedPairs } from './opposed-pairs.ts';
import type { RunClock } from './run-clock.ts';
import { trustedHeader } from './trusted-header.ts';

/** Shifts to try, in seconds: from, to and by. The step is taken in whole records. */
export interface DelayRange {
  readonly least_s: number;
  readonly most_s: number;
  readonly step_s: number;
}

export interface FlowDelay {
  /**
   * Seconds by which grain is still recorded late: it was cut where the machine was so long before the record. It is the mean time from header to
   * sensor, less what the monitor has made good already, and takes in an antenna ahead of the header or behind. 0 where the log cannot tell.
   */
  readonly delay_s: number;
  /** By shift: correlation of neighbours driven in opposite directions; NaN where there are none. The delay is where it peaks. */
  readonly curve: readonly { readonly delay_s: number; readonly criterion: number }[];
  /** Whether the delay may be used unseen. A delay without confidence is a best guess, or 0. */
  readonly confident: boolean;
  readonly because: string;
  /** Pairs of records compared, the same ones at every shift. */
  readonly pairs: number;
}

const USUAL_RANGE: DelayRange = { least_s: -6, most_s: 25, step_s: 1 };
const MOST_SPAN_S = 120;
/** The peak is read from the curve this far to either side: about the width over which grain mixes on its way. */
const PEAK_S = 4;
// What it takes to tell: our own choices, no source.
const LEAST_PAIRS = 200;
/** With fewer, on invented fields, one delay in seven that the halves agreed on was more than 1 s off. */
const TRUSTED_PAIRS = 500;
/** Of the records asked for a neighbour driven the other way. The rounds of a field harvested one way give some too, too few to go by. */
const LEAST_OPPOSED = 0.2;
const LEAST_CORRELATION = 0.25;
const HALVES_AGREE_S = 1;

/**
 * How late grain is recorded, by the log itself: the shift at which passes driven towards each other agree best where they lie side by side. A delay
 * moves the pattern of one forwards and that of the other backwards, so any wrong shift sets them apart by twice its error. Chung, Sudduth & Drummond 2002,
 * Transactions of the ASAE 45(4):915-926 (least semivariance between neighbours); Lee, Sudduth, Drummond, Chung & Myers 2012, Transactions of the
 * ASABE 55(3):743-752 (correlation of the maps of the two directions); here the correlation is taken record by record. Records near the ends of a pass, where the machine fills and
 * empties, are left out. Only records `kept` (1) are compared. `rate` is that of the log and its passes.
 *
 * @throws Refusal `delay-range` for a range that is empty or longer than two minutes
 */
export function estimateDelay(
  log: HarvestLog,
  passes: Passes,
  kept: Uint8Array,
  control: Partial<DelayRange> = {},
  rate: GrainRate = grainRate(log, passes),
): FlowDelay {
  const range = { ...USUAL_RANGE, ...control };
  refuseRange(range);
  const clock = passes.track.clock;
  const stride = Math.max(1, Math.round(range.step_s / clock.interval_s));
  const least = Math.ceil(range.least_s / clock.interval_s / stride);
  const most = Math.max(least, Math.floor(range.most_s / clock.interval_s / stride));
  const shifts = Int32Array.from({ length: most - least + 1 }, (_, k) => (least + k) * stride);
  const level = passLevels(log, passes, kept);
  const places = placesInside(log, passes, kept, clock, rate.ground, shifts);
  const { asked, ...pairs } = opposedPairs(log, passes, places, usualStep_m(log, passes));
  const agreement = neighbourAgreement(passes, pairs, rate, level, shifts);
  const step_s = stride * clock.interval_s;
  return {
    ...judge(agreement, asked, shifts[0] * clock.interval_s, step_s, clock),
    curve: Array.from(shifts, (shift, s) => ({
      delay_s: shift * clock.interval_s,
      criterion: agreement.whole[s],
    })),
    pairs: agreement.pairs,
  };
}

function judge(
  { pairs, whole, halves }: NeighbourAgreement,
  asked: number,
  least_s: number,
  step_s: number,
  clock: RunClock,
): Pick<FlowDelay, 'delay_s' | 'confident' | 'because'> {
  const cannot = (because: string) => ({ delay_s: 0, confident: false, because });
  const share = asked === 0 ? 0 : pairs / asked;
  const counted = `${pairs} of ${asked} records lie beside a pass driven the other way`;
  if (pairs < LEAST_PAIRS || share < LEAST_OPPOSED) return cannot(`cannot tell: ${counted}`);
  const reach = Math.max(1, Math.round(PEAK_S / step_s));
  const secondsAt = (curve: Float64Array) => least_s + step_s * peakOf(curve, reach);
  const delay_s = secondsAt(whole);
  const top = Math.round((delay_s - least_s) / step_s);
  const correlation = whole[top];
  if (!(correlation >= LEAST_CORRELATION)) {
    return cannot(
      `cannot tell: neighbouring passes agree at no shift (correlation ${correlation.toFixed(2)} at best)`,
    );
  }
  const ends = top === 0 || top === whole.length - 1;
  const [first_s, second_s] = halves.map(secondsAt);
  const spread_s = Math.max(delay_s, first_s, second_s) - Math.min(delay_s, first_s, second_s);
  const said = [
    `passes driven towards each other agree best at ${delay_s.toFixed(1)} s (correlation ${correlation.toFixed(2)})`,
    `the first half of the harvest says ${first_s.toFixed(1)} s, the second ${second_s.toFixed(1)} s`,
    ...(ends ? ['that is the end of the range tried'] : []),
    ...(pairs < TRUSTED_PAIRS ? [`${pairs} pairs of records are few to go by`] : []),
    ...(clock.recorded
      ? []
      : [`no time is recorded: records were taken to be ${clock.interval_s.toFixed(1)} s apart`]),
  ];
  return {
    delay_s,
    confident: !ends && pairs >= TRUSTED_PAIRS && spread_s <= HALVES_AGREE_S,
    because: said.join('; '),
  };
}

/** Mean yield of the kept records of each pass. */
function passLevels({ value }: HarvestLog, { pass, first }: Passes, kept: Uint8Array): Float64Array {
  const sum = new Float64Array(first.length);
  const count = new Uint32Array(first.length);
  for (let i = 0; i < value.length; i++) {
    if (pass[i] < 0 || kept[i] === 0 || !(value[i] > 0)) continue;
    sum[pass[i]] += value[i];
    count[pass[i]]++;
  }
  return sum.map((total, p) => total / count[p]);
}

/**
 * Places in the order, kept and cutting, so far from the ends of their pass that no shift reaches grain of another (a quarter of the pass at most), and with an
 * unbroken record over all shifts.
 */
function placesInside(
  log: HarvestLog,
  { order, pass, first, last }: Passes,
  kept: Uint8Array,
  { time_s, run, interval_s }: RunClock,
  ground: Float64Array,
  shifts: Int32Array,
): Uint32Array {
  const least = Math.min(0, shifts[0]);
  const most = Math.max(0, shifts[shifts.length - 1]);
  const span_s = (most - least) * interval_s;
  const header = trustedHeader(log);
  const slow = usualOf(order.length, (k) => ground[k]) / 2;
  const places = new Uint32Array(order.length);
  let count = 0;
  for (let k = -least; k < order.length - most; k++) {
    const i = order[k];
    if (kept[i] === 0 || pass[i] < 0 || log.inside[i] === 0) continue;
    if (!(log.value[i] > 0) || header?.[i] === 0 || !(ground[i] > slow)) continue;
    const from_s = time_s[first[pass[i]]];
    const to_s = time_s[last[pass[i]]];
    const margin_s = Math.min(span_s, (to_s - from_s) / 4);
    if (time_s[k] - from_s < margin_s || to_s - time_s[k] < margin_s) continue;
    if (run[k + least] !== run[k + most]) continue;
    // Records left out of the file make shifts by records longer than they should be.
    if (Math.abs(time_s[k + most] - time_s[k + least] - span_s) > 1.5 * interval_s) continue;
    places[count++] = k;
  }
  return places.subarray(0, count);
}

function usualStep_m({ x_m, y_m }: HarvestLog, { order }: Passes): number {
  return usualOf(order.length - 1, (k) =>
    Math.hypot(x_m[order[k + 1]] - x_m[order[k]], y_m[order[k + 1]] - y_m[order[k]]),
  );
}

function refuseRange({ least_s, most_s, step_s }: DelayRange): void {
  if (least_s < most_s && most_s - least_s <= MOST_SPAN_S && step_s > 0 && Math.abs(least_s) <= MOST_SPAN_S)
    return;
  throw new Refusal({
    code: 'delay-range',
    where: 'flow delay',
    found: `shifts from ${least_s} to ${most_s} s by ${step_s} s`,
    expected: `a range of ${MOST_SPAN_S} s or less, from less to more, by a step over zero`,
    effect: 'the delay cannot be estimated',
    remedy: `give a range such as ${USUAL_RANGE.least_s} to ${USUAL_RANGE.most_s} s`,
  });
}

import type { Column, NumberColumn, TextColumn } from '../../layers/source.ts';
import { median } from '../../math/median.ts';
import { secondsOfClockNumber } from '../time-number.ts';
import { dateOrder, momentOf } from '../time-text.ts';
import { type Look, POINTS, type UnitReading } from './meaning.ts';
import type { RoleUnit } from './role-units.ts';
import type { Sample } from './sample.ts';

/** Records come every 0.2 to 10 s. Common practice, no source. */
const STEP_S = [0.15, 11] as const;
/** Share of the steps in time that go forward in a file in the order it was recorded. */
const FORWARD = 0.9;

/** Points for a column of numbers as time in a unit: it goes forward, in steps of seconds. */
export function scoreTimeNumber(column: NumberColumn, unit: RoleUnit, look: Look): UnitReading {
  const steps = stepsOf_s(column, unit, look.sample);
  if (steps === null) return { unit, points: -POINTS.figures, because: [] };
  const moved = steps.filter((step) => Number.isFinite(step) && step !== 0);
  const forward = moved.filter((step) => step > 0);
  if (moved.length === 0) return { unit, points: 0, because: ['it stands still'] };
  const goes = forward.length / moved.length >= FORWARD;
  const step = usualStep_s(steps);
  const usual = step >= STEP_S[0] && step <= STEP_S[1];
  return {
    unit,
    points: (goes ? POINTS.figures / 2 + POINTS.agrees : 0) + (usual ? POINTS.figures / 2 : 0),
    because: [
      goes ? 'goes forward' : 'does not go forward',
      usual ? `a record every ${round(step)} s` : `records ${round(step)} s apart in ${unit.unit}`,
    ],
  };
}

/** Steps from each sampled row to the next; null where the figures cannot be in that unit at all. */
export function stepsOf_s(column: NumberColumn, unit: RoleUnit, sample: Sample): Float64Array | null {
  const [from, to] = [sample.at(column), sample.after(column)];
  if (unit.unit !== 'hhmmss') return to.map((own, k) => (own - from[k]) * unit.scale);
  const clock = [from, to].map((values) => values.map(secondsOfClockNumber));
  const readable = from.every((own, k) => Number.isNaN(own) || !Number.isNaN(clock[0][k]));
  // A clock after one o'clock has five figures; a count of seconds that small never looks like one for long.
  if (!readable || !from.some((own) => own >= 10_000)) return null;
  return clock[1].map((own, k) => own - clock[0][k]);
}

/** The same of clocks or moments in text. */
export function stepsOfText_s(column: TextColumn, rows: Int32Array): Float64Array {
  const at = (row: number) => {
    const code = row < column.codes.length ? column.codes[row] : -1;
    // The order of day and month does not matter from one record to the next.
    const moment = code < 0 ? null : momentOf(column.levels[code], 'month first');
    return moment?.clock_s ?? NaN;
  };
  return Float64Array.from(rows, (row) => at(row + 1) - at(row));
}

/** The mean of the forward steps that are no pause: a clock written in whole seconds or coarse days still gives the interval. NaN where there are none. */
export function usualStep_s(steps: Float64Array): number {
  const forward = steps.filter((step) => step > 0);
  const limit = 3 * median(forward);
  const usual = forward.filter((step) => step <= limit);
  // Steps of nothing are of a clock coarser than the interval.
  const still = steps.reduce((count, step) => count + (step === 0 ? 1 : 0), 0);
  return usual.length === 0 ? NaN : usual.reduce((sum, step) => sum + step, 0) / (usual.length + still);
}

/** Points for a column as dates or clocks in text, or dates as numbers like 20240903. */
export function scoreTimeText(column: Column, sample: Sample, role: 'time' | 'date'): UnitReading {
  const because: string[] = [];
  let points = 0;
  if (column.kind === 'text') {
    const share = shareOf(column, sample.rows, role);
    // A date with a clock is a time first.
    const whole = role === 'time' || shareOf(column, sample.rows, 'time') < 0.9;
    points = share >= 0.9 ? POINTS.figures + (whole ? POINTS.agrees : 0) : -POINTS.ahead;
    because.push(
      share >= 0.9 ? `reads as ${role === 'time' ? 'a time' : 'a date'}` : `does not read as a ${role}`,
    );
  } else {
    const known = sample.at(column).filter((own) => Number.isFinite(own));
    const dates = known.filter((own) => momentOf(String(own), 'month first')?.days != null);
    if (known.length > 0 && dates.length === known.length) points = POINTS.figures;
    because.push(points > 0 ? 'reads as a date' : 'does not read as a date');
  }
  return { unit: null, points, because };
}

function shareOf(column: TextColumn, rows: Int32Array, role: 'time' | 'date'): number {
  const codes = Array.from(rows, (row) => column.codes[row]).filter((code) => code >= 0);
  const texts = codes.map((code) => column.levels[code]);
  const order = dateOrder(texts);
  const read = texts.filter((text) => {
    const moment = momentOf(text, order);
    return moment !== null && (role === 'time' ? moment.clock_s !== null : moment.days !== null);
  });
  return texts.length === 0 ? 0 : read.length / texts.length;
}

function round(value: number): number {
  return Number(value.toPrecision(2));
}

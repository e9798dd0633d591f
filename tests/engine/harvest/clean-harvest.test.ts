import { describe, expect, it } from 'vitest';
import { CLEANING_RULES, cleanHarvest } from '../../../src/engine/harvest/clean-harvest.ts';
import type { HarvestLog } from '../../../src/engine/harvest/harvest-log.ts';
import { findPasses } from '../../../src/engine/harvest/passes.ts';
import { random } from '../../../src/engine/math/random.ts';
import { drivenPasses, withValues } from './driven-passes.ts';
import { smallLog } from './small-log.ts';

const clean = (log: HarvestLog, settings = {}) => cleanHarvest(log, findPasses(log), settings);
const keptOf = (state: Uint8Array) => [...state].filter((own) => own === 0).length;

/** Twenty passes of eighty records on ground that varies, with a tenth of the yields spoilt. */
const field = (() => {
  const { uniform } = random(3);
  const log = drivenPasses({
    passes: 20,
    records: 80,
    noise: 0.04,
    gps_m: 0.3,
    crop: 'corn',
    yieldAt: (along, across) => 150 + 30 * Math.sin(along / 40) * Math.cos(across / 50),
  });
  const spoilt = [...log.value.keys()].filter(() => uniform() < 0.1);
  return withValues(log, Object.fromEntries(spoilt.map((i) => [i, 400 * uniform() - 20])));
})();

function reordered(log: HarvestLog, from: readonly number[]): HarvestLog {
  const column = <T extends Float64Array | Uint8Array>(own: T) => own.map((_, i) => own[from[i]]) as T;
  return Object.fromEntries(
    Object.entries(log).map(([name, own]) => [
      name,
      ArrayBuffer.isView(own) ? column(own as Float64Array) : own,
    ]),
  ) as unknown as HarvestLog;
}

describe('cleaning', () => {
  it('keeps a record or gives it one reason, and its report counts the same', () => {
    const { state, reasons, report } = clean(field);
    expect(reasons).toEqual(CLEANING_RULES.map(({ id }) => id));
    for (const [k, { id, setAside }] of report.entries())
      expect([id, state.filter((own) => own === k + 1).length]).toEqual([id, setAside]);
    const setAside = report.reduce((sum, own) => sum + own.setAside, 0);
    expect(keptOf(state) + setAside).toBe(field.records);
    expect(setAside).toBeGreaterThan(0.1 * field.records);
  });

  it('judges places and yields whatever the plan says, for without them there is nothing to judge', () => {
    const astray = { ...field, x_m: field.x_m.map(() => NaN) };
    const { state, reasons } = clean(astray, { 'no-position': { use: false }, 'no-value': { use: false } });
    expect(new Set(state)).toEqual(new Set([1 + reasons.indexOf('no-position')]));
  });

  it('finds nine in ten of the spoilt yields off by a third or more, and leaves good ones', () => {
    const { state } = clean(field, { 'pass-start': { use: false }, 'pass-end': { use: false } });
    const truth = drivenPasses({
      passes: 20,
      records: 80,
      yieldAt: (along, across) => 150 + 30 * Math.sin(along / 40) * Math.cos(across / 50),
    }).value;
    let [bad, found, good, lost] = [0, 0, 0, 0];
    for (let i = 0; i < field.records; i++) {
      const off = Math.abs(field.value[i] / truth[i] - 1);
      if (off > 1 / 3) bad++;
      if (off > 1 / 3 && state[i] > 0) found++;
      if (off < 0.1) good++;
      if (off < 0.1 && state[i] > 0) lost++;
    }
    // Seen: 123 of 123, and none of 1,435.
    expect(found / bad).toBeGreaterThan(0.9);
    expect(lost / good).toBeLessThan(0.01);
  });

  it('does not depend on the order of rows where time is recorded', () => {
    const { integer } = random(5);
    const shuffled = [...field.value.keys()];
    for (let i = shuffled.length - 1; i > 0; i--) {
      const j = integer(i + 1);
      [shuffled[i], shuffled[j]] = [shuffled[j], shuffled[i]];
    }
    const straight = clean(field).state;
    const mixed = clean(reordered(field, shuffled)).state;
    expect([...mixed]).toEqual(shuffled.map((i) => straight[i]));
  });

  it.each([
    ['moved', 0, 5_000, -3_000],
    ['turned by 17°', 17, 0, 0],
    ['turned by 90°', 90, 0, 0],
    ['turned by 200° and moved', 200, -800, 12],
  ])('changes nothing for a field %s', (_, turned_deg, east_m, north_m) => {
    const [cos, sin] = [Math.cos((turned_deg * Math.PI) / 180), Math.sin((turned_deg * Math.PI) / 180)];
    const other = {
      ...field,
      x_m: field.x_m.map((x, i) => x * cos - field.y_m[i] * sin + east_m),
      y_m: field.y_m.map((y, i) => field.x_m[i] * sin + y * cos + north_m),
    };
    expect([...clean(other).state]).toEqual([...clean(field).state]);
  });

  it('does not depend on the unit of the yield', () => {
    const inTonnes = { ...field, value: field.value.map((own) => own / 15.93), buPerAcPerValue: 15.93 };
    expect([...clean(inTonnes).state]).toEqual([...clean(field).state]);
  });

  it('goes by thresholds that are set, leaves out rules not used, and says so', () => {
    const { report } = clean(field, {
      'global-outlier': { use: false },
      'pass-start': { use: true, thresholds: { seconds: 0 } },
    });
    const of = (id: string) => report.find((own) => own.id === id);
    expect(of('global-outlier')).toMatchObject({
      tried: false,
      untried: 'the plan does not use it',
      setAside: 0,
    });
    expect(of('pass-start')).toMatchObject({ tried: true, setAside: 0, thresholds: { seconds: 0 } });
    expect(of('pass-end')).toMatchObject({ tried: true, thresholds: { seconds: 4 } });
    const speed = clean({ ...field, time_s: null, distance_m: null }).report.find(
      ({ id }) => id === 'speed-range',
    );
    expect(speed).toMatchObject({ tried: false, untried: 'the log does not record what it needs' });
  });

  it('does not believe a rule that would set aside most of what is left', () => {
    // A moisture sensor that says nothing but zero.
    const { report } = clean({ ...field, moisture_pct: new Float64Array(field.records) });
    expect(report.find(({ id }) => id === 'moisture-range')).toMatchObject({
      tried: false,
      untried: expect.stringMatching(/^it would set aside \d+ of \d+ records: the log is in doubt/),
      setAside: 0,
    });
  });

  it('tells how far it is', () => {
    const told: number[] = [];
    cleanHarvest(field, findPasses(field), {}, (done) => told.push(done));
    expect([told.length, told[0], told.at(-1)]).toEqual([CLEANING_RULES.length + 1, 0, 1]);
    expect(told).toEqual(told.toSorted((a, b) => a - b));
  });

  it('leaves the log alone', () => {
    const copy = structuredClone(field);
    clean(field);
    expect(copy).toEqual(field);
  });
});

describe('every rule', () => {
  it.each(CLEANING_RULES.map((rule) => [rule.id, rule] as const))(
    '%s tells its source and reasons',
    (_, rule) => {
      expect([rule.id, rule.title, rule.source].every((words) => words.length > 5)).toBe(true);
      for (const [name, { usual, least, most, why }] of Object.entries(rule.thresholds)) {
        expect([name, least <= usual, usual <= most, why.length > 10]).toEqual([name, true, true, true]);
      }
    },
  );
  it('has a name of its own', () => {
    expect(new Set(CLEANING_RULES.map(({ id }) => id)).size).toBe(CLEANING_RULES.length);
  });
});

describe('bad logs', () => {
  const twice = reordered(
    field,
    [...field.value.keys(), ...field.value.keys()].map((i) => i % field.records),
  );

  it('written twice: every record counts once', () => {
    const doubled = {
      ...Object.fromEntries(
        Object.entries(field).map(([name, own]) => [
          name,
          own instanceof Float64Array ? Float64Array.of(...own, ...own) : own,
        ]),
      ),
      records: 2 * field.records,
      inside: Uint8Array.of(...field.inside, ...field.inside),
    } as HarvestLog;
    expect(twice.records).toBe(field.records);
    const once = clean(field).state;
    const { state } = clean(doubled);
    expect(keptOf(state)).toBe(keptOf(once));
    expect([...state].slice(field.records).every((own) => own > 0)).toBe(true);
  });
  it('with time going back, over midnight, or standing still', () => {
    const shifted = { ...field, time_s: field.time_s!.map((own) => (own + 86_000) % 86_400) };
    expect([...clean(shifted).state]).toEqual([...clean(field).state]);
    const back = { ...field, time_s: field.time_s!.map((own, i) => (i % 50 === 49 ? own - 1.5 : own)) };
    expect(keptOf(clean(back).state)).toBeGreaterThan(0.7 * field.records);
    const still = { ...field, time_s: new Float64Array(field.records) };
    expect(keptOf(clean(still).state)).toBeGreaterThan(0.7 * field.records);
  });
  it('with swaths of zero or none, speeds of zero, negative yields', () => {
    const swath_m = Float64Array.from(field.swath_m!);
    const speed_mPerS = new Float64Array(field.records).fill(2);
    const value = Float64Array.from(field.value);
    [swath_m[205], swath_m[206], speed_mPerS[300], value[400]] = [0, NaN, 0, -7];
    const { state, reasons } = clean({ ...field, swath_m, speed_mPerS, value });
    const reasonOf = (i: number) => reasons[state[i] - 1];
    expect([205, 206, 300, 400].map(reasonOf)).toEqual([
      'narrow-swath',
      'narrow-swath',
      'speed-range',
      'header-up',
    ]);
  });
  it('with all records outside the field', () => {
    const { state, report } = clean({ ...field, inside: new Uint8Array(field.records) });
    expect(keptOf(state)).toBe(0);
    expect(report.find(({ id }) => id === 'outside-field')?.setAside).toBe(field.records);
  });
  it.each([0, 1, 3])('of %i records, none of which is lost', (n) => {
    const { state } = clean(smallLog(n, { crop: 'corn', buPerAcPerValue: 1 }));
    expect([...state]).toEqual(Array.from({ length: n }, () => 0));
  });
  it('with the receiver at longitude and latitude 0 now and then', () => {
    const lost = [95, 96, 500];
    const x_m = field.x_m.map((x, i) => (lost.includes(i) ? 6.1e6 : x));
    const y_m = field.y_m.map((y, i) => (lost.includes(i) ? -5.2e6 : y));
    const { state, reasons } = clean({ ...field, x_m, y_m });
    expect(lost.map((i) => reasons[state[i] - 1])).toEqual(lost.map(() => 'position-jump'));
    expect(keptOf(state)).toBeGreaterThan(keptOf(clean(field).state) - 10);
  });
  it('with all yields equal', () => {
    const even = drivenPasses({ passes: 6, records: 40, crop: 'corn' });
    expect(keptOf(clean(even, { 'pass-start': { use: false }, 'pass-end': { use: false } }).state)).toBe(240);
  });
  it('with no number that is one', () => {
    const nothing = new Float64Array(10).fill(NaN);
    const log = smallLog(10);
    const { state } = clean({
      ...log,
      x_m: nothing,
      y_m: nothing,
      value: nothing,
      time_s: nothing,
      swath_m: nothing,
    });
    expect(keptOf(state)).toBe(0);
  });
});

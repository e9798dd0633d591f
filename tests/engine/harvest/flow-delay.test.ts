import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { type DelayRange, estimateDelay, type FlowDelay } from '../../../src/engine/harvest/flow-delay.ts';
import type { HarvestLog } from '../../../src/engine/harvest/harvest-log.ts';
import { findPasses } from '../../../src/engine/harvest/passes.ts';
import { shiftByDelay } from '../../../src/engine/harvest/shift-by-delay.ts';
import { sampleLog } from './sample-logs.ts';
import { type Harvest, harvestField } from './synthetic-harvester.ts';

const estimate = (log: HarvestLog, control?: Partial<DelayRange>): FlowDelay =>
  estimateDelay(log, findPasses(log), new Uint8Array(log.records).fill(1), control);
const mean = (values: readonly number[]) => values.reduce((a, b) => a + b, 0) / values.length;

/** What the estimate knows of a harvest; noise from 2 % to 10 %, each seed on a heading of its own. */
const design = (dead_s: number, smear_s: number, seed: number): Partial<Harvest> => ({
  ...{ dead_s, smear_s, seed, noise: 0.02 * seed, heading_deg: 37 * seed },
  ...{ across_m: 400, along_m: 600 },
});

const DEAD_S = [0, 3, 7, 12, 18];
const SMEAR_S = [0, 1.5, 3];

describe('the flow delay of a synthetic harvester', () => {
  let tried: { dead_s: number; smear_s: number; error_s: number; confident: boolean; said: string }[];

  /*
   * The true delay is the mean time from header to sensor: dead time and the time constant of a first-order smear, and half an interval, as a record holds
   * the mean flow of the second before its position. Over ground that changes in less than the smear an estimate leans towards the dead time.
   */
  beforeAll(() => {
    tried = DEAD_S.flatMap((dead_s) =>
      SMEAR_S.flatMap((smear_s) =>
        [1, 2, 3, 4, 5].map((seed) => {
          const { log, delay_s } = harvestField(design(dead_s, smear_s, seed));
          const found = estimate(log);
          const said = `dead ${dead_s} s, smear ${smear_s} s, seed ${seed}: ${found.because}`;
          return { dead_s, smear_s, error_s: found.delay_s - delay_s, confident: found.confident, said };
        }),
      ),
    );
    for (const smear_s of SMEAR_S) {
      const own = tried.filter((each) => each.smear_s === smear_s).map(({ error_s }) => error_s);
      const worst = Math.max(...own.map(Math.abs));
      console.log(
        `smear ${smear_s} s: against the mean residence ${mean(own).toFixed(2)} s on average, ${worst.toFixed(2)} s at worst;`,
        `against the dead time ${(mean(own) + smear_s).toFixed(2)} s on average (${own.length} harvests)`,
      );
    }
  });

  it.each(DEAD_S)(
    'of %d s dead time is found within 1 s, whatever the smear, noise and heading',
    (dead_s) => {
      const own = tried.filter((each) => each.dead_s === dead_s);
      expect(own).toHaveLength(15);
      for (const { error_s, said } of own) expect(Math.abs(error_s), said).toBeLessThanOrEqual(1);
    },
  );

  it('is trusted in nearly all of them, and its error does not lean by more than half a second', () => {
    const trusted = tried.filter(({ confident }) => confident).length;
    console.log(`trusted in ${trusted} of ${tried.length}`);
    expect(trusted).toBeGreaterThanOrEqual(0.9 * tried.length);
    expect(Math.abs(mean(tried.map(({ error_s }) => error_s)))).toBeLessThan(0.5);
  });

  it('is what is left after a shift by part of it', () => {
    const { log, delay_s } = harvestField(design(12, 1.5, 2));
    const half = shiftByDelay(log, findPasses(log), 8);
    expect(Math.abs(estimate(half).delay_s - (delay_s - 8))).toBeLessThanOrEqual(1);
    const beyond = shiftByDelay(log, findPasses(log), 17);
    expect(Math.abs(estimate(beyond).delay_s - (delay_s - 17))).toBeLessThanOrEqual(1);
  });

  it('is found where records stop while the header is up, and where they come every other second', () => {
    for (const more of [{ logsHeaderUp: false }, { interval_s: 2 }]) {
      const { log, delay_s } = harvestField({ ...design(10, 1.5, 1), ...more });
      expect(Math.abs(estimate(log).delay_s - delay_s)).toBeLessThanOrEqual(1);
    }
  });

  it('is found by records where no time is, which is told', () => {
    const { log, delay_s } = harvestField(design(10, 1.5, 1));
    const found = estimate({ ...log, time_s: null });
    expect(Math.abs(found.delay_s - delay_s)).toBeLessThanOrEqual(1);
    expect(found.because).toContain('no time is recorded: records were taken to be 1.0 s apart');
  });

  it('is the same whatever else stands in the file: the same twice, and any unit of yield', () => {
    const { log } = harvestField(design(7, 1.5, 4));
    expect(estimate(log)).toEqual(estimate(log));
    const inOther = { ...log, value: log.value.map((value) => value * 16) };
    expect(estimate(inOther).delay_s).toBe(estimate(log).delay_s);
  });
});

describe('a log that cannot tell', () => {
  it.each([
    { oneWay: true, rounds: 2 },
    { oneWay: true, rounds: 0 },
    { oneWay: true, rounds: 0, logsHeaderUp: false },
  ])('is one driven one way: %o', (more) => {
    const found = estimate(harvestField({ ...design(12, 1.5, 1), ...more }).log);
    expect(found).toMatchObject({ confident: false, delay_s: 0 });
    expect(found.because).toMatch(/^cannot tell: \d+ of \d+ records lie beside a pass driven the other way$/);
  });

  it.each([0, 0.05, 0.1])('is one of ground that yields the same everywhere, noise %d', (noise) => {
    for (const seed of [1, 2, 3, 4, 5]) {
      const found = estimate(harvestField({ ...design(12, 1.5, seed), constant: true, noise }).log);
      expect(found).toMatchObject({ confident: false, delay_s: 0 });
      expect(found.because).toMatch(/^cannot tell: neighbouring passes agree at no shift/);
    }
  });

  it('is one of no records, of one, or of one pass', () => {
    for (const records of [0, 1, 60]) {
      const { log } = harvestField();
      const few = Object.fromEntries(
        Object.entries(log).map(([key, column]) => [
          key,
          ArrayBuffer.isView(column) ? (column as Float64Array).slice(0, records) : column,
        ]),
      ) as unknown as HarvestLog;
      const found = estimate({ ...few, records });
      expect(found).toMatchObject({ confident: false, delay_s: 0, pairs: 0 });
      expect(found.curve).toHaveLength(32);
    }
  });

  it('is one whose delay lies at the end of the range tried', () => {
    const { log } = harvestField(design(12, 1.5, 1));
    const found = estimate(log, { least_s: -2, most_s: 8 });
    expect(found.confident).toBe(false);
    expect(found.because).toContain('that is the end of the range tried');
  });

  it('is one of a field too small to be sure, which still gets a guess', () => {
    const { log, delay_s } = harvestField({ seed: 2, across_m: 120, along_m: 260, dead_s: 7 });
    const found = estimate(log);
    expect(found.confident).toBe(false);
    expect(found.because).toMatch(/ \d+ pairs of records are few to go by$/);
    expect(Math.abs(found.delay_s - delay_s)).toBeLessThanOrEqual(2);
  });

  it('and a range that is none is refused', () => {
    const { log } = harvestField();
    for (const control of [{ least_s: 30 }, { most_s: NaN }, { step_s: 0 }, { most_s: 1e9 }]) {
      expect(() => estimate(log, control)).toThrow('flow delay: shifts from');
    }
  });
});

describe('the flow delay of the sample fields', () => {
  const truth = JSON.parse(
    readFileSync(join(import.meta.dirname, '../../../sample-fields/truth.json'), 'utf8'),
  );
  const logs = Object.entries<{ years: { year: number; delay_s: number }[] }>(truth.fields).flatMap(
    ([field, { years }]) => years.map(({ year, delay_s }) => ({ field, year, delay_s })),
  );

  it('is known of five logs', () => expect(logs).toHaveLength(5));

  it.each(logs)('of $field $year is $delay_s s within 1 s', ({ field, year, delay_s }) => {
    const found = estimate(sampleLog(field, year));
    console.log(`${field} ${year}: ${found.delay_s.toFixed(2)} s (true ${delay_s}); ${found.because}`);
    expect(Math.abs(found.delay_s - delay_s)).toBeLessThanOrEqual(1);
    expect(found.confident).toBe(true);
  });

  it.each(logs)('of $field $year is found by places, times and yields alone', ({ field, year, delay_s }) => {
    const log = sampleLog(field, year);
    const poor = { ...log, flow_kgPerS: null, speed_mPerS: null, distance_m: null, swath_m: null };
    expect(Math.abs(estimate(poor).delay_s - delay_s)).toBeLessThanOrEqual(1);
  });
});

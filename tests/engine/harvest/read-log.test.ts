import { describe, expect, it } from 'vitest';
import { daysFromCivil } from '../../../src/engine/harvest/civil-days.ts';
import { headerState } from '../../../src/engine/harvest/header-words.ts';
import { harvestLog } from '../../../src/engine/harvest/read-log.ts';
import { timesOf_s } from '../../../src/engine/harvest/read-times.ts';
import { dateOrder, momentOf } from '../../../src/engine/harvest/time-text.ts';
import { columnsOf, table } from '../layers/small-source.ts';

const column = (values: readonly (number | string | null)[]) => columnsOf({ a: values })[0];
const times = (
  time: readonly (number | string | null)[],
  unit = '',
  date: readonly (number | string | null)[] | null = null,
) => {
  const seconds = timesOf_s(column(time), unit, date && column(date)) ?? new Float64Array(0);
  return Array.from(seconds, (own) => own - seconds[0]);
};

describe('a moment in text', () => {
  it.each([
    ['2024-10-03T14:05:06Z', '2024-10-03T14:05:06Z'],
    ['2024-10-03 14:05:06.5', '2024-10-03T14:05:06.500Z'],
    ['2024-10-03T14:05:06-05:00', '2024-10-03T19:05:06Z'],
    ['10/3/2024 2:05:06 PM', '2024-10-03T14:05:06Z'],
    ['10/3/24 12:00 AM', '2024-10-03T00:00:00Z'],
    ['20241003T140506Z', '2024-10-03T14:05:06Z'],
    ['3-Oct-2024 14:05', '2024-10-03T14:05:00Z'],
    ['2024/2/29 0:00:00', '2024-02-29T00:00:00Z'],
  ])('%s is %s', (text, iso) => {
    const moment = momentOf(text, 'month first');
    // The platform's own reading of ISO 8601 (ECMAScript 2023, 21.4.1.18) is the check.
    expect(((moment?.days ?? NaN) * 86_400 + (moment?.clock_s ?? NaN)) * 1000).toBe(Date.parse(iso));
  });

  it.each(['', 'noon', '2023-02-29', '13/13/2024', '25:61', '12:00:61', '14:05:06 then', '1e9'])(
    '%j is none',
    (text) => {
      expect(momentOf(text, 'month first')).toBeNull();
    },
  );

  it('has its month first unless that is no date, or the harvest would take months', () => {
    expect(dateOrder(['10/3/2024', '10/4/2024'])).toBe('month first');
    expect(dateOrder(['3/10/2024', '4/10/2024'])).toBe('day first');
    expect(dateOrder(['10/3/2024', '10/13/2024'])).toBe('month first');
    expect(dateOrder(['3/10/2024', '13/10/2024'])).toBe('day first');
    expect(dateOrder(['12/12/2024'])).toBe('month first');
  });

  it('counts days as the platform does, over leap years and centuries', () => {
    for (const [y, m, d] of [
      [1970, 1, 1],
      [2000, 2, 29],
      [1900, 3, 1],
      [2100, 12, 31],
      [1969, 12, 31],
      [2024, 10, 3],
    ])
      expect(daysFromCivil(y, m, d)).toBe(Date.UTC(y, m - 1, d) / 86_400_000);
    expect(daysFromCivil(1900, 2, 29)).toBeNaN();
    expect(daysFromCivil(2024, 0, 1)).toBeNaN();
    expect(daysFromCivil(2024, 4, 31)).toBeNaN();
  });
});

describe('the times of a log', () => {
  it('are seconds, from GPS seconds, milliseconds, days of a spreadsheet or a clock in one number', () => {
    expect(times([1_410_000_000, 1_410_000_001, null, 1_410_000_003], 's')).toEqual([0, 1, NaN, 3]);
    expect(times([5000, 6000], 'ms')).toEqual([0, 1]);
    expect(times([45_540, 45_540.5], 'd')).toEqual([0, 43_200]);
    expect(times([125_958, 125_959, 130_000, 130_001.5], 'hhmmss')).toEqual([0, 1, 2, 3.5]);
    expect(times([126_059], 'hhmmss')).toEqual([NaN]);
  });

  it('are none of numbers in a unit nobody told', () => {
    for (const unit of ['unknown', '', 'furlong', 'toString']) {
      expect(timesOf_s(column([5000, 6000]), unit, null)).toBeNull();
      const log = harvestLog(
        table({ Time: [5000, 6000] }),
        { time: { column: 'Time', unit } },
        {
          x_m: new Float64Array(2),
          y_m: new Float64Array(2),
          inside: Uint8Array.of(1, 1),
          value: Float64Array.of(1, 1),
          buPerAcPerValue: null,
          crop: null,
        },
      );
      expect(log.time_s).toBeNull();
    }
  });

  it('are of one text, or of a date and a clock', () => {
    expect(times(['2024-10-03T23:59:59Z', '2024-10-04T00:00:00Z'])).toEqual([0, 1]);
    expect(times(['23:59:59', '00:00:01'], '', ['3.10.2024', '4.10.2024'])).toEqual([0, 2]);
    expect(times(['11:59:59 PM', '12:00:01 AM'], '', [20241003, 20241004])).toEqual([0, 2]);
  });

  it('go on over midnight where the date does not, and over the end of the GPS week', () => {
    expect(times(['23:59:59', '00:00:01', '23:00:00', '01:00:00'])).toEqual([0, 2, 82_801, 90_001]);
    expect(times(['23:59:59', '00:00:01'], '', ['2024-10-03', '2024-10-03'])).toEqual([0, 2]);
    expect(times([235_959, 1], 'hhmmss')).toEqual([0, 2]);
    expect(times([604_799, 1], 's')).toEqual([0, 2]);
    expect(times([86_399, 1], 's')).toEqual([0, 2]);
    // Records a little out of order stay so.
    expect(times(['10:00:02', '10:00:01'])).toEqual([0, -1]);
  });

  it('stand as they are where records lie in no order', () => {
    const shuffled = Array.from({ length: 200 }, (_, i) => (i % 2 ? '23:00:00' : '01:00:00'));
    expect(Math.max(...times(shuffled))).toBe(22 * 3600);
  });
});

describe('a harvest log', () => {
  const frame = {
    x_m: new Float64Array(3),
    y_m: new Float64Array(3),
    inside: new Uint8Array(3),
    value: new Float64Array(3),
    buPerAcPerValue: null,
    crop: null,
  };
  const source = table({
    w: [30, 30, null],
    d: [80, 0, 85],
    v: [9, 9, 9],
    m: [0.155, 0.16, null],
    h: ['up', 'DOWN', null],
    hn: [1, 0, 7],
    deg: [-90, 360, 45],
    note: ['a', 'b', 'c'],
  });

  it('is in SI units, with NaN for what a record lacks and null for what the file lacks', () => {
    const log = harvestLog(
      source,
      {
        swath: { column: 'w', unit: 'ft' },
        distance: { column: 'd', unit: 'in' },
        speed: { column: 'v', unit: 'km/h' },
        moisture: { column: 'm', unit: 'fraction' },
        header: { column: 'h', unit: '' },
        heading: { column: 'deg', unit: '°' },
        flow: null,
      },
      frame,
    );
    expect([...(log.swath_m ?? [])].map((own) => Number(own.toFixed(9)))).toEqual([9.144, 9.144, NaN]);
    expect([...(log.distance_m ?? [])].map((own) => Number(own.toFixed(9)))).toEqual([2.032, 0, 2.159]);
    expect([...(log.speed_mPerS ?? [])]).toEqual([2.5, 2.5, 2.5]);
    expect([...(log.moisture_pct ?? [])]).toEqual([15.5, 16, NaN]);
    expect([...(log.header ?? [])]).toEqual([0, 1, NaN]);
    expect([...(log.heading_deg ?? [])]).toEqual([270, 0, 45]);
    expect([log.flow_kgPerS, log.time_s, log.passNumber, log.crop]).toEqual([null, null, null, null]);
  });

  it('leaves out columns in an unknown unit, of text or not there', () => {
    const log = harvestLog(
      source,
      {
        swath: { column: 'w', unit: 'unknown' },
        distance: { column: 'note', unit: 'm' },
        speed: { column: 'gone', unit: 'm/s' },
        header: { column: 'note', unit: '' },
      },
      frame,
    );
    expect([log.swath_m, log.distance_m, log.speed_mPerS, log.header]).toEqual([null, null, null, null]);
  });

  it('turns a header that counts up as 1, and knows no third state', () => {
    const read = (unit: string) => [
      ...(harvestLog(source, { header: { column: 'hn', unit } }, frame).header ?? []),
    ];
    expect(read('')).toEqual([1, 0, NaN]);
    expect(read('up is 1')).toEqual([0, 1, NaN]);
  });

  it.each([
    ['Lowered', 1],
    ['raised', 0],
    ['On', 1],
    ['OFF', 0],
    ['header down', 1],
    ['out of work', 0],
    ['In_Work', 1],
    ['true', 1],
    ['maybe', NaN],
    ['', NaN],
  ])('whose header says %j is %d', (text, state) => {
    expect(headerState(text)).toBe(state);
  });
});

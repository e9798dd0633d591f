import { describe, expect, it } from 'vitest';
import { findPasses } from '../../../src/engine/harvest/passes.ts';
import { smallLog } from './small-log.ts';

const up = (n: number, f: (i: number) => number) => Array.from({ length: n }, (_, i) => f(i));

describe('order', () => {
  it('is of time, and rows of one time as in the file', () => {
    const log = smallLog(5, { time_s: [3, 1, 2, 2, NaN], y_m: [6, 2, 4, 4, 4] });
    expect([...findPasses(log).order]).toEqual([1, 2, 3, 4, 0]);
  });
  it('is of the file where no time is recorded', () => {
    expect([...findPasses(smallLog(3)).order]).toEqual([0, 1, 2]);
  });
  it('goes past midnight on a clock of the day', () => {
    const log = smallLog(6, { time_s: [86390, 86395, 86399, 1, 5, 9] });
    expect([...findPasses(log).order]).toEqual([0, 1, 2, 3, 4, 5]);
    const backwards = smallLog(6, { time_s: [9, 5, 1, 86399, 86395, 86390], y_m: [10, 8, 6, 4, 2, 0] });
    expect([...findPasses(backwards).order]).toEqual([5, 4, 3, 2, 1, 0]);
  });
  it('is of the file where two machines share the clock', () => {
    const log = smallLog(20, {
      time_s: up(20, (i) => i % 10),
      x_m: up(20, (i) => (i < 10 ? 0 : 500)),
      y_m: up(20, (i) => 2 * (i % 10)),
    });
    const { order, pass } = findPasses(log);
    expect([...order]).toEqual(up(20, (i) => i));
    expect([...pass]).toEqual(up(20, (i) => (i < 10 ? 0 : 1)));
  });
});

describe('passes', () => {
  it('are one where nothing happens, two seconds a record', () => {
    const { pass, first, last, interval_s } = findPasses(smallLog(6, { time_s: [0, 2, 4, 6, 8, 10] }));
    expect([...pass]).toEqual([0, 0, 0, 0, 0, 0]);
    expect([[...first], [...last], interval_s]).toEqual([[0], [5], 2]);
  });
  it('break at a gap in time', () => {
    const log = smallLog(6, { time_s: [0, 1, 2, 60, 61, 62] });
    expect([...findPasses(log).pass]).toEqual([0, 0, 0, 1, 1, 1]);
  });
  it('break at a turn, where it is sharpest', () => {
    // Thirty metres north, eight east, thirty south.
    const x_m = up(35, (i) => Math.min(8, Math.max(0, 2 * i - 30)));
    const y_m = up(35, (i) => (i <= 15 ? 2 * i : i <= 19 ? 30 : 68 - 2 * i));
    const { pass } = findPasses(smallLog(35, { x_m, y_m }));
    expect(new Set(pass)).toEqual(new Set([0, 1]));
    const second = pass.indexOf(1);
    expect([second >= 15, second <= 19]).toEqual([true, true]);
  });
  it('break where the header goes up, and where nothing is cut for three records', () => {
    const header = [1, 1, 1, 1, 0, 0, 1, 1];
    expect([...findPasses(smallLog(8, { header })).pass]).toEqual([0, 0, 0, 0, 1, 1, 2, 2]);
    const value = [9, 0, 9, 0, 0, 0, 0, 9];
    expect([...findPasses(smallLog(8, { value })).pass]).toEqual([0, 0, 0, 1, 1, 1, 1, 2]);
  });
  it('do not believe a header that is up while the grain comes in', () => {
    expect([...findPasses(smallLog(4, { header: [0, 0, 0, 1] })).pass]).toEqual([0, 0, 0, 0]);
  });
  it('break at a recorded pass number, not where it is missing', () => {
    expect([...findPasses(smallLog(5, { passNumber: [1, 1, NaN, 2, 3] })).pass]).toEqual([0, 0, 0, 0, 1]);
  });
  it('go on past records astray or without a place, which have none', () => {
    const log = smallLog(8, { y_m: [0, 2, 4, 900, 8, NaN, 12, 14] });
    expect([...findPasses(log).pass]).toEqual([0, 0, 0, -1, 0, -1, 0, 0]);
  });
  it('are none without positions or records', () => {
    expect(findPasses(smallLog(2, { y_m: [NaN, NaN] })).first.length).toBe(0);
    expect(findPasses(smallLog(0)).order.length).toBe(0);
  });
});

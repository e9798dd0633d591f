import { describe, expect, it } from 'vitest';
import { findPasses } from '../../../src/engine/harvest/passes.ts';
import { shiftByDelay } from '../../../src/engine/harvest/shift-by-delay.ts';
import { harvestField } from './synthetic-harvester.ts';

type Log = ReturnType<typeof harvestField>['log'];

/** Records a second apart along a straight line, one pass, 2 m/s and 5 m wide unless told. */
function straight(value: readonly number[], more: Partial<Log> = {}): Log {
  const n = value.length;
  return {
    records: n,
    x_m: new Float64Array(n),
    y_m: Float64Array.from(value, (_, i) => 2 * i),
    inside: new Uint8Array(n).fill(1),
    value: Float64Array.from(value),
    buPerAcPerValue: null,
    crop: null,
    time_s: Float64Array.from(value, (_, i) => 100 + i),
    flow_kgPerS: null,
    moisture_pct: null,
    speed_mPerS: new Float64Array(n).fill(2),
    distance_m: null,
    swath_m: null,
    heading_deg: null,
    header: null,
    passNumber: null,
    ...more,
  };
}
const shifted = (log: Log, delay_s: number) => shiftByDelay(log, findPasses(log), delay_s);

describe('shiftByDelay', () => {
  const log = straight([10, 11, 12, 13, 14, 15, 16, 17]);

  it('gives each record what was recorded later, and nothing where the run ends', () => {
    expect([...shifted(log, 3).value]).toEqual([13, 14, 15, 16, 17, NaN, NaN, NaN]);
    expect([...shifted(log, -2).value]).toEqual([NaN, NaN, 10, 11, 12, 13, 14, 15]);
    expect(shifted(log, 0)).toBe(log);
  });

  it('reads between records by a straight line', () => {
    expect([...shifted(log, 2.5).value]).toEqual([12.5, 13.5, 14.5, 15.5, 16.5, NaN, NaN, NaN]);
  });

  it('moves moisture and flow with the grain, and leaves the input alone', () => {
    const column = Float64Array.from([1, 2, 3, 4, 5, 6, 7, 8]);
    const moved = shifted({ ...log, moisture_pct: column, flow_kgPerS: column }, 6);
    expect([...moved.moisture_pct!]).toEqual([7, 8, NaN, NaN, NaN, NaN, NaN, NaN]);
    expect([...moved.flow_kgPerS!]).toEqual([...moved.moisture_pct!]);
    expect(log.value[0]).toBe(10);
  });

  it('does not carry grain over a wait in the record', () => {
    const waited = { ...log, time_s: Float64Array.from([0, 1, 2, 3, 60, 61, 62, 63]) };
    expect([...shifted(waited, 2).value]).toEqual([12, 13, NaN, NaN, 16, 17, NaN, NaN]);
  });

  it('moves the grain and not the ground: a yield that was steady is so again after a change of speed', () => {
    // 2 s late, 20 kg/m of way; the grain of the fast seconds comes when the machine is slow again.
    const speed = [1, 1, 1, 2, 2, 1, 1, 1, 1];
    const flow = [20, 20, 20, 20, 20, 40, 40, 20, 20];
    const late = straight(
      flow.map((mass, i) => mass / speed[i]),
      { speed_mPerS: Float64Array.from(speed) },
    );
    expect([...shifted(late, 2).value]).toEqual([20, 20, 20, 20, 20, 20, 20, NaN, NaN]);
  });

  it('takes the ground from the places where neither way nor speed is recorded', () => {
    // 2 m a record, then 4 m: a record takes the mean of three steps, so the change is spread over two.
    const y_m = Float64Array.from([0, 2, 4, 6, 8, 12, 16, 20, 24, 28]);
    const bare = straight(Array(10).fill(12), { y_m, speed_mPerS: null });
    const ground = [2, 2, 2, 2, 8 / 3, 10 / 3, 4, 4, 4, 4];
    const moved = shifted(bare, 3).value;
    for (let i = 0; i < 7; i++) expect(moved[i]).toBeCloseTo((12 * ground[i + 3]) / ground[i], 12);
  });

  it('takes the last grain of a pass from the records after the header went up', () => {
    const header = Float64Array.from([1, 1, 1, 1, 0, 0, 0, 0]);
    const raised = straight([0, 0, 5, 6, 7, 8, 0, 0], { header });
    expect([...shifted(raised, 2).value]).toEqual([5, 6, 7, 8, 0, 0, NaN, NaN]);
  });

  it('takes records for the clock where there is none, and a leap for a break', () => {
    const plain = { ...log, time_s: null, speed_mPerS: null };
    expect([...shifted(plain, 2).value]).toEqual([12, 13, 14, 15, 16, 17, NaN, NaN]);
    const leaping = { ...plain, y_m: Float64Array.from([0, 2, 4, 6, 18, 20, 22, 24]) };
    expect([...shifted(leaping, 2).value]).toEqual([12, 13, NaN, NaN, 16, 17, NaN, NaN]);
  });

  it('is undone by the opposite shift wherever the run reaches that far', () => {
    const { log } = harvestField({ seed: 3 });
    const back = shifted(shifted(log, 9), -9);
    let compared = 0;
    for (let i = 0; i < log.records; i++) {
      if (Number.isNaN(back.value[i])) continue;
      compared++;
      // Multiplied and divided by its ground twice: some units in the last place.
      expect(Math.abs(back.value[i] - log.value[i])).toBeLessThanOrEqual(1e-12 * log.value[i]);
      expect(back.moisture_pct![i]).toBe(log.moisture_pct![i]);
    }
    expect(compared).toBeGreaterThan(0.9 * log.records);
  });
});

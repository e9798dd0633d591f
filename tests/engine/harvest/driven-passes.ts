import type { HarvestLog } from '../../../src/engine/harvest/harvest-log.ts';
import { random } from '../../../src/engine/math/random.ts';
import { smallLog } from './small-log.ts';

export interface Drive {
  readonly passes: number;
  /** Records a pass, two metres and a second each. */
  readonly records: number;
  /** Between passes, and the width cut. */
  readonly swath_m?: number;
  /** Yield by way along the pass and across, m; 100 where not told. */
  readonly yieldAt?: (along_m: number, across_m: number) => number;
  /** Relative noise of the yield, and the error of the position in metres, seeded. */
  readonly noise?: number;
  readonly gps_m?: number;
  readonly crop?: string;
}

/** Passes up and back, twenty seconds of turn between them, nothing recorded in it. Record k of pass p is p · records + k. */
export function drivenPasses({
  passes,
  records,
  swath_m = 9,
  yieldAt = () => 100,
  noise = 0,
  gps_m = 0,
  crop,
}: Drive): HarvestLog {
  const { normal } = random(7);
  const rows = Array.from({ length: passes * records }, (_, i) => {
    const pass = Math.floor(i / records);
    const k = i % records;
    const along = 2 * (pass % 2 === 0 ? k : records - 1 - k);
    const across = pass * swath_m;
    return {
      x: across + gps_m * normal(),
      y: along + gps_m * normal(),
      value: yieldAt(along, across) * (1 + noise * normal()),
      time: i + 20 * pass,
    };
  });
  return smallLog(rows.length, {
    x_m: rows.map(({ x }) => x),
    y_m: rows.map(({ y }) => y),
    value: rows.map(({ value }) => value),
    time_s: rows.map(({ time }) => time),
    swath_m: rows.map(() => swath_m),
    distance_m: rows.map(() => 2),
    buPerAcPerValue: 1,
    ...(crop ? { crop } : {}),
  });
}

/** A log with some yields changed. */
export function withValues(log: HarvestLog, changed: Readonly<Record<number, number>>): HarvestLog {
  return { ...log, value: log.value.map((own, i) => changed[i] ?? own) };
}

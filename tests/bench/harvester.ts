import type { Random } from '../../src/engine/math/random.ts';

/** Speed varies by so much from second to second, and now and then the machine slows down for some seconds. */
const UNEVEN = 0.03;
const SLOWDOWN = 0.002;
const SLOW_S = 6;
const SLOW = 0.35;
/** Grain mixes on its way: shares of what was cut one second before the delay, at it, and one after. */
const MIXED = [0.25, 0.5, 0.25];

/** A way of `length_m` in `seconds`: how far each second went, and where its middle lies from the start. */
export function cutEvenly(length_m: number, seconds: number, chance: Random) {
  const step_m = new Float64Array(seconds);
  let slow = 0;
  let driven = 0;
  for (let k = 0; k < seconds; k++) {
    if (chance.uniform() < SLOWDOWN) slow = SLOW_S;
    step_m[k] = (slow-- > 0 ? SLOW : 1) * (1 + UNEVEN * chance.normal());
    driven += step_m[k];
  }
  const middle_m = new Float64Array(seconds);
  let from = 0;
  for (let k = 0; k < seconds; k++) {
    step_m[k] *= length_m / driven;
    middle_m[k] = from + step_m[k] / 2;
    from += step_m[k];
  }
  return { step_m, middle_m };
}

/** What reaches the sensor second by second of what was cut `delay_s` before. The machine begins empty. */
export function spread(cut: Float64Array, delay_s: number): Float64Array {
  return cut.map((_, k) => MIXED.reduce((sum, share, m) => sum + share * (cut[k - delay_s + m - 1] ?? 0), 0));
}

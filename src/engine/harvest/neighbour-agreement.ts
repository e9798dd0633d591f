import { usualOf } from '../math/usual.ts';
import type { GrainRate } from './grain-rate.ts';
import type { Passes } from './harvest-log.ts';
import type { OpposedPairs } from './opposed-pairs.ts';

/** Correlation of neighbours by shift, over the whole harvest and over its first and second half of pairs. */
export interface NeighbourAgreement {
  readonly pairs: number;
  readonly whole: Float64Array;
  readonly halves: readonly [Float64Array, Float64Array];
}

/** Yields further than this many usual spreads from the level of their pass count as being there. Common practice, no source. */
const SPREADS = 4;
const SPREAD_PER_MEDIAN = 1.4826;

/** Sums over pairs, by shift. */
interface Sums {
  pairs: number;
  readonly a: Float64Array;
  readonly b: Float64Array;
  readonly aa: Float64Array;
  readonly bb: Float64Array;
  readonly ab: Float64Array;
}

/**
 * Pearson correlation between opposed neighbours when the grain of every record is taken from `shift` records later. Yields enter as shares of the level of
 * their pass, so that a pass cut narrower than recorded does no harm. Only pairs known at every shift count. NaN without pairs.
 */
export function neighbourAgreement(
  { order, pass }: Passes,
  { later, earlier }: Pick<OpposedPairs, 'later' | 'earlier'>,
  { grain, ground }: GrainRate,
  level: Float64Array,
  shifts: Int32Array,
): NeighbourAgreement {
  const scaleAt = (place: number) => 1 / (ground[order[place]] * level[pass[order[place]]]);
  const off = (k: number) => Math.abs(grain[order[later[k]]] * scaleAt(later[k]) - 1);
  const limit = SPREADS * SPREAD_PER_MEDIAN * usualOf(later.length, off);
  const a = new Float64Array(shifts.length);
  const b = new Float64Array(shifts.length);
  const halves = [blank(shifts.length), blank(shifts.length)] as const;
  for (let k = 0; k < later.length; k++) {
    if (!shares(a, later[k]) || !shares(b, earlier[k])) continue;
    add(halves[2 * k < later.length ? 0 : 1], a, b);
  }
  const whole = blank(shifts.length);
  for (const half of halves) join(whole, half);
  return {
    pairs: whole.pairs,
    whole: correlations(whole),
    halves: [correlations(halves[0]), correlations(halves[1])],
  };

  /** Yield at a place by shift, as a share of its pass's level, less 1. False where one is not known. */
  function shares(out: Float64Array, place: number): boolean {
    const scale = scaleAt(place);
    for (let s = 0; s < shifts.length; s++) {
      const share = grain[order[place + shifts[s]]] * scale - 1;
      if (Number.isNaN(share)) return false;
      out[s] = Math.min(limit, Math.max(-limit, share));
    }
    return true;
  }
}

function blank(n: number): Sums {
  const zeros = () => new Float64Array(n);
  return { pairs: 0, a: zeros(), b: zeros(), aa: zeros(), bb: zeros(), ab: zeros() };
}

function add(sums: Sums, a: Float64Array, b: Float64Array): void {
  sums.pairs++;
  for (let s = 0; s < a.length; s++) {
    sums.a[s] += a[s];
    sums.b[s] += b[s];
    sums.aa[s] += a[s] * a[s];
    sums.bb[s] += b[s] * b[s];
    sums.ab[s] += a[s] * b[s];
  }
}

function join(sums: Sums, more: Sums): void {
  sums.pairs += more.pairs;
  for (const key of ['a', 'b', 'aa', 'bb', 'ab'] as const) {
    for (let s = 0; s < sums.a.length; s++) sums[key][s] += more[key][s];
  }
}

/** 0 where either side does not vary: then nothing agrees. */
function correlations({ pairs, a, b, aa, bb, ab }: Sums): Float64Array {
  return a.map((sumA, s) => {
    if (pairs === 0) return NaN;
    const varianceA = aa[s] - (sumA * sumA) / pairs;
    const varianceB = bb[s] - (b[s] * b[s]) / pairs;
    const scale = Math.sqrt(varianceA * varianceB);
    return scale > 1e-12 * pairs ? (ab[s] - (sumA * b[s]) / pairs) / scale : 0;
  });
}

import type { Estimate } from '../../../engine/lineup/estimate.ts';
import { figure } from '../../parts/figures.ts';

/** A stand with its interval, by the thousand: `31.6k, 30.2 to 33.4`; what cannot be told is said. */
export function standWords({ value, low, high }: Estimate): string {
  if (value === Infinity) return 'none: thicker yielded more';
  if (value === 0) return 'none: thinner yielded more';
  if (Number.isNaN(value)) return 'none shown';
  const own = `${figure(value, 1)}k`;
  if (Number.isNaN(low)) return own;
  if (high === Infinity) return low > 0 ? `${own}, ${figure(low, 1)} or more` : `${own}, open both ways`;
  return low > 0 ? `${own}, ${figure(low, 1)} to ${figure(high, 1)}` : `${own}, up to ${figure(high, 1)}`;
}

import type { Surface } from '../../../engine/grid/field-grid.ts';

/** The 2nd to 98th percentile of what is known, widened to whole tens: a ramp not stretched by a few odd cells. */
export function quietDomain(values: Surface): { low: number; high: number } {
  const known = values.filter((value) => !Number.isNaN(value)).sort();
  if (known.length === 0) return { low: 0, high: 1 };
  const at = (share: number) => known[Math.round(share * (known.length - 1))];
  const step = at(0.98) - at(0.02) > 40 ? 10 : 5;
  const low = Math.floor(at(0.02) / step) * step;
  return { low, high: Math.max(low + step, Math.ceil(at(0.98) / step) * step) };
}

/** Where a value lies in a domain, 0..1 (not clamped). */
export function share(value: number, domain: { low: number; high: number }): number {
  return (value - domain.low) / (domain.high - domain.low);
}

/** Low, middle and high of a domain in whole figures. */
export function ticks(domain: { low: number; high: number }, show: (value: number) => string): string[] {
  return [show(domain.low), show((domain.low + domain.high) / 2), show(domain.high)];
}

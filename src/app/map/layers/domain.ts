import { scaleLinear } from 'd3-scale';
import type { Surface } from '../../../engine/grid/field-grid.ts';
import { figure } from '../../parts/figures.ts';

export interface Domain {
  readonly low: number;
  readonly high: number;
}

/** The 2nd to 98th percentile of what is known; null where nothing is. */
function usualRange(values: Surface): Domain | null {
  const known = values.filter((value) => Number.isFinite(value)).sort();
  if (known.length === 0) return null;
  const at = (share: number) => known[Math.round(share * (known.length - 1))];
  return { low: at(0.02), high: at(0.98) };
}

/** The usual range widened to whole tens: a ramp not stretched by a few odd cells. */
export function quietDomain(values: Surface): Domain {
  const usual = usualRange(values);
  if (!usual) return { low: 0, high: 1 };
  const step = usual.high - usual.low > 40 ? 10 : 5;
  const low = Math.floor(usual.low / step) * step;
  return { low, high: Math.max(low + step, Math.ceil(usual.high / step) * step) };
}

/** The same for figures of any size, widened to round ones. */
export function looseDomain(values: Surface): Domain {
  const usual = usualRange(values);
  if (!usual) return { low: 0, high: 1 };
  const { low, high } = usual;
  const room = high > low ? [low, high] : [low - 0.5, high + 0.5];
  const [from, to] = scaleLinear().domain(room).nice(4).domain();
  return { low: from, high: to };
}

/** Where a value lies in a domain, 0..1 (not clamped). */
export function share(value: number, domain: Domain): number {
  return (value - domain.low) / (domain.high - domain.low);
}

/** Low, middle and high of a domain. */
export function ticks(domain: Domain, show: (value: number) => string): string[] {
  return [show(domain.low), show((domain.low + domain.high) / 2), show(domain.high)];
}

/** The same in figures of any size, each with as many decimals as it takes. */
export function fineTicks(domain: Domain): string[] {
  return ticks(domain, (value) => {
    const decimals = [0, 1, 2, 3].find((own) => Math.abs(value - Number(value.toFixed(own))) < 1e-6) ?? 4;
    return figure(value, decimals);
  });
}

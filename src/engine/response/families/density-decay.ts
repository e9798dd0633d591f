import { lambertW0 } from '../../math/lambert-w.ts';
import type { Family } from '../family.ts';

/**
 * Yield per plant decays exponentially with density: y = a·p·exp(−b·p), with b = 1 / stand and a = level·e / stand. The last plants pay where (1 − bp)·exp(−bp) = r / a; with
 * z = 1 − bp that is z·eᶻ = e·r / a, so p = (1 − W₀(e·r / a)) / b.
 */
export const densityDecay: Family = {
  id: 'density-decay',
  title: 'exponential decay of yield per plant',
  source: 'Duncan 1958, Agronomy Journal 50:82; Carmer & Jackobs 1965, Agronomy Journal 57:241',
  stand: 'best stand',
  bend: null,
  form: 'share',
  hasOptimum: true,
  unit: (p, stand) => (p / stand) * Math.exp(1 - p / stand),
  unitSlope: (p, stand) => ((1 - p / stand) / stand) * Math.exp(1 - p / stand),
  agronomicOptimum: (_, stand) => stand,
  lastToPay: (level, stand, _, r) =>
    r * stand >= level * Math.E ? 0 : stand * (1 - lambertW0((r * stand) / level)),
  doubt: (level, stand) => (level > 0 && stand > 0 ? null : 'yield per plant does not fall with density'),
};

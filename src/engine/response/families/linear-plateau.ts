import type { Family } from '../family.ts';

/** A straight climb to a joint, level beyond: every plant pays up to the joint, or none does. */
export const linearPlateau: Family = {
  id: 'linear-plateau',
  title: 'straight line with a plateau',
  source: 'Cerrato & Blackmer 1990, Agronomy Journal 82:138',
  stand: 'stand where the plateau begins',
  bend: 'bu/ac gained per 1000 plants/ac before the plateau',
  form: 'less',
  hasOptimum: true,
  unit: (p, stand) => Math.max(0, stand - p),
  unitSlope: (p, stand) => (p < stand ? -1 : 0),
  agronomicOptimum: (_, stand) => stand,
  lastToPay: (_, stand, bend, r) => (bend > r ? Math.max(0, stand) : 0),
  doubt: (_, __, bend) => (bend > 0 ? null : 'yield falls from the first plant on, so it has no best stand'),
};

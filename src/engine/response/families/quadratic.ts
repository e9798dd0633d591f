import type { Family } from '../family.ts';

/** y = level − bend·(p − stand)², which is a + bp − cp² with c = bend, b = 2·c·stand. */
export const quadratic: Family = {
  id: 'quadratic',
  title: 'quadratic',
  source: 'the form of most published responses; Lindsey, Thomison & Nafziger 2018, Ohio State AGF-520',
  stand: 'best stand',
  bend: 'bu/ac lost per squared 1000 plants/ac away from the best stand',
  form: 'less',
  hasOptimum: true,
  unit: (p, stand) => (p - stand) ** 2,
  unitSlope: (p, stand) => 2 * (p - stand),
  agronomicOptimum: (_, stand) => stand,
  lastToPay: (_, stand, bend, r) => Math.max(0, stand - r / (2 * bend)),
  doubt: (_, __, bend) => (bend > 0 ? null : 'yield bends upwards, so it has no best stand'),
};

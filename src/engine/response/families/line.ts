import type { Family } from '../family.ts';

/** Where the plots show no bend: a line through the middle of the stands tried. The best stand is at one end of what was tried, and which end is all that is known. */
export const line: Family = {
  id: 'line',
  title: 'straight line',
  source: 'common practice, no source',
  stand: 'middle of the stands tried',
  bend: 'bu/ac gained per 1000 plants/ac; below zero lost',
  form: 'less',
  hasOptimum: false,
  unit: (p, stand) => stand - p,
  unitSlope: () => -1,
  agronomicOptimum: (_, __, bend) => (bend > 0 ? Infinity : 0),
  lastToPay: (_, __, bend, r) => (bend > r ? Infinity : 0),
  doubt: (_, __, bend) => (Number.isNaN(bend) ? 'how yield climbs or falls is not told' : null),
};

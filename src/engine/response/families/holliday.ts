import type { Family } from '../family.ts';

/** The reciprocal of yield per plant is a line: y = p / (α + βp), with level = 1 / β and stand = α / β, where half the level is reached. It climbs for ever, ever less. */
export const holliday: Family = {
  id: 'holliday',
  title: 'line of the reciprocal yield per plant',
  source: 'Holliday 1960, Field Crop Abstracts 13:159; Shinozaki & Kira 1956',
  stand: 'stand of half the level',
  bend: null,
  form: 'share',
  hasOptimum: false,
  unit: (p, stand) => p / (stand + p),
  unitSlope: (p, stand) => stand / (stand + p) ** 2,
  agronomicOptimum: () => Infinity,
  lastToPay: (level, stand, _, r) => Math.max(0, Math.sqrt((level * stand) / r) - stand),
  doubt: (level, stand) => (level > 0 && stand > 0 ? null : 'yield does not climb towards a level'),
};

import type { Family } from '../family.ts';

/** ln 20: at the family's stand 95 % of the level is reached. */
const TO_95 = Math.log(20);

/** y = level·(1 − exp(−c·(p + d))), d = bend and c = ln 20 / (stand + d): it climbs for ever, ever less. */
export const mitscherlich: Family = {
  id: 'mitscherlich',
  title: 'diminishing returns towards a level',
  source: 'Mitscherlich 1909, Landwirtschaftliche Jahrbücher 38:537',
  stand: 'stand of 95 % of the level',
  bend: '1000 plants/ac by which it begins before nothing is planted',
  form: 'share',
  hasOptimum: false,
  unit: (p, stand, bend) => -Math.expm1(-rate(stand, bend) * (p + bend)),
  unitSlope: (p, stand, bend) => rate(stand, bend) * Math.exp(-rate(stand, bend) * (p + bend)),
  agronomicOptimum: () => Infinity,
  lastToPay: (level, stand, bend, r) => {
    const c = rate(stand, bend);
    return Math.max(0, Math.log((level * c) / r) / c - bend);
  },
  doubt: (level, stand, bend) =>
    level > 0 && rate(stand, bend) > 0 ? null : 'yield does not climb towards a level',
};

function rate(stand: number, bend: number): number {
  return TO_95 / (stand + bend);
}

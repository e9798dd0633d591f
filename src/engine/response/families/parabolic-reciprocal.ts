import type { Family } from '../family.ts';

const HALVINGS = 200;

/**
 * The reciprocal of yield per plant is a parabola: y = p / (α + βp + γp²), with stand = √(α/γ), level = 1 / (β + 2√(αγ)) and bend = level·√(αγ). With a bend over a half
 * the first plants bring less than later ones: the slope climbs before it falls. Where it has fallen to r is found by halving between the steepest stand and the best.
 */
export const parabolicReciprocal: Family = {
  id: 'parabolic-reciprocal',
  title: 'parabola of the reciprocal yield per plant',
  source: 'Holliday 1960, Field Crop Abstracts 13:159; Willey & Heath 1969, Advances in Agronomy 21:281',
  stand: 'best stand',
  bend: 'share of the level: how sharply it falls off to both sides',
  form: 'share',
  hasOptimum: true,
  unit: (p, stand, bend) => (p <= 0 ? 0 : 1 / (1 + bend * (stand / p + p / stand - 2))),
  unitSlope: slope,
  agronomicOptimum: (_, stand) => stand,
  lastToPay: (level, stand, bend, r) => {
    let [low, high] = [steepest(stand, bend), stand];
    if (!(level * slope(low, stand, bend) > r)) return 0;
    for (let k = 0; k < HALVINGS && high - low > 1e-12 * stand; k++) {
      const middle = (low + high) / 2;
      if (level * slope(middle, stand, bend) > r) low = middle;
      else high = middle;
    }
    return (low + high) / 2;
  },
  doubt: (level, stand, bend) =>
    level > 0 && stand > 0 && bend > 0 ? null : 'yield does not fall off to both sides of a stand',
};

/** Where the slope is highest: with q = p / stand, q³ − 3q = 1 / bend − 2, of which the root in 0–1 is there for a bend over a half; else at none. */
function steepest(stand: number, bend: number): number {
  return bend > 0.5 ? 2 * stand * Math.cos((2 * Math.PI - Math.acos(0.5 / bend - 1)) / 3) : 0;
}

function slope(p: number, stand: number, bend: number): number {
  // u = p·stand / (stand·p + bend·(p − stand)²)
  const below = stand * p + bend * (p - stand) ** 2;
  return (stand * bend * (stand * stand - p * p)) / (below * below);
}

import type { Family } from '../family.ts';

const HALVINGS = 200;

/**
 * The reciprocal of yield per plant is a parabola: y = p / (α + βp + γp²), with stand = √(α/γ), level = 1 / (β + 2√(αγ)) and bend = level·√(αγ). The economic stand is where the slope
 * has fallen to r, found by halving: the slope falls all the way from none to the best stand wherever it began above r.
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
  economicOptimum: (level, stand, bend, r) => {
    if (!(r > 0)) return stand;
    if (level * slope(0, stand, bend) <= r) return 0;
    let [low, high] = [0, stand];
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

function slope(p: number, stand: number, bend: number): number {
  // u = p·stand / (stand·p + bend·(p − stand)²)
  const below = stand * p + bend * (p - stand) ** 2;
  return (stand * bend * (stand * stand - p * p)) / (below * below);
}

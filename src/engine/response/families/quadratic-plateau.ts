import type { Family } from '../family.ts';
import { quadratic } from './quadratic.ts';

/** The quadratic up to its top, level beyond. The joint is the best stand, and whatever a plant costs the economic one lies before it. */
export const quadraticPlateau: Family = {
  ...quadratic,
  id: 'quadratic-plateau',
  title: 'quadratic with a plateau',
  source: 'Bullock & Bullock 1994, Agronomy Journal 86:191',
  stand: 'stand where the plateau begins',
  bend: 'bu/ac lost per squared 1000 plants/ac short of the plateau',
  unit: (p, stand) => (p < stand ? (p - stand) ** 2 : 0),
  unitSlope: (p, stand) => (p < stand ? 2 * (p - stand) : 0),
};

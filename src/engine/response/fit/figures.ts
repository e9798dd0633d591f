import type { Curve } from '../curve.ts';
import { FAMILIES } from '../families.ts';
import type { FamilyId } from '../family.ts';

/** The figures of a response, in this order everywhere: level, level per environment, stand, stand per environment, bend; bu/ac and 1000 plants/ac. */
export const FIGURES = 5;
export const LEVEL = 0;
export const LEVEL_PER_ENVIRONMENT = 1;
export const STAND = 2;
export const STAND_PER_ENVIRONMENT = 3;
export const BEND = 4;

/** The curve where the environment is `away` bu/ac from the reference. */
export function curveAway(family: FamilyId, figures: ArrayLike<number>, away: number): Curve {
  return {
    family,
    level: figures[LEVEL] + figures[LEVEL_PER_ENVIRONMENT] * away,
    stand: figures[STAND] + figures[STAND_PER_ENVIRONMENT] * away,
    bend: hasBend(family) ? figures[BEND] : NaN,
  };
}

export function hasBend(family: FamilyId): boolean {
  return FAMILIES[family].bend !== null;
}

import { densityDecay } from './families/density-decay.ts';
import { holliday } from './families/holliday.ts';
import { line } from './families/line.ts';
import { linearPlateau } from './families/linear-plateau.ts';
import { mitscherlich } from './families/mitscherlich.ts';
import { parabolicReciprocal } from './families/parabolic-reciprocal.ts';
import { quadratic } from './families/quadratic.ts';
import { quadraticPlateau } from './families/quadratic-plateau.ts';
import type { Family, FamilyId } from './family.ts';

/** Every form of the curve, the one most published responses have first. */
export const FAMILIES: Readonly<Record<FamilyId, Family>> = {
  quadratic,
  'quadratic-plateau': quadraticPlateau,
  'linear-plateau': linearPlateau,
  'density-decay': densityDecay,
  'parabolic-reciprocal': parabolicReciprocal,
  mitscherlich,
  holliday,
  line,
};

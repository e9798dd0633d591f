import type { FamilyId } from '../family.ts';
import { BEND, STAND } from './figures.ts';
import type { Trial } from './trial.ts';

/** A best stand further off than so many times the densest stand tried is no bend to speak of. Our own choice. */
export const REACH = 4;
/** Stands looked at between and around those tried, as shares of the way from the thinnest to the densest. */
const BETWEEN = [0.04, 0.16, 0.28, 0.4, 0.52, 0.64, 0.76, 0.88, 0.96];
const BESIDE = [0.5, 0.8, 1.25, 1.6, 2.2, 3.2];
/** Half the level is mostly reached long before the thinnest stand tried. */
const LOW = [0.1, 0.2, 0.33];
/** Bends of the families that have them in the shape, as shares. */
const SHARPNESS = [0.05, 0.2, 0.6, 1.5, 4];
const OFFSETS = [-0.5, 0, 0.5, 2];

/** Least and most stand and bend of a family over these stands. */
export function shapeBounds(id: FamilyId, { tested_k: { min, max } }: Trial): Map<number, [number, number]> {
  const stand: [number, number] = id === 'linear-plateau' ? [min, max] : [0.05 * min, REACH * max];
  const bounds = new Map([[STAND, stand]]);
  if (id === 'parabolic-reciprocal') bounds.set(BEND, [1e-4, 1e3]);
  if (id === 'mitscherlich') bounds.set(BEND, [-0.95 * min, 10 * max]);
  return bounds;
}

/** Shapes to try, stand and bend (0 where the bend follows by least squares): kinks hide a best shape from slopes, so the stands are gone through. */
export function shapeStarts(id: FamilyId, trial: Trial): (readonly [stand: number, bend: number])[] {
  const { min, max } = trial.tested_k;
  const [low, high] = shapeBounds(id, trial).get(STAND)!;
  const stands = [
    ...(id === 'holliday' ? LOW.map((share) => share * min) : []),
    ...BETWEEN.map((share) => min + share * (max - min)),
    ...BESIDE.map((share) => (share < 1 ? share * min : share * max)),
  ].filter((stand) => stand > low && stand < high);
  // Smooth all over: every other stand does.
  const fewer = stands.filter((_, k) => k % 2 === 0);
  if (id === 'parabolic-reciprocal')
    return fewer.flatMap((stand) => SHARPNESS.map((bend) => [stand, bend] as const));
  if (id === 'mitscherlich')
    return fewer.flatMap((stand) => OFFSETS.map((share) => [stand, share * min] as const));
  return stands.map((stand) => [stand, 0] as const);
}

import { agronomicOptimum, curveDoubt } from '../curve.ts';
import { FAMILIES } from '../families.ts';
import type { FamilyId } from '../family.ts';
import { curveAway, STAND } from './figures.ts';
import type { FitWork } from './fit-work.ts';
import type { Held } from './fitted-figures.ts';
import { REACH } from './shape-starts.ts';
import { asOneStand } from './stands-tried.ts';
import type { Trial } from './trial.ts';

/** Stands it takes for a curve of its own. */
export const STANDS_FOR_A_CURVE = 3;

/** Why plots cannot be fitted at all, in words; null where they can. */
export function refusalOf({ plots, stands, y }: Trial, family: FamilyId, held: Held): string | null {
  if (plots === 0) return 'no plot has both a stand and a yield';
  if (held.stand_k === undefined) {
    const needed = family === 'line' ? 2 : STANDS_FOR_A_CURVE;
    if (stands.length < needed) {
      const asOne = asOneStand(stands);
      const tried = `${stands.length} ${stands.length === 1 ? 'stand was' : 'stands were'} tried`;
      return `${asOne === '' ? '' : `${asOne}: `}${tried}, a curve takes ${needed}`;
    }
    if (y.every((own) => own === y[0])) return `all yields are the same, ${Number(y[0].toFixed(1))} bu/ac`;
  }
  return null;
}

/** What makes a fitted curve no curve of this family: its own doubt, or a shape at the end of what was looked at. */
export function wrongWith(
  { trial, bounds, shape }: FitWork,
  figures: Float64Array,
  family: FamilyId,
): string | null {
  const { hasOptimum, stand: word } = FAMILIES[family];
  const curve = curveAway(family, figures, 0);
  if (!(curve.level > 0)) return 'its level would be no yield at all';
  if (family === 'linear-plateau' && shape.includes(STAND)) {
    if (!(figures[STAND] < trial.tested_k.max)) return 'the plots show no plateau';
    if (!(figures[STAND] > trial.tested_k.min)) return 'the plots show nothing but a plateau';
  }
  const doubt = curveDoubt(curve);
  if (doubt !== null) return doubt;
  for (const at of shape) {
    const bound = bounds.get(at);
    if (!bound) continue;
    const size = 1e-6 * (bound[1] - bound[0]);
    if (figures[at] > bound[1] - size)
      return at === STAND
        ? `its ${word} would lie beyond ${REACH} times the densest tried: the plots show no bend to speak of`
        : 'the plots do not tell its bend';
    if (figures[at] < bound[0] + (at === STAND ? 1e-9 : 1e-6) * bound[0])
      return at === STAND
        ? `its ${word} would lie far under the thinnest tried`
        : 'the plots do not tell its bend';
  }
  return hasOptimum && !Number.isFinite(agronomicOptimum(curve)) ? 'it has no best stand' : null;
}

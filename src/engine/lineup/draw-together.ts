import { curveDoubt } from '../response/curve.ts';
import type { FamilyFit } from '../response/fit/family-fit.ts';
import { curveAway } from '../response/fit/figures.ts';
import { figuresAbout } from '../response/fit/figures-about.ts';
import { productGroup } from './product-group.ts';
import { type OwnFigures, type ProductGroup, type Shrunk, shrinkToGroup } from './shrink-to-group.ts';

/** Rounds of drawing products towards the group and taking their curves as planes where they are drawn to. */
const ROUNDS = 3;
/** Rounds of the group's own search before the last, when where the planes are taken still moves. */
const ON_THE_WAY = 12;

export interface DrawnTogether {
  readonly group: ProductGroup;
  /** In the order of the fits; null where no curve is left of a product. */
  readonly drawn: readonly (Shrunk | null)[];
}

/** Products of one family drawn towards each other. Null where they are too few. */
export function drawTogether(fits: readonly FamilyFit[]): DrawnTogether | null {
  let own: OwnFigures[] = fits.map(({ fitted, figures, covariance }) => ({ fitted, figures, covariance }));
  let group = productGroup(own, null, ON_THE_WAY);
  if (!group) return null;
  let drawn: Shrunk[] = [];
  for (let round = 0; round < ROUNDS; round++) {
    const now: ProductGroup = group;
    drawn = own.map((each) => shrinkToGroup(each, now));
    own = fits.map((fit, k) => {
      const sound = isSound(fit, drawn[k].figures);
      const about = sound ? figuresAbout(fit, drawn[k].figures) : null;
      return about ? { fitted: fit.fitted, ...about } : own[k];
    });
    group = productGroup(own, group, round < ROUNDS - 1 ? ON_THE_WAY : undefined) ?? group;
  }
  const last = group;
  return {
    group,
    drawn: own.map((each, k) => {
      const shrunk = shrinkToGroup(each, last);
      return isSound(fits[k], shrunk.figures) ? shrunk : null;
    }),
  };
}

function isSound({ family }: FamilyFit, figures: Float64Array): boolean {
  const curve = curveAway(family, figures, 0);
  return curve.level > 0 && curve.stand > 0 && curveDoubt(curve) === null;
}

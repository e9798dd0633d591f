import { agronomicOptimum } from '../response/curve.ts';
import { FAMILIES } from '../response/families.ts';
import type { FamilyId } from '../response/family.ts';
import {
  AS_GOOD,
  chooseFamily,
  EVERY_FAMILY,
  FAR_WORSE,
  type FamilyChoice,
  type FamilyTrials,
  ranked,
  title,
} from '../response/fit/choose-family.ts';
import { isRefused } from '../response/fit/family-fit.ts';
import { BEND, curveAway } from '../response/fit/figures.ts';

import type { Likeliest } from '../response/fit/fit-family.ts';

/** Families less likely than this are not asked. */
const LEAST_WEIGHT = 1e-3;

/** The family of a crop, and how likely each family is. */
export interface CropFamily {
  readonly family: FamilyId;
  /** Akaike weights over all products together (Burnham & Anderson 2002, 2.9); they sum to 1. */
  readonly weights: ReadonlyMap<FamilyId, number>;
}

/**
 * The family of a whole crop: that of least AIC over all products together; within 2 of the least the quadratic, the form most published responses have. A product that cannot be fitted by a family counts as far worse by it.
 * Null where no product can be fitted by any family with a best stand.
 */
export function familyOfCrop(all: readonly FamilyTrials[]): CropFamily | null {
  const orders = all.map(ranked).filter((order) => order.some(({ family }) => FAMILIES[family].hasOptimum));
  if (orders.length === 0) return null;
  const costs = orders.map((order) => new Map(order.map((fit) => [fit.family, costOf(fit)])));
  const totals = EVERY_FAMILY.filter((id) => id !== 'line').map((family) => {
    let more = 0;
    for (const own of costs) {
      const least = Math.min(...own.values());
      more += Math.min((own.get(family) ?? Infinity) - least, FAR_WORSE);
    }
    return { family, more };
  });
  const best = totals.reduce((least, own) => (own.more < least.more ? own : least));
  const quadratic = totals.find(({ family }) => family === 'quadratic');
  const { family } = quadratic && quadratic.more - best.more <= AS_GOOD ? quadratic : best;
  const likely = totals.map((own) => [own.family, Math.exp((best.more - own.more) / 2)] as const);
  const sum = likely.reduce((total, [, own]) => total + own, 0);
  return { family, weights: new Map(likely.map(([id, own]) => [id, own / sum])) };
}

/**
 * What the choice of the family adds to the variance of a product's best stand on ground of the reference, (1000 plants/ac)²: the squares by which the other families put it elsewhere, by their weights (Buckland, Burnham & Augustin 1997,
 * Biometrics 53:603). 0 where the family's own figure is no best stand.
 */
export function varianceOfChoice({ tried }: FamilyTrials, { family, weights }: CropFamily): number {
  const standOf = (id: FamilyId) => {
    const own = tried.get(id);
    return own && !isRefused(own) ? agronomicOptimum(curveAway(id, own.figures, 0)) : NaN;
  };
  const chosen = standOf(family);
  let variance = 0;
  for (const [id, weight] of weights) {
    const away = standOf(id) - chosen;
    if (weight > LEAST_WEIGHT && Number.isFinite(away)) variance += weight * away * away;
  }
  return variance;
}

/**
 * AIC of a product's curve as one of a crop that bends alike: products lean on each other's bend, so it is not each one's own to pay for in full, but each was fitted with a bend of its own, which takes one off its −2 log likelihood
 * for nothing. Counted in full, families without a bend of their own win small trials that are not theirs, and put the best stand wrong.
 */
function costOf({ minusTwoLogLikelihood, work }: Likeliest): number {
  return minusTwoLogLikelihood + 2 * work.active.length - (work.active.includes(BEND) ? 1 : 0);
}

/** A product's family: that of the crop, unless its own plots are far worse by it. Null where no curve can be had, the straight line neither. */
export function familyOfProduct(trials: FamilyTrials, ofCrop: FamilyId | null): FamilyChoice | null {
  const own = chooseFamily(trials);
  if (own === null || ofCrop === null || own.family === ofCrop || own.family === 'line') return own;
  const order = ranked(trials);
  const common = order.find(({ family }) => family === ofCrop);
  if (!common || common.aicc - order[0].aicc >= FAR_WORSE) return own;
  const next = order.find((fit) => fit !== common);
  const aiccMore = next ? next.aicc - common.aicc : NaN;
  return {
    family: ofCrop,
    runnerUp: next ? { family: next.family, aiccMore } : null,
    said: `Fitted by ${title(ofCrop)}, as its crop is; by its own plots ${title(own.family)} would do${aiccMore < 0 ? ` better by ${(-aiccMore).toFixed(1)} of AICc` : ' as well'}.`,
  };
}

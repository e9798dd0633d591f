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

/**
 * The family of a whole crop: that of least AICc over all its products together, a product that cannot be fitted by it counting as far worse; within 2 of the least the quadratic. Null where
 * no product can be fitted by any family with a best stand.
 */
export function familyOfCrop(all: readonly FamilyTrials[]): FamilyId | null {
  const orders = all.map(ranked).filter((order) => order.some(({ family }) => FAMILIES[family].hasOptimum));
  if (orders.length === 0) return null;
  const totals = EVERY_FAMILY.filter((id) => id !== 'line').map((family) => {
    let more = 0;
    for (const order of orders) {
      const own = order.find((fit) => fit.family === family);
      more += own ? Math.min(own.aicc - order[0].aicc, FAR_WORSE) : FAR_WORSE;
    }
    return { family, more };
  });
  const least = Math.min(...totals.map(({ more }) => more));
  const quadratic = totals.find(({ family }) => family === 'quadratic');
  if (quadratic && quadratic.more - least <= AS_GOOD) return 'quadratic';
  return totals.find(({ more }) => more === least)?.family ?? null;
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

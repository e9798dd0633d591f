import type { Issue } from '../issue.ts';
import { curveDoubt } from '../response/curve.ts';
import { FAMILIES } from '../response/families.ts';
import type { FamilyId } from '../response/family.ts';
import { bestStandOf } from '../response/fit/best-stand.ts';
import type { FamilyChoice } from '../response/fit/choose-family.ts';
import type { FamilyFit } from '../response/fit/family-fit.ts';
import { curveAway } from '../response/fit/figures.ts';
import { plants } from '../response/fit/fit-doubts.ts';
import { profileInterval } from '../response/fit/profile-interval.ts';
import type { Plots } from '../response/plots.ts';
import { borrowCurve } from './borrow-curve.ts';
import type { Estimate } from './estimate.ts';
import { fittedResponse } from './fitted-response.ts';
import type { ProductPlots } from './product.ts';
import type { ProductResponse, ResponseFit } from './product-response.ts';
import { optimumInterval } from './response-interval.ts';
import { type ProductGroup, shrinkToGroup } from './shrink-to-group.ts';

/** A product's curve as its trials, and those of its crop, have it. */
export interface ProductFit {
  /** Its number in the table. */
  readonly product: number;
  readonly response: ProductResponse | null;
  readonly tested_plantsPerAc: { readonly min: number; readonly max: number } | null;
  readonly fit: ResponseFit;
  readonly plots: ProductPlots;
  /** Its own plots alone; null where they give no curve. */
  readonly own: FamilyFit | null;
  /** Stand of highest yield and of highest return on ground of the reference environment, 1000 plants/ac; null where it has none, or no price was given. */
  readonly best: Estimate | null;
  readonly paying: Estimate | null;
  readonly issues: readonly Issue[];
}

export interface ProductCase {
  readonly product: number;
  readonly name: string;
  readonly plots: Plots;
  readonly kept: ProductPlots;
  readonly sites: number;
  /** Its own family and fit; null where its plots give no curve, and why. */
  readonly choice: FamilyChoice | null;
  readonly own: FamilyFit | null;
  readonly reason: string;
}

export interface CropCase {
  readonly crop: string;
  readonly reference_buPerAc: number;
  readonly level: number;
  readonly r: number | null;
  readonly family: FamilyId | null;
  /** Null where nothing is drawn to a group. */
  readonly group: ProductGroup | null;
  /** Stands the crop was tried at where products have curves of their own, 1000 plants/ac. */
  readonly tested_k: { readonly min: number; readonly max: number } | null;
}

/** From the fit of its own plots to what the lineup keeps. */
export function fitProduct(product: ProductCase, crop: CropCase): ProductFit {
  const { own, kept, plots, choice } = product;
  const { group, family, level, r } = crop;
  const bends = own !== null && own.family !== 'line';
  if (!bends && group !== null && family !== null) {
    const borrowed = borrowCurve(plots, family, crop.reference_buPerAc, group);
    if (borrowed) return borrowedFit(product, crop, borrowed);
  }
  if (own === null) {
    const fit = {
      plots: kept.site.length,
      sites: product.sites,
      runnerUp: null,
      leaning: 0,
      said: [product.reason],
    };
    return {
      product: product.product,
      response: null,
      tested_plantsPerAc: null,
      fit,
      plots: kept,
      own,
      best: null,
      paying: null,
      issues: [noCurve(product)],
    };
  }
  const said = [...(choice ? [choice.said] : []), ...own.doubts];
  let shown = { ...own };
  let leaning = 0;
  if (group !== null && own.family === family) {
    const shrunk = shrinkToGroup(own, group);
    const curve = curveAway(own.family, shrunk.figures, 0);
    if (curveDoubt(curve) === null && curve.level > 0) {
      const more = group.products - 1;
      shown = {
        ...shown,
        figures: shrunk.figures,
        covariance: shrunk.covariance,
        withinDf: own.withinDf + more,
        betweenDf: own.betweenDf + more,
      };
      leaning = shrunk.leaning;
      said.push(
        `Drawn towards the ${group.products} products of the crop that have curves: ${Math.round(100 * leaning)} % of its best stand is theirs.`,
      );
    } else said.push('Not drawn towards the other products of the crop: no curve would be left.');
  }
  const response = fittedResponse(shown);
  const { min, max } = own.trial.tested_k;
  const stands = (at: number) =>
    leaning > 0
      ? optimumInterval(response, crop.reference_buPerAc, at, level)
      : profileInterval(own, bestStandOf(own.family, 0, at), level);
  return {
    product: product.product,
    response,
    tested_plantsPerAc: { min: 1000 * min, max: 1000 * max },
    fit: {
      plots: own.trial.plots,
      sites: product.sites,
      runnerUp: choice?.runnerUp ?? null,
      leaning,
      said,
    },
    plots: kept,
    own,
    best: FAMILIES[own.family].hasOptimum ? stands(0) : null,
    paying: r === null || own.family === 'line' ? null : stands(r),
    issues: doubts(product, own, shown.figures),
  };
}

function borrowedFit(
  product: ProductCase,
  crop: CropCase,
  borrowed: NonNullable<ReturnType<typeof borrowCurve>>,
): ProductFit {
  const { own, kept } = product;
  const { reference_buPerAc, level, r, tested_k } = crop;
  const response = fittedResponse(borrowed);
  const { fit, takenAsBest } = borrowed;
  const reason = own === null ? product.reason : 'its own plots show no bend';
  const said = [
    `No curve of its own, since ${reason}: ${FAMILIES[borrowed.family].stand} and bend are those of the crop's ${
      crop.group!.products
    } products that have one, the level is its own.`,
    ...(takenAsBest > 0 ? [`The stands of its ${takenAsBest} plots are not known: taken as the best.`] : []),
    ...(own === null ? [] : own.doubts),
  ];
  const tested = own?.trial.tested_k ?? tested_k;
  const stands = (at: number) => optimumInterval(response, reference_buPerAc, at, level);
  return {
    product: product.product,
    response,
    tested_plantsPerAc: tested && { min: 1000 * tested.min, max: 1000 * tested.max },
    fit: { plots: fit.trial.plots, sites: product.sites, runnerUp: null, leaning: 1, said },
    plots: kept,
    own,
    best: FAMILIES[borrowed.family].hasOptimum ? stands(0) : null,
    paying: r === null ? null : stands(r),
    issues: [
      {
        code: 'curve-borrowed',
        severity: 'warning',
        where: product.name,
        found: reason,
        expected: 'trials at three stands or more that bend',
        effect: `Its best stand is that of the other products of the crop${
          own === null && tested
            ? `, and so are the stands it is planted at, ${plants(tested.min)} to ${plants(tested.max)}`
            : ''
        }`,
        remedy: 'Add trials of this product at several stands',
      },
    ],
  };
}

function noCurve({ name, reason }: ProductCase): Issue {
  return {
    code: 'no-curve',
    severity: 'error',
    where: name,
    found: reason,
    expected: 'trials at three stands or more, with yields that differ',
    effect: 'It has no curve, so no rate can be set for it',
    remedy: 'Add trials of this product at several stands, or leave it out',
  };
}

function doubts({ name, choice }: ProductCase, own: FamilyFit, figures: ArrayLike<number>): Issue[] {
  const { min, max } = own.trial.tested_k;
  const tested = `${plants(min)} to ${plants(max)} plants/ac`;
  const issues: Issue[] = [];
  const { withoutStand, withoutEnvironment } = own.trial.leftOut;
  if (withoutStand + withoutEnvironment > 0)
    issues.push({
      code: 'plots-not-counted',
      severity: 'note',
      where: name,
      found: `${withoutStand} plots without a stand or a yield, ${withoutEnvironment} of sites without a known environment`,
      expected: 'stand, yield and environment of every plot',
      effect: 'They are kept, but the curve does not go by them',
      remedy: 'Tell what is missing',
    });
  if (own.family === 'line')
    issues.push({
      code: 'no-best-stand',
      severity: 'warning',
      where: name,
      found: choice?.said.replace(/\.$/, '') ?? 'no family with a best stand fits',
      expected: `a curve that bends within ${tested}`,
      effect: 'The better end of the stands tried is taken for the best',
      remedy: 'Add trials at more stands, or thinner and denser ones',
    });
  const best = bestStandOf(own.family, 0, 0)(figures);
  if (FAMILIES[own.family].hasOptimum && (best < min || best > max))
    issues.push({
      code: 'best-stand-not-tested',
      severity: 'warning',
      where: name,
      found: `a best stand of ${plants(best)} plants/ac`,
      expected: `one within the tested ${tested}`,
      effect: 'Rates stay within the tested stands',
      remedy: `Add trials ${best > max ? 'denser' : 'thinner'} than those`,
    });
  return issues;
}

import type { FamilyId } from '../response/family.ts';
import {
  FAR_WORSE,
  type FamilyChoice,
  type FamilyTrials,
  ranked,
  title,
} from '../response/fit/choose-family.ts';
import { type FamilyFit, isRefused } from '../response/fit/family-fit.ts';
import { BEND, FIGURES, LEVEL, STAND, STAND_PER_ENVIRONMENT } from '../response/fit/figures.ts';
import { finishFit, fitFamily, type Likeliest } from '../response/fit/fit-family.ts';
import { STANDS_FOR_A_CURVE } from '../response/fit/fit-refusal.ts';
import type { Plots } from '../response/plots.ts';
import { type FittedFigures, fittedResponse } from './fitted-response.ts';
import type { ProductResponse, ResponseFit } from './product-response.ts';
import type { ProductGroup, Shrunk } from './shrink-to-group.ts';

/** What became of one product. */
export interface FittedCurve {
  readonly response: ProductResponse | null;
  readonly runnerUp: ResponseFit['runnerUp'];
  readonly leaning: number;
  readonly said: readonly string[];
}

/** A family with what the products of a crop that were fitted by it have in common. */
export interface CropCurve {
  readonly family: FamilyId;
  readonly group: ProductGroup;
}

/** A share of leaning under this is not worth a sentence. */
const WORTH_TELLING = 0.05;

/** The fit of the family chosen, to the last digit; where it is refused after all, of the next that is not, and of the straight line at last. Null where there is none. */
export function ownFit(
  trials: FamilyTrials,
  choice: FamilyChoice | null,
  reference_buPerAc: number,
  rows: number,
): FamilyFit | null {
  if (choice === null) return null;
  const inTurn = new Set<FamilyId>([choice.family, ...ranked(trials).map(({ family }) => family), 'line']);
  let refused: string | null = null;
  for (const family of inTurn) {
    const likely = trials.tried.get(family);
    if (!likely || isRefused(likely)) continue;
    const fit = finishFit(likely, reference_buPerAc, rows);
    if (!isRefused(fit)) return refused === null ? fit : { ...fit, doubts: [refused, ...fit.doubts] };
    refused ??= `Not fitted by ${title(family)} after all, since ${fit.refused}.`;
  }
  return null;
}

/**
 * The response of a product: its own curve, drawn towards its group where the crop has one; else the curve of the group at the level of its own plots; else the straight line its plots show; else none.
 */
export function fitProduct(
  plots: Plots,
  trials: FamilyTrials,
  choice: FamilyChoice | null,
  own: FamilyFit | null,
  crop: CropCurve | null,
  reference_buPerAc: number,
  drawn: Shrunk | null,
  /** What is to be added to the variance of a lent curve's level, (bu/ac)²; NaN where it is not known. */
  elsewhere: number,
): FittedCurve {
  if (own !== null && choice !== null && own.family !== 'line') {
    const said = [choice.said, ...own.doubts];
    const runnerUp = own.family === choice.family ? choice.runnerUp : null;
    if (crop === null || drawn === null) return { response: fittedResponse(own), runnerUp, leaning: 0, said };
    const { figures, covariance, leaning } = drawn;
    return {
      response: fittedResponse({ ...own, figures, covariance }),
      runnerUp,
      leaning,
      said: [...said, ...leaningSaid(leaning, crop.group.products)],
    };
  }
  const lent = crop && lentCurve(plots, crop, reference_buPerAc, elsewhere || 0);
  const line = trials.tried.get('line');
  const straight = line && !isRefused(line) && own?.family === 'line' ? own : null;
  if (lent && !(straight && isFarBetter(line as Likeliest, lent.fit))) {
    return {
      response: fittedResponse(lent.figures),
      runnerUp: null,
      leaning: 1,
      said: [
        `Its own plots show no curve${whyNone(trials)}: it is given the best stand and the bend of the ${crop?.group.products} products of its crop that have one, at the level of its own plots.`,
        ...lent.fit.doubts,
      ],
    };
  }
  if (straight) {
    return {
      response: fittedResponse(straight),
      runnerUp: null,
      leaning: 0,
      said: [choice?.said ?? '', ...straight.doubts].filter((text) => text !== ''),
    };
  }
  return {
    response: null,
    runnerUp: null,
    leaning: 0,
    said: [`No curve can be had of its plots${whyNone(trials)}.`],
  };
}

function leaningSaid(leaning: number, products: number): string[] {
  return leaning < WORTH_TELLING
    ? []
    : [
        `Its best stand leans ${Math.round(100 * leaning)} % on the ${products} products of its crop, the rest on its own plots.`,
      ];
}

/** The curve of the group, its level by the product's own plots. What the group does not agree on is not known of the product either. */
function lentCurve(
  plots: Plots,
  { family, group }: CropCurve,
  reference_buPerAc: number,
  elsewhere: number,
): { fit: FamilyFit; figures: FittedFigures } | null {
  const { mean, meanCovariance, between, products } = group;
  const held = {
    stand_k: mean[STAND],
    ...(Number.isNaN(mean[STAND_PER_ENVIRONMENT])
      ? {}
      : { standPerEnvironment_k: mean[STAND_PER_ENVIRONMENT] }),
    ...(Number.isNaN(mean[BEND]) ? {} : { bend: mean[BEND] }),
  };
  const fit = fitFamily(plots, family, reference_buPerAc, { held });
  if (isRefused(fit)) return null;
  const covariance = fit.covariance.slice();
  covariance[LEVEL * FIGURES + LEVEL] += elsewhere;
  for (const a of [STAND, STAND_PER_ENVIRONMENT, BEND])
    for (const b of [STAND, STAND_PER_ENVIRONMENT, BEND]) {
      const at = a * FIGURES + b;
      if (!fit.fitted.includes(a) && !fit.fitted.includes(b))
        covariance[at] = between[at] + meanCovariance[at];
    }
  // Stand and bend are the group's, and so is what is known of how unsure they are.
  const withinDf = Math.max(fit.withinDf, products - 1);
  return { fit, figures: { ...fit, covariance, withinDf } };
}

/** Two stands always lie on a line: it takes three to speak against a curve. */
function isFarBetter(line: Likeliest, lent: FamilyFit): boolean {
  return lent.trial.stands.length >= STANDS_FOR_A_CURVE && lent.aicc - line.aicc >= FAR_WORSE;
}

function whyNone({ tried }: FamilyTrials): string {
  const quadratic = tried.get('quadratic');
  return quadratic && isRefused(quadratic) ? ` (${title('quadratic')}: ${quadratic.refused})` : '';
}

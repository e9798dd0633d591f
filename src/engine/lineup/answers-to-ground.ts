import { type AverageProduct, averageProduct } from './average-product.ts';
import { USUAL_LEVEL } from './estimate.ts';
import { finlayWilkinson, type GroundAnswers } from './finlay-wilkinson.ts';
import { type SiteEnvironments, siteEnvironments } from './site-environments.ts';
import type { TrialTable } from './trial-table.ts';

/** Environments that lie this near to what the yields give say the same, bu/ac: a lineup keeps them to a tenth, and plots to the hundredth. */
const SAME_ENVIRONMENT_BU_PER_AC = 0.1;

export interface AnswersToGround {
  readonly average: AverageProduct;
  readonly ground: SiteEnvironments;
  readonly answers: GroundAnswers;
}

/**
 * The ground of the trials of a crop and how its products answer to it: by the environments told, or by what the average product yields where none is told. Every plot is brought to the good stand
 * first, at which environments are given, so that a trial of stands leads by nothing it is not. Environments that say what the yields say, as those a lineup keeps, were not told.
 */
export function answersToGround(table: TrialTable, crop: string, level = USUAL_LEVEL): AnswersToGround {
  const average = averageProduct(table, crop);
  const ground = siteEnvironments(isFromYields(table, average) ? withoutTold(table) : table, crop, average);
  const { environment_buPerAc: environments, told } = ground;
  const answers = finlayWilkinson(
    average.atGoodStand,
    crop,
    told > 0
      ? { of: 'what was told', environments, average: average.yield_buPerAc, told }
      : { of: 'all products', environments },
    level,
  );
  return { average, ground, answers };
}

function isFromYields({ sites }: TrialTable, { yield_buPerAc }: AverageProduct): boolean {
  return sites.every(
    ({ environment_buPerAc: told }, site) =>
      Number.isNaN(yield_buPerAc[site]) || Math.abs(told - yield_buPerAc[site]) <= SAME_ENVIRONMENT_BU_PER_AC,
  );
}

function withoutTold(table: TrialTable): TrialTable {
  return { ...table, sites: table.sites.map((site) => ({ ...site, environment_buPerAc: NaN })) };
}

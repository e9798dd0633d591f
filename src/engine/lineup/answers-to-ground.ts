import { type AverageProduct, averageProduct } from './average-product.ts';
import { USUAL_LEVEL } from './estimate.ts';
import { finlayWilkinson, type GroundAnswers } from './finlay-wilkinson.ts';
import { type SiteEnvironments, siteEnvironments } from './site-environments.ts';
import type { TrialTable } from './trial-table.ts';

export interface AnswersToGround {
  readonly average: AverageProduct;
  readonly ground: SiteEnvironments;
  readonly answers: GroundAnswers;
}

/**
 * The ground of the trials of a crop and how its products answer to it: by the environments told, or by what the average product yields where none is told. Every plot is brought to the good stand
 * first, at which environments are given: else all products of a trial of stands would seem to fall short of the average one.
 */
export function answersToGround(table: TrialTable, crop: string, level = USUAL_LEVEL): AnswersToGround {
  const average = averageProduct(table, crop);
  const ground = siteEnvironments(table, crop, average);
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

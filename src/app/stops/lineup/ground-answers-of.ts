import { finlayWilkinson, type GroundAnswers } from '../../../engine/lineup/finlay-wilkinson.ts';
import type { Lineup } from '../../../plan/lineup-schema.ts';
import { lineupTrials } from '../../../plan/lineup-trials.ts';

let last: { lineup: Lineup; crop: string; answers: GroundAnswers | null } | null = null;

/** How the products of a crop answer to the ground of the trials the lineup keeps; null where it keeps none. The last answer is kept: every sheet asks for it again. */
export function groundAnswersOf(lineup: Lineup, crop: string): GroundAnswers | null {
  if (last?.lineup === lineup && last.crop === crop) return last.answers;
  const table = lineupTrials(lineup);
  const environments = table.sites.map((site) => site.environment_buPerAc);
  const answers =
    table.product.length > 0 ? finlayWilkinson(table, crop, { of: 'all products', environments }) : null;
  last = { lineup, crop, answers };
  return answers;
}

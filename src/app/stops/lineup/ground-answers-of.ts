import { type AnswersToGround, answersToGround } from '../../../engine/lineup/answers-to-ground.ts';
import type { GroundAnswers } from '../../../engine/lineup/finlay-wilkinson.ts';
import type { Lineup } from '../../../plan/lineup-schema.ts';
import { lineupTrials } from '../../../plan/lineup-trials.ts';

let last: { lineup: Lineup; crop: string; found: AnswersToGround | null } | null = null;

/** The ground of the trials of a crop the lineup keeps; null where it keeps none. The last answer is kept: every sheet asks for it again. */
export function groundOf(lineup: Lineup, crop: string): AnswersToGround | null {
  if (last?.lineup === lineup && last.crop === crop) return last.found;
  const table = lineupTrials(lineup);
  const found = table.product.length > 0 ? answersToGround(table, crop) : null;
  last = { lineup, crop, found };
  return found;
}

/** How the products of a crop answer to that ground. */
export function groundAnswersOf(lineup: Lineup, crop: string): GroundAnswers | null {
  return groundOf(lineup, crop)?.answers ?? null;
}

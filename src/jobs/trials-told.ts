import { answersToGround } from '../engine/lineup/answers-to-ground.ts';
import type { GroundAnswers } from '../engine/lineup/finlay-wilkinson.ts';
import { type Standings, standingsOf } from '../engine/lineup/standings.ts';
import { sameCrop } from '../engine/math/crop-name.ts';
import type { Lineup } from '../plan/lineup-schema.ts';
import { lineupTrials } from '../plan/lineup-trials.ts';
import type { RunControl } from '../run/walk.ts';

export interface TrialsRequest {
  readonly lineup: Lineup;
  readonly crop: string;
}

/** What the trials a lineup keeps tell of the products of a crop among each other; products and sites have the indices they have in the lineup. */
export interface TrialsTold {
  readonly answers: GroundAnswers;
  /** By site, bu/ac; NaN for a site without a plot of the crop. */
  readonly environment_buPerAc: Float64Array;
  readonly standings: Standings;
}

/** Null where the lineup keeps no plot of the crop. */
export function trialsTold({ lineup, crop }: TrialsRequest, control: RunControl = {}): TrialsTold | null {
  if (!lineup.products.some((own) => own.plots !== null && sameCrop(own.crop, crop))) return null;
  const step = 'Reading the trials';
  control.onProgress?.({ step, share: 0.1 });
  const { average, ground, answers } = answersToGround(lineupTrials(lineup), crop);
  control.signal?.throwIfAborted();
  control.onProgress?.({ step, share: 0.5 });
  return {
    answers,
    environment_buPerAc: ground.environment_buPerAc,
    standings: standingsOf(average),
  };
}

import { FAMILIES } from '../families.ts';
import type { FamilyId } from '../family.ts';
import {
  BEND,
  FIGURES,
  hasBend,
  LEVEL,
  LEVEL_PER_ENVIRONMENT,
  STAND,
  STAND_PER_ENVIRONMENT,
} from './figures.ts';
import type { Trial } from './trial.ts';

/** Sites of different environments it takes to fit how the level, and how the stand, follows the ground, spread over so much of the mean yield. Our own choices. */
export const SITES_FOR_LEVEL = 4;
export const SITES_FOR_STAND = 3;
const SPREAD = 0.1;

/** Figures that are given, not fitted: those of the product's group, say. */
export interface Held {
  readonly levelPerEnvironment?: number;
  readonly stand_k?: number;
  readonly standPerEnvironment_k?: number;
  readonly bend?: number;
}

/** Which figures these plots can tell, and what the others are held at: a level that follows the ground bushel for bushel, a stand that is the same on all ground. */
export function fittedFigures(
  id: FamilyId,
  trial: Trial,
  held: Held,
): { readonly fitted: number[]; readonly figures: Float64Array; readonly said: string[] } {
  const figures = new Float64Array(FIGURES);
  figures[LEVEL_PER_ENVIRONMENT] = held.levelPerEnvironment ?? 1;
  figures[STAND] = held.stand_k ?? NaN;
  figures[STAND_PER_ENVIRONMENT] = held.standPerEnvironment_k ?? 0;
  figures[BEND] = held.bend ?? (hasBend(id) ? 0 : NaN);
  const fitted = [LEVEL];
  const said: string[] = [];
  const { sites, environments } = trial;
  const spread = isSpread(trial);
  if (held.levelPerEnvironment === undefined) {
    if (spread && environments >= SITES_FOR_LEVEL) fitted.push(LEVEL_PER_ENVIRONMENT);
    else
      said.push(
        `How its level follows the ground is not fitted (${told(sites, environments, SITES_FOR_LEVEL)}): held at a bushel for a bushel.`,
      );
  }
  if (id === 'line') {
    figures[STAND] = (trial.tested_k.min + trial.tested_k.max) / 2;
    figures[STAND_PER_ENVIRONMENT] = 0;
  } else {
    if (held.stand_k === undefined) fitted.push(STAND);
    if (held.standPerEnvironment_k === undefined) {
      if (spread && environments >= SITES_FOR_STAND) fitted.push(STAND_PER_ENVIRONMENT);
      else
        said.push(
          `How its ${FAMILIES[id].stand} follows the ground is not fitted (${told(sites, environments, SITES_FOR_STAND)}): held the same on all ground.`,
        );
    }
  }
  if (held.bend === undefined && hasBend(id)) fitted.push(BEND);
  return { fitted, figures, said };
}

function isSpread({ away, y }: Trial): boolean {
  let low = Infinity;
  let high = -Infinity;
  let sum = 0;
  for (let i = 0; i < y.length; i++) {
    low = Math.min(low, away[i]);
    high = Math.max(high, away[i]);
    sum += y[i];
  }
  return high - low >= (SPREAD * sum) / y.length;
}

function told(sites: number, environments: number, needed: number): string {
  // Blocks of a single site stand for sites, so sites are not counted where all are of one environment.
  if (environments === 1)
    return `all stood on ground of one environment, ${needed} different ones are needed`;
  const count = `${sites} ${sites === 1 ? 'site' : 'sites'}`;
  if (environments < needed)
    return `${count}${environments === sites ? '' : ` of ${environments} environments`}, ${needed} of different environments are needed`;
  return `${count} of much the same environment`;
}

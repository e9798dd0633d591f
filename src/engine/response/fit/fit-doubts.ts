import { agronomicOptimum } from '../curve.ts';
import { FAMILIES } from '../families.ts';
import type { FamilyId } from '../family.ts';
import { BEND, curveAway } from './figures.ts';
import { STANDS_FOR_A_CURVE } from './fit-refusal.ts';
import { asOneStand, plants } from './stands-tried.ts';
import type { Trial } from './trial.ts';

/** What is in doubt about a fit, in sentences. */
export function fitDoubts(
  { tested_k: { min, max }, leftOut, sites, stands }: Trial,
  family: FamilyId,
  figures: Float64Array,
  apart: boolean,
  converged: boolean,
  /** Of the slope of a straight line, bu/ac by 1000 plants/ac. */
  slopeHalfWidth: number,
): string[] {
  const best = agronomicOptimum(curveAway(family, figures, 0));
  const said: string[] = [];
  const few = stands.length < STANDS_FOR_A_CURVE;
  const bend = few ? `${stands.length} stands cannot show a bend` : 'The plots show no bend';
  const tested = `${plants(min)} to ${plants(max)} plants/ac`;
  if (FAMILIES[family].hasOptimum && (best > max || best < min))
    said.push(
      `Its best stand, ${plants(best)} plants/ac, lies beyond the tested ${tested}: only what was tested is to be planted.`,
    );
  if (family === 'line')
    said.push(
      !(Math.abs(figures[BEND]) > slopeHalfWidth)
        ? `${bend}, and no slope can be told from none over the tested ${tested}.`
        : `${bend}, so there is no best stand: ${figures[BEND] > 0 ? 'thicker' : 'thinner'} yielded more, as far as tried (${tested}).`,
    );
  if (few && asOneStand(stands) !== '') said.push(`${asOneStand(stands)}.`);
  if (!converged) said.push('The fit did not come to rest: its figures may not be the best.');
  if (sites > 1 && !apart)
    said.push('Its sites have too few plots each to tell sites from plots: plots are taken as independent.');
  if (leftOut.withoutStand > 0)
    said.push(`${counted(leftOut.withoutStand)} without a stand or a yield not counted.`);
  if (leftOut.withoutEnvironment > 0)
    said.push(`${counted(leftOut.withoutEnvironment)} of sites without a known environment not counted.`);
  return said;
}

function counted(plots: number): string {
  return plots === 1 ? '1 plot is' : `${plots} plots are`;
}

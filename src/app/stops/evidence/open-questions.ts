import type { ColumnQuestion } from '../../../engine/harvest/recognise/role.ts';
import { unitInWords } from '../../../engine/harvest/recognise/unit-in-words.ts';
import { bushelOf, type YieldUnit, yieldIn_buPerAc } from '../../../engine/harvest/yield-unit.ts';
import { sameCrop } from '../../../engine/math/crop-name.ts';
import type { Plan } from '../../../plan/schema.ts';
import { yieldId } from '../../../plan/yield-id.ts';
import type { Results, YieldLayer } from '../../../run/results.ts';
import { figure } from '../../parts/figures.ts';

export type YieldPlan = Plan['evidence']['yields'][number];

/** A reading of a yield map in use that waits for a person. */
export interface OpenQuestion {
  readonly layer: YieldLayer;
  readonly map: YieldPlan;
  readonly question: ColumnQuestion;
}

/** Questions still open in the plan, in its order; those just settled are gone before the run is over. */
export function openQuestions(plan: Plan, { yields }: Results): OpenQuestion[] {
  return plan.evidence.yields.flatMap((map) => {
    const layer = yields.find(({ id }) => id === yieldId(map));
    if (!layer || !map.use) return [];
    return layer.questions
      .filter(({ about }) => map.open.includes(about))
      .map((question) => ({ layer, map, question }));
  });
}

/** What an answer would make of the map, as far as the figures at hand tell; empty where they do not. */
export function previewOf({ layer, map, question }: OpenQuestion, value: string, planned: string): string {
  const crop = map.crop ?? planned;
  // What the file's own figures come to on the mean.
  const perValue = yieldIn_buPerAc(1, map.unit, crop);
  const mean =
    layer.unit === 'bu/ac' && perValue !== null ? layer.summary.mean / perValue : layer.summary.mean;
  const inBushels = (bushels: number | null) => (bushels === null ? '' : `${figure(bushels)} bu/ac`);
  if (question.about === 'yield unit') {
    return value === 'unknown'
      ? 'better or worse only'
      : inBushels(yieldIn_buPerAc(mean, value as YieldUnit, crop));
  }
  if (question.about === 'crop') {
    // Of other records, or in another unit, the figures at hand tell nothing.
    const other = question.options.some(({ column }) => column !== undefined);
    if (
      other ||
      !(sameCrop(value, crop) || value === 'unknown' || unitInWords('yield', map.column, undefined))
    )
      return '';
    return value === 'unknown' ? 'better or worse only' : inBushels(yieldIn_buPerAc(mean, map.unit, value));
  }
  if (question.about === 'bushel weight' && layer.unit === 'bu/ac') {
    const counted = map.bushel_lb ?? bushelOf(crop);
    return inBushels(counted === null ? null : (layer.summary.mean * Number(value)) / counted);
  }
  return '';
}

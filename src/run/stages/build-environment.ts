import { howPlausible } from '../../engine/harvest/plausible-yield.ts';
import { UNUSUAL_UNDER, yearAgreement } from '../../engine/harvest/year-agreement.ts';
import { yearsTogether } from '../../engine/harvest/years-together.ts';
import { type YieldUnit, yieldIn_buPerAc } from '../../engine/harvest/yield-unit.ts';
import type { Issue } from '../../engine/issue.ts';
import { soilRelative } from '../../engine/layers/soil-relative.ts';
import { sameCrop } from '../../engine/math/crop-name.ts';
import { spreadOf } from '../../engine/math/weighted.ts';
import type { Plan } from '../../plan/schema.ts';
import { yieldId } from '../../plan/yield-id.ts';
import type { Environment, FieldResult, SoilLayer, YieldLayer } from '../results.ts';
import { summarise } from './summarise.ts';

export interface BuiltEnvironment extends Environment {
  readonly issues: readonly Issue[];
}

/**
 * Yield environment by cell, bu/ac: the field's expected yield times the cell's relative yield, from yield maps where there are any, from the soils where
 * not. Its mean by area over the cells known is the expected yield. Cells neither knows stay NaN. `fallback_buPerAc` is used when nothing says what to
 * expect of the field.
 */
export function buildEnvironment(
  field: FieldResult,
  soils: SoilLayer | null,
  yields: readonly YieldLayer[],
  plan: Pick<Plan, 'crop' | 'environment' | 'evidence'>,
  fallback_buPerAc: number | null,
): BuiltEnvironment {
  const { area } = field.grid;
  const issues: Issue[] = [];
  const used = yields.filter((layer) => layer.use);
  const meaning = plan.evidence.soils?.meaning ?? 'index';
  const bySoil = soils ? soilRelative(soils.values, area, meaning, plan.environment.soilSpread) : null;
  const weights = used.map((layer) => (layer.unusual ? 0 : layer.weight));
  const counted = weights.some((own) => own > 0);
  const together = yearsTogether(
    used.map(({ values, error }, k) => ({ values, error, weight: weights[k] })),
    area,
    { soilRelative: bySoil, by: plan.evidence.yearsBy },
  );
  const agreement = yearAgreement(
    used.map((layer) => layer.values),
    together.levels,
    area,
    weights.map((own) => own > 0),
  );
  tellUnusual(
    used.map(({ label }, k) => ({ label, agreement: agreement[k] })).filter((_, k) => weights[k] > 0),
    issues,
  );
  const values = together.relative.map((relative, cell) =>
    Number.isNaN(relative) && bySoil ? bySoil[cell] : relative,
  );

  const expected_buPerAc = expected();
  const known = counted || bySoil !== null;
  if (!known) {
    issues.push({
      code: 'environment-unknown',
      severity: 'warning',
      where: 'environment',
      found: 'no yield map that counts and no soils in use',
      expected: 'evidence of how the ground differs',
      effect: 'The field is one zone',
      remedy: 'Add yield maps or soils',
    });
    values.fill(1);
  } else if (!counted && meaning === 'index') {
    issues.push({
      code: 'environment-assumed',
      severity: 'warning',
      where: 'environment',
      found: `only a soil index; one standard deviation of it is taken as ${(100 * plan.environment.soilSpread).toFixed(0)} % of yield`,
      expected: 'yield maps',
      effect: 'How much the ground differs is an assumption, and the worth with it',
      remedy: 'Add yield maps, or set environment.soilSpread by what you know',
    });
  }
  // Years and soils that cover different ground need not come to 1 together.
  const { mean } = spreadOf(values, area);
  const scale = mean > 0 ? expected_buPerAc / mean : expected_buPerAc;
  const surface = values.map((relative) => relative * scale);
  const soilSpeaks = bySoil?.some((own, cell) => together.years[cell] === 0 && !Number.isNaN(own)) ?? false;
  const from = [
    ...(counted ? ['yield maps'] : []),
    ...(soilSpeaks ? [meaning === 'yield' ? 'soil ratings' : 'soil index'] : []),
  ];
  const weight = weights.reduce((sum, own) => sum + own, 0);
  return {
    values: surface,
    summary: summarise(surface, area),
    error: together.error.map((own) => own * scale),
    errorFrom: together.errorFrom,
    spread: together.spread,
    expected_buPerAc,
    from: from.join(' and ') || 'nothing known',
    years: together.years,
    levels: used.map(({ id }, k) => ({
      id,
      level: together.levels[k],
      share: weight > 0 ? weights[k] / weight : 0,
      agreement: agreement[k],
    })),
    issues,
  };

  /** The plan's word, else the mean level, by weight, of the crop's own yield maps that count and are beyond doubt, else of the soil ratings, else the lineup's reference. */
  function expected(): number {
    if (plan.environment.expected_buPerAc !== null) return plan.environment.expected_buPerAc;
    let [sum, total] = [0, 0];
    for (const [k, layer] of used.entries()) {
      const stated = plan.evidence.yields.find((map) => yieldId(map) === layer.id);
      if (weights[k] === 0 || (stated?.crop && !sameCrop(stated.crop, plan.crop))) continue;
      const level = yieldIn_buPerAc(together.levels[k], layer.unit as YieldUnit, plan.crop);
      if (level === null) continue;
      const doubt = doubtOf(level, stated?.open ?? [], plan.crop);
      if (doubt !== null) issues.push(tellDoubtful(layer.label, doubt));
      else {
        sum += weights[k] * level;
        total += weights[k];
      }
    }
    if (total > 0) return sum / total;
    if (soils && meaning === 'yield') return spreadOf(soils.values, area).mean;
    const assumed = fallback_buPerAc ?? 100;
    issues.push({
      code: 'expected-yield-assumed',
      severity: 'warning',
      where: 'environment.expected_buPerAc',
      found: 'no expected yield, and no layer that gives one in a known unit',
      expected: 'what the field yields in an average year',
      effect: `${assumed.toFixed(0)} bu/ac is assumed`,
      remedy: 'Set it (command line: --expected-yield)',
    });
    return assumed;
  }
}

/** Readings on which the figure of a yield rests. */
const FIGURE_RESTS_ON = ['yield column', 'yield unit', 'crop'];

/** Why a map's level is not to be counted into what the field yields, or null. */
function doubtOf(level_buPerAc: number, open: readonly string[], crop: string): string | null {
  const asked = FIGURE_RESTS_ON.filter((about) => open.includes(about));
  if (asked.length > 0) return `its ${asked.join(' and ')} not settled`;
  return howPlausible(level_buPerAc, 'bu/ac', crop) === 'implausible'
    ? `a level of ${level_buPerAc.toFixed(0)} bu/ac, which is no ${crop}`
    : null;
}

function tellDoubtful(where: string, found: string): Issue {
  return {
    code: 'yield-level-doubtful',
    severity: 'warning',
    where,
    found,
    expected: 'a yield the crop can give, in a unit that is sure',
    effect: 'The map tells where the ground is better or worse, and not how much it yields',
    remedy: 'Settle its unit, column and crop, or set the yield expected of the field',
  };
}

/** A year whose pattern is none of the others' is pointed out; whether it counts is for a person to say. */
function tellUnusual(
  counted: readonly { readonly label: string; readonly agreement: number }[],
  issues: Issue[],
): void {
  const odd = counted.filter(({ agreement }) => agreement < UNUSUAL_UNDER);
  // Of two years neither can be called the odd one.
  if (counted.length < 3 && odd.length > 0) {
    issues.push({
      code: 'years-contradict',
      severity: 'warning',
      where: counted.map(({ label }) => label).join(', '),
      found: `patterns of yield that agree little (correlation ${odd[0].agreement.toFixed(2)})`,
      expected: 'ground that is good in one year to be good in most',
      effect: 'Their mean says little of either year',
      remedy: 'Add another year, or leave out the one you know to be odd',
    });
    return;
  }
  for (const { label, agreement } of odd) {
    issues.push({
      code: 'year-unusual',
      severity: 'warning',
      where: label,
      found: `a pattern of yield unlike that of the other years (correlation ${agreement.toFixed(2)})`,
      expected: `${UNUSUAL_UNDER} or more`,
      effect: 'It counts like any other year',
      remedy: 'Call it unusual if you know why (flood, hail, replanting), and it is not counted',
    });
  }
}

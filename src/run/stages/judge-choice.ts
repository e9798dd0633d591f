import { type Issue, Refusal } from '../../engine/issue.ts';
import type { PlacementCheck } from '../../engine/lineup/placement-check.ts';
import type { RatedProduct } from '../../engine/lineup/product.ts';
import type { ZoneOption } from '../../engine/rates/assignment.ts';
import type { Zone } from '../../engine/zones/zoning.ts';
import { figure } from '../figures.ts';

/**
 * Ground under or over these multiples of the yield a product's figures are given at is told: responses are drawn as straight lines in
 * it, and trials seldom reach further. Our own choice, no source.
 */
const TRIALS_FROM = 0.6;
const TRIALS_TO = 1.5;

/** What the choice of a zone rests on and how far it can be trusted. Refuses a choice that is expected to yield nothing. */
export function judgeChoice(
  zone: Zone,
  chosen: ZoneOption,
  product: RatedProduct,
  placement: PlacementCheck,
  emergence: number,
): Issue[] {
  const where = `zone ${zone.id} ${zone.name}`;
  const rateByHand = chosen.bound.includes('rate-by-hand');
  if (!(chosen.yield_buPerAc > 0)) {
    throw new Refusal({
      code: 'zone-without-yield',
      where,
      found: `${product.name} at ${figure.whole(chosen.seedsPerAc)} seeds/ac${rateByHand ? ' set by hand' : ''} comes to ${figure.tenth(chosen.yield_buPerAc)} bu/ac by its curve, on ground of ${figure.tenth(zone.environment_buPerAc)}`,
      expected: 'a yield over zero',
      effect: 'The curve does not hold there, so no plan is made',
      remedy: rateByHand
        ? 'Set a rate nearer the tested stands, or take the hand choice back'
        : 'Check the yield expected of the field and the figures of the lineup, or add a product for such ground',
    });
  }
  const issues: Issue[] = [];
  const reference = product.response.reference_buPerAc;
  const share = zone.environment_buPerAc / reference;
  if (share < TRIALS_FROM || share > TRIALS_TO) {
    issues.push({
      code: 'ground-beyond-trials',
      severity: 'warning',
      where,
      found: `ground of ${figure.tenth(zone.environment_buPerAc)} bu/ac, planted to ${product.name}`,
      expected: `${figure.tenth(TRIALS_FROM * reference)} to ${figure.tenth(TRIALS_TO * reference)} bu/ac: ${TRIALS_FROM} to ${TRIALS_TO} times the ${figure.tenth(reference)} its figures are given at (a threshold of our own)`,
      effect: 'Its yield, rate and margin there reach far beyond its trials',
      remedy: 'Check the yield expected of the field, or use figures from trials on such ground',
    });
  }
  const { min, max } = product.tested_plantsPerAc;
  if (rateByHand && (chosen.plantsPerAc < min - 1 || chosen.plantsPerAc > max + 1)) {
    issues.push({
      code: 'by-hand-beyond-tested',
      severity: 'warning',
      where,
      found: `${figure.whole(chosen.plantsPerAc)} plants/ac set by hand`,
      expected: `${figure.whole(min)} to ${figure.whole(max)}, as ${product.name} was tested`,
      effect: 'Its yield and margin there are a guess beyond all trials',
      remedy: 'Set a rate within the tested stands, or take the hand choice back',
    });
  }
  if (placement.verdict === 'care') {
    issues.push({
      code: 'placed-with-care',
      severity: 'warning',
      where,
      found: `${product.name}. ${placement.because.join(' ')}`,
      expected: 'ground none of its placement rules speaks against',
      effect: 'It is planted there all the same: it earns most of what is open, or was set by hand',
      remedy: 'Watch it there, set another product by hand, or change the rule in the lineup',
    });
  }
  const limits = chosen.bound.filter((limit) => !limit.endsWith('-by-hand'));
  if (limits.length > 0) {
    issues.push({
      code: 'rate-at-limit',
      severity: 'note',
      where,
      found: `${product.name} is held at ${figure.whole(chosen.seedsPerAc)} seeds/ac`,
      expected:
        chosen.economicOptimum_plantsPerAc === null
          ? 'a best stand, which its curve has not'
          : chosen.economicOptimum_plantsPerAc === 0
            ? 'a stand that earns more than planting nothing, which its curve has not at these prices'
            : `${figure.whole(chosen.economicOptimum_plantsPerAc / emergence)} seeds/ac by its curve`,
      effect: `The ${limits.join(' and ')} limit holds it${chosen.boundCostsPerAc >= 0.005 ? `, which costs ${figure.cents(chosen.boundCostsPerAc)}/ac there` : ''}`,
      remedy: limits.includes('tested')
        ? 'Nothing to do; going further needs trials at such stands'
        : limits.includes('meter')
          ? 'Drive slower there, or change what the plan says of the planter'
          : 'Nothing to do, or change the limit in the plan',
    });
  }
  return issues;
}

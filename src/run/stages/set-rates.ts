import { type Issue, Refusal } from '../../engine/issue.ts';
import type { PlacementCheck } from '../../engine/lineup/placement-check.ts';
import type { RatedProduct } from '../../engine/lineup/product.ts';
import { M2_PER_ACRE } from '../../engine/math/units.ts';
import type { ZoneChoice, ZoneOption } from '../../engine/rates/assignment.ts';
import { chooseProducts } from '../../engine/rates/choose-products.ts';
import { bestFlatPlan, type FlatPlan } from '../../engine/rates/flat-plan.ts';
import type { Money } from '../../engine/rates/money.ts';
import type { ProductLimits } from '../../engine/rates/product-limits.ts';
import { type Worth, worthOver } from '../../engine/rates/worth.ts';
import type { Zone, Zoning } from '../../engine/zones/zoning.ts';
import type { Plan } from '../../plan/schema.ts';
import { curveIssues, groundDoubt } from './curve-holds.ts';
import { judgeChoice } from './judge-choice.ts';
import { judgeTrials } from './judge-trials.ts';
import { noPlanWithin } from './no-plan-within.ts';
import { openOptions } from './open-options.ts';
import { passedOver } from './passed-over.ts';

import { productLimitsOf } from './product-limits-of.ts';

export interface SetRates {
  readonly choices: readonly ZoneChoice[];
  /** What the choice was among, by zone, before rates set by hand; the limits it was under, and what came of it. */
  readonly open: readonly (readonly ZoneOption[])[];
  readonly limits: ProductLimits;
  readonly freely: readonly ZoneChoice[];
  /** Of each zone. */
  readonly acres: readonly number[];
  readonly worth: Worth | null;
  readonly issues: readonly Issue[];
}

/** What the placement rules say, by zone and then by product. */
export type Placement = readonly (readonly PlacementCheck[])[];

/** One product and one rate for every zone, by margin under the limits and the placement rules, and what that is worth over the best flat plan. */
export function setRates(
  zoning: Zoning,
  products: readonly RatedProduct[],
  placement: Placement,
  plan: Pick<Plan, 'money' | 'rates'>,
): SetRates {
  const issues = curveIssues(zoning.zones, products);
  if (plan.money.grainPrice_perBu === null) {
    throw new Refusal({
      code: 'price-missing',
      where: 'money.grainPrice_perBu',
      found: 'no grain price',
      expected: 'dollars a bushel',
      effect: 'No rate can be weighed against its cost',
      remedy: 'Set it (command line: --grain-price)',
    });
  }
  const money = {
    ...plan.money,
    grainPrice_perBu: plan.money.grainPrice_perBu,
    emergence: plan.rates.emergence,
  };
  const area_ac = zoning.zones.map((zone) => zone.area_m2 / M2_PER_ACRE);
  // A rate set by hand says nothing of the product: that is chosen as if no rate had been set, and kept.
  const free = {
    ...plan.rates,
    byHand: plan.rates.byHand.map((choice) => ({ ...choice, seedsPerAc: null })),
  };
  const options = zoning.zones.map((zone, k) => openOptions(zone, products, placement[k], money, free));
  for (const { zone } of plan.rates.byHand) {
    if (!zoning.zones.some((own) => own.id === zone)) {
      issues.push({
        code: 'by-hand-no-zone',
        severity: 'warning',
        where: 'rates.byHand',
        found: `zone ${zone}`,
        expected: `1 to ${zoning.zones.length}`,
        effect: 'The choice by hand is not used',
        remedy: 'Take it back or name a zone there is',
      });
    }
  }
  const acres = area_ac.reduce((sum, own) => sum + own, 0);
  const { hoppers } = plan.rates;
  const limits = {
    ...productLimitsOf(plan.rates, products, acres, issues),
    handRates: handRatesOf(zoning, plan.rates),
  };
  const freely = chooseProducts(options, area_ac, hoppers, limits);
  if (freely === null) throw new Refusal(noPlanWithin(options, area_ac, hoppers, limits, products));
  const choices = freely.map((choice, k) =>
    withHandRate(choice, zoning.zones[k], products, placement[k], money, plan.rates),
  );
  const flat = flatPlan(products, placement, zoning, money, plan.rates, limits, issues);
  for (const [k, { chosen }] of choices.entries()) {
    const { product } = chosen;
    issues.push(
      ...judgeChoice(zoning.zones[k], chosen, products[product], placement[k][product], money.emergence),
    );
  }
  issues.push(...judgeTrials(products, choices), ...passedOver(zoning, choices, products, placement));
  return {
    ...{ choices, open: options, limits, freely, acres: area_ac },
    worth: flat ? worthOver(flat, choices, area_ac) : null,
    issues,
  };
}

/** By zone, from 0. */
function handRatesOf({ zones }: Zoning, { byHand }: Plan['rates']): Map<number, number> {
  return new Map(
    byHand.flatMap(({ zone, seedsPerAc }) => {
      const k = zones.findIndex(({ id }) => id === zone);
      return k < 0 || seedsPerAc === null ? [] : [[k, seedsPerAc] as const];
    }),
  );
}

/** The best flat plan of the products that may go in every zone and whose curves hold there; null, and told, where there are none. */
function flatPlan(
  products: readonly RatedProduct[],
  placement: Placement,
  { zones }: Zoning,
  money: Money,
  rates: Plan['rates'],
  { seedsOnHand }: ProductLimits,
  issues: Issue[],
): FlatPlan | null {
  const everywhere = products.flatMap((product, index) =>
    placement.some((checks) => checks[index].verdict === 'not here') ||
    zones.some((zone) => groundDoubt(product, zone) !== null)
      ? []
      : [index],
  );
  if (everywhere.length === 0)
    issues.push({
      code: 'flat-plan-none',
      severity: 'note',
      where: 'rates',
      found:
        'every product is kept out of some zone by its placement rules, or its curve does not hold there',
      expected: 'a product that may go everywhere',
      effect: 'There is no flat plan to set this one against, so its worth is not known',
      remedy: 'Nothing to do, or check the rules in the lineup',
    });
  const best = bestFlatPlan(
    everywhere.map((index) => products[index]),
    zones.map((zone) => ({
      environment_buPerAc: zone.environment_buPerAc,
      area_ac: zone.area_m2 / M2_PER_ACRE,
    })),
    money,
    rates,
    new Map(
      everywhere.flatMap((index, k) => {
        const seeds = seedsOnHand.get(index);
        return seeds === undefined ? [] : [[k, seeds] as const];
      }),
    ),
  );
  return best && { ...best, product: everywhere[best.product] };
}

/** The choice with the rate set by hand, for the product chosen; every option of the zone is shown at that rate. */
function withHandRate(
  choice: ZoneChoice,
  zone: Zone,
  products: readonly RatedProduct[],
  checks: readonly PlacementCheck[],
  money: Money,
  rates: Plan['rates'],
): ZoneChoice {
  const hand = rates.byHand.find((own) => own.zone === zone.id);
  if (!hand || hand.seedsPerAc === null) return choice;
  const options = openOptions(zone, products, checks, money, rates);
  const chosen = options.find((option) => option.product === choice.chosen.product);
  return chosen
    ? { ...choice, chosen, options: options.sort((a, b) => b.marginPerAc - a.marginPerAc) }
    : choice;
}

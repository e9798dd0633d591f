import { type Issue, Refusal } from '../../engine/issue.ts';
import type { Product } from '../../engine/lineup/product.ts';
import { sameCrop } from '../../engine/lineup/same-crop.ts';
import { M2_PER_ACRE } from '../../engine/math/units.ts';
import type { ZoneChoice, ZoneOption } from '../../engine/rates/assignment.ts';
import { chooseProducts } from '../../engine/rates/choose-products.ts';
import { bestFlatPlan, type Worth, worthOver } from '../../engine/rates/flat-plan.ts';
import { zoneOption } from '../../engine/rates/zone-option.ts';
import type { Zoning } from '../../engine/zones/zoning.ts';
import type { Lineup } from '../../plan/lineup-schema.ts';
import type { Plan } from '../../plan/schema.ts';

export interface UsableLineup {
  readonly products: readonly Product[];
  readonly setAside: Readonly<Record<string, number>>;
  readonly issues: readonly Issue[];
}

/** The products of the plan's crop that are not left out. Refuses a lineup without any. */
export function usableLineup(
  lineup: Lineup,
  where: string,
  crop: string,
  leaveOut: readonly string[],
): UsableLineup {
  const ofCrop = lineup.products.filter((product) => sameCrop(product.crop, crop));
  const products = ofCrop.filter((product) => !leaveOut.includes(product.id));
  if (products.length === 0) {
    const crops = [...new Set(lineup.products.map((product) => product.crop))];
    throw new Refusal({
      code: 'lineup-no-usable-product',
      where,
      found:
        lineup.products.length === 0
          ? 'no products'
          : `products for ${crops.join(', ')}${ofCrop.length ? ', all left out by the plan' : ''}`,
      expected: `at least one ${crop} product`,
      effect: 'No product or rate can be set',
      remedy: 'Choose a lineup for this crop, or leave fewer products out',
    });
  }
  const setAside: Record<string, number> = {};
  if (lineup.products.length > ofCrop.length) setAside['other-crop'] = lineup.products.length - ofCrop.length;
  if (ofCrop.length > products.length) setAside['left-out'] = ofCrop.length - products.length;
  return { products, setAside, issues: [] };
}

export interface SetRates {
  readonly choices: readonly ZoneChoice[];
  readonly worth: Worth | null;
  readonly issues: readonly Issue[];
}

/** One product and one rate for every zone, by margin under the limits, and what that is worth over the best flat plan. */
export function setRates(
  zoning: Zoning,
  products: readonly Product[],
  plan: Pick<Plan, 'money' | 'rates'>,
): SetRates {
  const issues: Issue[] = [];
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
  const options = zoning.zones.map((zone) => {
    const hand = plan.rates.byHand.find((choice) => choice.zone === zone.id);
    const open: ZoneOption[] = [];
    products.forEach((product, index) => {
      if (hand?.product && hand.product !== product.id) return;
      const option = zoneOption(
        product,
        index,
        zone.environment_buPerAc,
        money,
        plan.rates,
        hand?.seedsPerAc ?? null,
      );
      if (option) open.push(option);
    });
    if (open.length === 0) {
      throw new Refusal({
        code: 'zone-without-product',
        where: `zone ${zone.id} ${zone.name}`,
        found: hand?.product ? `${hand.product} set by hand` : `${products.length} products`,
        expected: 'a product whose tested stands and the rate limits leave a rate',
        effect: 'The zone has no rate, so no plan is made',
        remedy: 'Widen the rate limits, take the hand choice back, or add a product',
      });
    }
    return open;
  });
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
  const choices = chooseProducts(options, area_ac, plan.rates.hoppers);
  if (choices === null) {
    throw new Refusal({
      code: 'hoppers-too-few',
      where: 'rates.hoppers',
      found: `${plan.rates.hoppers} hoppers`,
      expected: 'enough for the products set by hand',
      effect: 'No set of products serves every zone',
      remedy: 'Set fewer products by hand or allow more hoppers',
    });
  }
  const ground = zoning.zones.map((zone, k) => ({
    environment_buPerAc: zone.environment_buPerAc,
    area_ac: area_ac[k],
  }));
  const flat = bestFlatPlan(products, ground, money, plan.rates);
  for (const [k, { chosen }] of choices.entries()) {
    const { min, max } = products[chosen.product].tested_plantsPerAc;
    if (chosen.bound.includes('by-hand') && (chosen.plantsPerAc < min - 1 || chosen.plantsPerAc > max + 1)) {
      issues.push({
        code: 'by-hand-beyond-tested',
        severity: 'warning',
        where: `zone ${k + 1} ${zoning.zones[k].name}`,
        found: `${Math.round(chosen.plantsPerAc).toLocaleString('en-US')} plants/ac set by hand`,
        expected: `${min.toLocaleString('en-US')} to ${max.toLocaleString('en-US')}, as ${products[chosen.product].name} was tested`,
        effect: 'Its yield and margin there are a guess beyond all trials',
        remedy: 'Set a rate within the tested stands, or take the hand choice back',
      });
    }
    const limits = chosen.bound.filter((limit) => limit !== 'by-hand');
    if (limits.length > 0) {
      issues.push({
        code: 'rate-at-limit',
        severity: 'note',
        where: `zone ${k + 1} ${zoning.zones[k].name}`,
        found: `${products[chosen.product].name} stops at ${chosen.seedsPerAc.toLocaleString('en-US')} seeds/ac`,
        expected: `${Math.round(chosen.economicOptimum_plantsPerAc / money.emergence).toLocaleString('en-US')} seeds/ac by its curve`,
        effect: `The ${limits.join(' and ')} limit holds it`,
        remedy: 'Nothing, or change the limit',
      });
    }
  }
  return { choices, worth: flat ? worthOver(flat, choices, area_ac) : null, issues };
}

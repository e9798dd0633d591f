import { toLonLat } from '../engine/geodesy/field-frame.ts';
import type { Plan } from '../plan/schema.ts';
import { figure } from './figures.ts';
import type { Results } from './results.ts';

/** The trail of one spot: short sentences, each with where its figures came from, ending in the rate. */
export interface WhyHere {
  readonly cell: number;
  readonly lon: number;
  readonly lat: number;
  readonly sentences: readonly WhySentence[];
}

export interface WhySentence {
  readonly text: string;
  readonly source: string;
}

/** Why the rate on a cell is what it is. Null when the field has no such cell. */
export function whyHere(results: Results, plan: Plan, cell: number): WhyHere | null {
  const { field } = results;
  if (!field || !(cell >= 0 && cell < field.grid.area.length)) return null;
  const { lon, lat } = toLonLat(
    field.frame,
    field.grid.x.subarray(cell, cell + 1),
    field.grid.y.subarray(cell, cell + 1),
  );
  const sentences = [
    ...soilSentence(results, cell),
    ...yieldSentence(results, cell),
    ...zoneSentence(results, cell),
    ...rateSentences(results, plan, cell),
  ];
  return { cell, lon: lon[0], lat: lat[0], sentences };
}

function soilSentence({ soils }: Results, cell: number): WhySentence[] {
  if (!soils) return [];
  const value = soils.values[cell];
  if (Number.isNaN(value)) return [{ text: 'No soil is mapped here.', source: 'soil map' }];
  const unit = soils.unit ? ` ${soils.unit}` : '';
  return [
    {
      text: `The soil here is rated ${figure.tenth(value)}${unit}; the field's mean is ${figure.tenth(soils.summary.mean)}.`,
      source: `soil map, ${soils.label}`,
    },
  ];
}

function yieldSentence(results: Results, cell: number): WhySentence[] {
  const used = results.yields.filter((layer) => layer.use && !Number.isNaN(layer.values[cell]));
  if (used.length === 0)
    return results.yields.length ? [{ text: 'No yield was measured here.', source: 'yield maps' }] : [];
  const shares = used.map((layer) => layer.values[cell] / layer.summary.mean - 1);
  const mean = shares.reduce((sum, share) => sum + share, 0) / shares.length;
  const alike = shares.filter((share) => Math.sign(share) === Math.sign(mean)).length;
  const side = mean < 0 ? 'under' : 'over';
  const spread =
    shares.length > 1
      ? `, give or take ${figure.whole(100 * Math.sqrt(shares.reduce((sum, share) => sum + (share - mean) ** 2, 0) / (shares.length - 1)))}`
      : '';
  return [
    {
      text: `It yields ${figure.whole(100 * Math.abs(mean))} % ${side} the field${spread}; ${side} in ${alike} of ${shares.length} ${shares.length === 1 ? 'year' : 'years'}.`,
      source: used.map((layer) => layer.label).join(', '),
    },
  ];
}

function zoneSentence({ zoning, environment }: Results, cell: number): WhySentence[] {
  if (!zoning || !environment) return [];
  const zone = zoning.zones[zoning.label[cell]];
  if (!zone.known) {
    return [
      {
        text: `No layer covers this ground, so it is planted for the field's expected ${figure.whole(zone.environment_buPerAc)} bu/ac.`,
        source: 'zones',
      },
    ];
  }
  const own = environment.values[cell];
  const here = Number.isNaN(own) ? '' : ` This spot by itself: ${figure.whole(own)}.`;
  return [
    {
      text: `It lies in ${zone.name}, ${figure.whole(zone.environment_buPerAc)} ± ${figure.whole(zone.environmentSd_buPerAc)} bu/ac ground.${here}`,
      source: `zones, ${environment.from}`,
    },
  ];
}

function rateSentences(results: Results, plan: Plan, cell: number): WhySentence[] {
  const { zoning, choices, lineup } = results;
  if (!zoning || !choices) return [];
  const { chosen, options } = choices[zoning.label[cell]];
  const product = lineup[chosen.product];
  const sites = product.trialSites === null ? 'lineup' : `lineup, ${product.trialSites} trial sites`;
  const sentences: WhySentence[] = [];
  const other = options.find((option) => option.product !== chosen.product);
  if (other) {
    const gap = chosen.marginPerAc - other.marginPerAc;
    const rival = lineup[other.product].name;
    const text =
      gap >= 0
        ? `${product.name} leads ${rival} here by ${figure.cents(gap)} an acre.`
        : `${rival} would earn ${figure.cents(-gap)} an acre more here, but ${hopperReason(plan)}.`;
    sentences.push({ text, source: sites });
  }
  const limit =
    chosen.bound.length === 0
      ? 'No limit binds.'
      : chosen.bound.includes('by-hand')
        ? 'Set by hand.'
        : `The ${chosen.bound.join(' and ')} limit binds.`;
  sentences.push({
    text: `Its best stand is ${figure.whole(chosen.economicOptimum_plantsPerAc)} plants; at ${figure.whole(100 * plan.rates.emergence)} % emergence and in steps of ${figure.whole(plan.rates.step_seedsPerAc)} that is ${figure.whole(chosen.seedsPerAc)} seeds an acre. ${limit}`,
    source: `response curve, grain at ${figure.cents(plan.money.grainPrice_perBu ?? 0)}/bu, seed at ${figure.cents(product.pricePerUnit)} a unit`,
  });
  return sentences;
}

function hopperReason(plan: Plan): string {
  return plan.rates.hoppers === 1
    ? 'the planter carries one product'
    : `the planter carries ${plan.rates.hoppers} products and others earn more over the field`;
}

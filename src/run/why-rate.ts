import type { RatedProduct } from '../engine/lineup/product.ts';
import type { ZoneChoice } from '../engine/rates/assignment.ts';
import type { ProductLead } from '../engine/rates/worth.ts';
import type { Plan } from '../plan/schema.ts';
import { figure } from './figures.ts';
import type { Results } from './results.ts';
import { placedSentences } from './why-placed.ts';

export interface WhySentence {
  readonly text: string;
  /** Where its figures come from. */
  readonly source: string;
}

/** Why a cell has its product and its rate: hand choices and limits are said as such. Empty where no rates are set. */
export function rateSentences(results: Results, plan: Plan, cell: number): WhySentence[] {
  const { zoning, choices, lineup, sure } = results;
  if (!zoning || !choices) return [];
  const zone = zoning.label[cell];
  const choice = choices[zone];
  return [
    ...productSentence(choice, choices, lineup, plan, sure?.leads[zone] ?? null),
    ...placedSentences(results, cell),
    rateSentence(choice, lineup, plan),
  ];
}

function productSentence(
  { chosen, options }: ZoneChoice,
  choices: readonly ZoneChoice[],
  lineup: readonly RatedProduct[],
  plan: Plan,
  lead: ProductLead | null,
): WhySentence[] {
  const product = lineup[chosen.product];
  if (chosen.bound.includes('product-by-hand'))
    return [{ text: `You set ${product.name} in this zone.`, source: 'plan, set by hand' }];
  const other = options.find((option) => option.product !== chosen.product);
  if (!other) return [];
  const gap = chosen.marginPerAc - other.marginPerAc;
  const rival = lineup[other.product].name;
  const at = chosen.bound.includes('rate-by-hand') ? ' at the rate you set' : '';
  const text =
    gap >= 0
      ? `${product.name} leads ${rival} here by ${figure.cents(gap)} an acre${at}${lead?.over === other.product ? leadText(lead) : ''}.`
      : `${rival} would earn ${figure.cents(-gap)} an acre more here${at}, but ${whyNotCarried(choices, lineup, plan)}.`;
  return [
    {
      text,
      source: product.fit === null ? 'lineup' : `lineup, ${figure.count(product.fit.sites, 'trial site')}`,
    },
  ];
}

/** How sure a lead is; nothing where nobody says. */
function leadText({ best, chances: { low, high } }: ProductLead): string {
  return low < high
    ? `, nine times in ten between ${figure.cents(low)} and ${figure.cents(high)}; it is the best of all in ${figure.whole(100 * best)} of 100 drawn worlds`
    : '';
}

/** Why a product that leads a zone is not among those carried. */
function whyNotCarried(choices: readonly ZoneChoice[], lineup: readonly RatedProduct[], plan: Plan): string {
  const { hoppers } = plan.rates;
  const carried = new Set(choices.map(({ chosen }) => chosen.product));
  if (carried.size < hoppers) return 'that is less than a cent over the whole field';
  const byHand = new Set(
    choices.flatMap(({ chosen }) => (chosen.bound.includes('product-by-hand') ? [chosen.product] : [])),
  );
  const names = [...byHand].map((product) => lineup[product].name).join(' and ');
  if (byHand.size === hoppers)
    return hoppers === 1
      ? `${names}, set by hand, fills the one hopper`
      : `${names}, set by hand, fill the ${hoppers} hoppers`;
  const products = `${figure.count(carried.size, 'product')} ${carried.size === 1 ? 'is' : 'are'} carried`;
  return byHand.size > 0
    ? `${products}, ${names} by hand, and with ${byHand.size === 1 ? 'it' : 'them'} the set chosen earns most over the field`
    : `${products} and the set chosen earns most over the field`;
}

const holders: Readonly<Record<string, string>> = {
  tested: 'the tested limit',
  lowest: "the plan's lower limit",
  highest: "the plan's upper limit",
  meter: 'what the meter drops at that speed',
};

function rateSentence({ chosen }: ZoneChoice, lineup: readonly RatedProduct[], plan: Plan): WhySentence {
  const { emergence, step_seedsPerAc: step } = plan.rates;
  const product = lineup[chosen.product];
  const seeds = figure.whole(chosen.seedsPerAc);
  const held = chosen.bound.find((limit) => limit in holders);
  const source = `response curve, grain at ${figure.cents(plan.money.grainPrice_perBu ?? 0)}/bu, seed at ${figure.cents(product.pricePerUnit)} a unit`;
  if (chosen.economicOptimum_plantsPerAc === null)
    return {
      text: chosen.bound.includes('rate-by-hand')
        ? `Its trials show no best stand; you set ${seeds} seeds an acre.`
        : `Its trials show no best stand: of the rates open to it ${seeds} seeds an acre earn most, at ${held ? holders[held] : 'a limit'}.`,
      source,
    };
  if (chosen.economicOptimum_plantsPerAc === 0)
    return {
      text: `By its curve planting nothing would earn more at these prices; ${
        chosen.bound.includes('rate-by-hand')
          ? `you set ${seeds} seeds an acre`
          : `of the rates open to it ${seeds} seeds an acre earn most${held ? `, at ${holders[held]}` : ''}`
      }.`,
      source,
    };
  const stand = figure.whole(chosen.economicOptimum_plantsPerAc);
  const wouldBe = figure.whole(Math.round(chosen.economicOptimum_plantsPerAc / emergence / step) * step);
  const text = chosen.bound.includes('rate-by-hand')
    ? `Its best stand is ${stand} plants, which would be ${wouldBe} seeds; you set ${seeds}.`
    : held
      ? `Its best stand is ${stand} plants, which would be ${wouldBe} seeds; ${holders[held]} holds it at ${seeds}.`
      : `Its best stand is ${stand} plants; at ${figure.whole(100 * emergence)} % emergence and in steps of ${figure.whole(step)} that is ${seeds} seeds an acre. No limit binds.`;
  return { text, source };
}

import type { RatedProduct } from '../lineup/product.ts';
import type { ZoneChoice } from './assignment.ts';
import { type Chances, chancesOf } from './chances.ts';
import { earningsByWorld, marginsByWorld, type Planted } from './earnings-by-world.ts';
import type { FlatPlan } from './flat-plan.ts';
import type { Ground } from './ground.ts';
import type { Money } from './money.ts';
import type { Worlds } from './worlds.ts';

/** What the plan earns over the best flat plan, $. */
export interface Worth {
  readonly flat: FlatPlan;
  readonly perAc: number;
  readonly perField: number;
  /** Of the plan. */
  readonly marginPerAc: number;
  /** What of it the flat plan's own product would bring at the best rate of each zone, and what comes of placing products besides, $/ac; null where that product is not open in every zone. */
  readonly parts: { readonly ratesPerAc: number; readonly productsPerAc: number } | null;
  /** Where a bushel brings more, or less, than this at the field the plan is ahead, planted as it is; null where it is at any price, or at none. */
  readonly breakEven: { readonly side: 'over' | 'under'; readonly netPrice_perBu: number } | null;
}

/** The margins of the plan and of the flat one, both as the lineup has them. */
export function worthOver(flat: FlatPlan, choices: readonly ZoneChoice[], area_ac: readonly number[]): Worth {
  const acres = area_ac.reduce((sum, own) => sum + own, 0);
  const mean = (of: (choice: ZoneChoice, k: number) => number) =>
    choices.reduce((sum, choice, k) => sum + of(choice, k) * area_ac[k], 0) / acres;
  const marginPerAc = mean(({ chosen }) => chosen.marginPerAc);
  const ofFlat = choices.map(({ options }) => options.find(({ product }) => product === flat.product));
  const perAc = marginPerAc - flat.marginPerAc;
  // Where it is not open to a zone there is nothing to add up.
  const ratesPerAc = mean((_, k) => ofFlat[k]?.marginPerAc ?? NaN) - flat.marginPerAc;
  return {
    flat,
    marginPerAc,
    perAc,
    perField: perAc * acres,
    breakEven: breakEvenOf(
      mean(({ chosen }) => chosen.yield_buPerAc) - flat.yield_buPerAc,
      mean(({ chosen }) => chosen.seedCostPerAc) - flat.seedCostPerAc,
    ),
    parts: Number.isNaN(ratesPerAc) ? null : { ratesPerAc, productsPerAc: perAc - ratesPerAc },
  };
}

/** By what the plan yields and costs in seed more than the flat one. */
function breakEvenOf(bushels: number, seed: number): Worth['breakEven'] {
  const netPrice_perBu = seed / bushels;
  return netPrice_perBu > 0 && Number.isFinite(netPrice_perBu)
    ? { side: bushels > 0 ? 'over' : 'under', netPrice_perBu }
    : null;
}

/** How sure the plan is. */
export interface Sureness {
  /** Of what it earns over the flat plan. */
  readonly gain: Chances;
  /** By zone: of what the product chosen earns there over the best other one; null where no other is open. */
  readonly leads: readonly (ProductLead | null)[];
  /** Products of the choice, or of what it is held against, of which the lineup does not say how sure it is: they are taken as sure, so the interval is too narrow. */
  readonly takenAsSure: readonly number[];
}

export interface ProductLead {
  readonly over: number;
  readonly chances: Chances;
  /** Share of the worlds in which the product chosen earns most of all that are open there, each at its rate. */
  readonly best: number;
}

/** Whether the lineup says how sure its figures are. */
export function isUnsure({ response: { uncertainty } }: RatedProduct): boolean {
  return uncertainty !== null && uncertainty.df > 0;
}

/** The plan against the flat one, to which it must bring `cost_perAc` more, and each product against the next, world by world: both sides stand in the same worlds. */
export function sureness(
  flat: Planted,
  choices: readonly ZoneChoice[],
  products: readonly RatedProduct[],
  ground: readonly Ground[],
  money: Money,
  worlds: Worlds,
  cost_perAc = 0,
): Sureness {
  const earnings = (planted: readonly Planted[]) => earningsByWorld(planted, products, ground, money, worlds);
  const margins = (planted: Planted, zone: number) =>
    marginsByWorld(planted, zone, products, ground, money, worlds);
  const gain = chancesOf(
    earnings(choices.map(({ chosen }) => chosen)),
    earnings(choices.map(() => flat)),
    cost_perAc,
  );
  const leads = choices.map(({ zone, chosen, options }): ProductLead | null => {
    const rivals = options.filter(({ product }) => product !== chosen.product && worlds.drawn.has(product));
    if (rivals.length === 0) return null;
    const own = margins(chosen, zone);
    const theirs = rivals.map((rival) => margins(rival, zone));
    const best = own.reduce(
      (sum, earns, world) => sum + Number(theirs.every((rival) => earns >= rival[world])),
      0,
    );
    return { over: rivals[0].product, chances: chancesOf(own, theirs[0]), best: best / own.length };
  });
  const counted = new Set([
    flat.product,
    ...choices.map(({ chosen }) => chosen.product),
    ...leads.flatMap((lead) => lead?.over ?? []),
  ]);
  return {
    gain,
    leads,
    takenAsSure: [...counted].filter((own) => !isUnsure(products[own])).sort((a, b) => a - b),
  };
}

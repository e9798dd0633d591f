import { Refusal } from '../../engine/issue.ts';
import type { RatedProduct } from '../../engine/lineup/product.ts';
import type { ZoneChoice } from '../../engine/rates/assignment.ts';
import type { Zoning } from '../../engine/zones/zoning.ts';
import type { Plan } from '../../plan/schema.ts';
import { type Placement, type SetRates, setRates } from './set-rates.ts';

/** What a choice by hand costs: what the field would earn more were it taken back and all else left, $. Negative where it brings more, as it may by less than a cent or with a limit in the way. */
export interface HandPrice {
  /** From 1. */
  readonly zone: number;
  readonly perAc: number;
  readonly perField: number;
}

/** Each choice by hand taken back by itself, and the field planned anew. */
export function priceHands(
  zoning: Zoning,
  products: readonly RatedProduct[],
  placement: Placement,
  plan: Pick<Plan, 'money' | 'rates'>,
  { choices, acres }: Pick<SetRates, 'choices' | 'acres'>,
): HandPrice[] {
  const field_ac = acres.reduce((sum, own) => sum + own, 0);
  const earned = (own: readonly ZoneChoice[]) =>
    own.reduce((sum, { chosen }, k) => sum + chosen.marginPerAc * acres[k], 0);
  return plan.rates.byHand.flatMap(({ zone, product, seedsPerAc }) => {
    if (product === null && seedsPerAc === null) return [];
    if (!zoning.zones.some(({ id }) => id === zone)) return [];
    const byHand = plan.rates.byHand.filter((own) => own.zone !== zone);
    try {
      const free = setRates(zoning, products, placement, { ...plan, rates: { ...plan.rates, byHand } });
      const perField = earned(free.choices) - earned(choices);
      return [{ zone, perAc: perField / field_ac, perField }];
    } catch (thrown) {
      // Without it there may be no plan at all: then it costs nothing that could be told.
      if (thrown instanceof Refusal) return [];
      throw thrown;
    }
  });
}

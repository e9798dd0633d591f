import { Refusal } from '../engine/issue.ts';
import type { Plan } from '../plan/schema.ts';
import type { Results } from './results.ts';
import { setRates } from './stages/set-rates.ts';
import type { RunControl } from './walk.ts';

/** Prices as shares of the plan's own. */
const SHARES = [0.8, 0.9, 1, 1.1, 1.2];

/** What the plan would be worth were prices others and the field planned anew by them. */
export interface PriceGrid {
  /** Across: the grain price, $/bu. Down: what seed costs, as a share of what it does. */
  readonly grainPrice_perBu: readonly number[];
  readonly seedShare: readonly number[];
  /** Row by row, one for each share of the seed price; null where no plan can be made. */
  readonly cells: readonly (readonly (PriceCell | null)[])[];
}

export interface PriceCell {
  /** Over the best flat plan at these prices, $/ac. */
  readonly perAc: number;
  /** Zones that would have another product than they do, and the seeds of the field over those of the plan as it is. */
  readonly otherProducts: number;
  readonly seedsShare: number;
}

/** Plans the field again at every pair of prices; null where there is no plan to begin with. */
export async function priceGrid(
  { zoning, lineup, placement, choices }: Results,
  plan: Plan,
  control: RunControl = {},
): Promise<PriceGrid | null> {
  const { grainPrice_perBu: price, dryingHauling_perBu: drying } = plan.money;
  if (!zoning || !placement || !choices || price === null) return null;
  const seedsOf = (own: NonNullable<Results['choices']>) =>
    own.reduce((sum, { chosen }, k) => sum + chosen.seedsPerAc * zoning.zones[k].area_m2, 0);
  const seeds = seedsOf(choices);
  const grainPrice_perBu = SHARES.map((share) => share * price);
  const cells: (PriceCell | null)[][] = [];
  for (const [row, seedShare] of SHARES.entries()) {
    const products = lineup.map((own) => ({ ...own, pricePerUnit: own.pricePerUnit * seedShare }));
    const cellAt = (grain: number): PriceCell | null => {
      if (grain <= drying) return null;
      const money = { ...plan.money, grainPrice_perBu: grain };
      try {
        const { choices: own, worth } = setRates(zoning, products, placement, { money, rates: plan.rates });
        return (
          worth && {
            perAc: worth.perAc,
            otherProducts: own.filter(({ chosen }, k) => chosen.product !== choices[k].chosen.product).length,
            seedsShare: seedsOf(own) / seeds,
          }
        );
      } catch (thrown) {
        if (thrown instanceof Refusal) return null;
        throw thrown;
      }
    };
    control.signal?.throwIfAborted();
    control.onProgress?.({ step: 'Trying other prices', share: row / SHARES.length });
    cells.push(grainPrice_perBu.map(cellAt));
    // Calls that came meanwhile are heard.
    await new Promise((resolve) => setTimeout(resolve, 0));
  }
  return { grainPrice_perBu, seedShare: SHARES, cells };
}

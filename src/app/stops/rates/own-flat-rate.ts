import { M2_PER_ACRE } from '../../../engine/math/units.ts';
import { bestFlatPlan } from '../../../engine/rates/flat-plan.ts';
import type { Plan } from '../../../plan/schema.ts';
import type { Results } from '../../../run/results.ts';

/** The best single rate of a product, by its id, over the whole field, seeds/ac; null where it has none. */
export function ownFlatRate(id: string, { lineup, zoning }: Results, { money, rates }: Plan): number | null {
  const product = lineup.find((own) => own.id === id);
  if (!product || !zoning || money.grainPrice_perBu === null) return null;
  const ground = zoning.zones.map(({ environment_buPerAc, area_m2 }) => ({
    ...{ environment_buPerAc, area_ac: area_m2 / M2_PER_ACRE },
  }));
  const own = { ...money, grainPrice_perBu: money.grainPrice_perBu, emergence: rates.emergence };
  return bestFlatPlan([product], ground, own, rates)?.seedsPerAc ?? null;
}

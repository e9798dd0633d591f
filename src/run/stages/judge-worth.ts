import type { Issue } from '../../engine/issue.ts';
import type { RatedProduct } from '../../engine/lineup/product.ts';
import { M2_PER_ACRE } from '../../engine/math/units.ts';
import { type Chances, chancesOf } from '../../engine/rates/chances.ts';
import { contendersOf } from '../../engine/rates/contenders.ts';
import { earningsByWorld, type Planted } from '../../engine/rates/earnings-by-world.ts';
import type { Ground, GroundDoubt } from '../../engine/rates/ground.ts';
import { worthOfKnowing } from '../../engine/rates/knowing.ts';
import { type Money, netPrice_perBu } from '../../engine/rates/money.ts';
import { drawWorlds, type Worlds } from '../../engine/rates/worlds.ts';
import { type Sureness, sureness } from '../../engine/rates/worth.ts';
import { zoneDoubt } from '../../engine/zones/zone-doubt.ts';
import type { Zoning } from '../../engine/zones/zoning.ts';
import type { Plan } from '../../plan/schema.ts';
import type { Environment, FieldResult, YieldLayer } from '../results.ts';
import type { SetRates } from './set-rates.ts';
import { usualAmiss } from './usual-amiss.ts';

/** How sure the plan is, and what it rests on. */
export interface JudgedWorth extends Sureness {
  readonly draws: number;
  /** What planting by map costs over planting flat, $/ac. */
  readonly mapCost_perAc: number;
  /** What better trials and evidence could bring at most, $/ac. */
  readonly knowingPerAc: number;
  /** What the plan earns over the grower's usual planting; null where the plan does not name it. */
  readonly usual: OverUsual | null;
  readonly ground: GroundDoubt & { readonly from: 'years' | 'assumed' };
}

export interface OverUsual extends Planted {
  readonly perAc: number;
  readonly perField: number;
  readonly chances: Chances;
}

/** Plays the plan, the flat one and the grower's usual planting through the same drawn worlds. */
export function judgeWorth(
  field: FieldResult,
  environment: Environment,
  yields: readonly YieldLayer[],
  zoning: Zoning,
  products: readonly RatedProduct[],
  { choices, worth }: SetRates,
  plan: Pick<Plan, 'money' | 'rates' | 'worth' | 'seed'>,
): { readonly sure: JudgedWorth | null; readonly issues: readonly Issue[] } {
  if (worth === null || plan.money.grainPrice_perBu === null) return { sure: null, issues: [] };
  const money = {
    ...plan.money,
    grainPrice_perBu: plan.money.grainPrice_perBu,
    emergence: plan.rates.emergence,
  };
  const ground = zoning.zones.map(
    ({ environment_buPerAc, area_m2 }): Ground => ({ environment_buPerAc, area_ac: area_m2 / M2_PER_ACRE }),
  );
  const doubt = groundDoubt(field, environment, yields, zoning, plan.worth);
  const { usual } = plan.worth;
  const product = products.findIndex(({ id }) => id === usual?.product);
  const worlds = drawWorlds(
    products,
    ground.map(({ area_ac }) => area_ac),
    doubt,
    money,
    plan.worth.priceSpread,
    plan.worth.draws,
    plan.seed,
    plan.worth.apartSpread * environment.expected_buPerAc,
    contendersOf(choices, product < 0 ? [worth.flat.product] : [worth.flat.product, product]),
  );
  const amiss = usual && usualAmiss(usual, product, products, zoning, plan.rates.emergence);
  return {
    sure: {
      ...sureness(worth.flat, choices, products, ground, money, worlds, plan.worth.mapCost_perAc),
      draws: plan.worth.draws,
      mapCost_perAc: plan.worth.mapCost_perAc,
      knowingPerAc: worthOfKnowing(choices, products, ground, money, plan.rates, worlds),
      usual:
        usual && amiss === null
          ? overUsual({ ...usual, product }, worth.marginPerAc, choices, products, ground, money, worlds)
          : null,
      ground: doubt,
    },
    issues: amiss ? [amiss] : [],
  };
}

/** The years' departures tell how sure zones are; how far the whole field goes up and down is an assumption of the plan, and evens out over the years there are. */
function groundDoubt(
  { grid }: FieldResult,
  { values, expected_buPerAc, levels }: Environment,
  yields: readonly YieldLayer[],
  { label, zones }: Zoning,
  { yearToYear, levelSpread }: Plan['worth'],
): JudgedWorth['ground'] {
  const years = levels.flatMap(({ id, level, share }) => {
    const layer = yields.find((own) => own.id === id);
    return layer ? [{ relative: layer.values.map((own) => own / level), weight: share }] : [];
  });
  const counted = years.filter(({ weight }) => weight > 0).length;
  const relative = values.map((own) => own / expected_buPerAc);
  const { error, from } = zoneDoubt(label, zones.length, grid.area, relative, years, yearToYear);
  return {
    from,
    levelSd_buPerAc: (levelSpread * expected_buPerAc) / Math.sqrt(Math.max(1, counted)),
    zoneSd_buPerAc: Array.from(error, (own) => own * expected_buPerAc),
  };
}

function overUsual(
  usual: Planted,
  marginPerAc: number,
  choices: SetRates['choices'],
  products: readonly RatedProduct[],
  ground: readonly Ground[],
  money: Money,
  worlds: Worlds,
): OverUsual {
  const acres = ground.reduce((sum, { area_ac }) => sum + area_ac, 0);
  const earnings = (planted: readonly Planted[], own = worlds) =>
    earningsByWorld(planted, products, ground, money, own);
  const everywhere = ground.map(() => usual);
  const [margin] = earnings(everywhere, asTaken(products, ground, money));
  const perAc = marginPerAc - margin;
  return {
    ...usual,
    perAc,
    perField: perAc * acres,
    chances: chancesOf(earnings(choices.map(({ chosen }) => chosen)), earnings(everywhere)),
  };
}

/** The one world in which all is as it is taken to be. */
function asTaken(products: readonly RatedProduct[], ground: readonly Ground[], money: Money): Worlds {
  return {
    count: 1,
    drawn: new Set(),
    figures: products.map(() => null),
    ground_buPerAc: ground.map(() => new Float64Array(1)),
    netPrice_perBu: Float64Array.of(netPrice_perBu(money)),
  };
}

import { fieldFrame, toFrame, toLonLat } from '../../../src/engine/geodesy/field-frame.ts';
import { type Verdict, verdictOf } from '../../../src/engine/rates/verdict.ts';
import type { Plan } from '../../../src/plan/schema.ts';
import type { Results } from '../../../src/run/results.ts';
import { GRAIN_PRICE } from './known-of-world.ts';
import { type TrueWorld, trueYield } from './true-world.ts';

/** A plan by what is true, $/ac. */
export interface Score {
  /** What the best plan on its zones would earn over the truly best flat plan, and what it earns itself over that. */
  readonly attainable: number;
  readonly captured: number;
  /** What it earns over the flat plan it was held against: as it says, as it is, and whether its interval holds that. */
  readonly claimed: number;
  readonly mean: number;
  readonly gain: number;
  readonly held: boolean;
  readonly below: boolean;
  readonly width: number;
  readonly ahead: number;
  readonly verdict: Verdict;
  /** What knowing would bring, as it says; it is `attainable` less `captured`, but for zones that might be drawn better. */
  readonly knowing: number;
}

interface Seeded {
  readonly product: number;
  readonly seedsPerAc: number;
}

/** A plan that is flat gains nothing, but for rounding. */
const CENT = 0.01;
const SEEDS_PER_UNIT = 80_000;

export function scoreOf(world: TrueWorld, plan: Plan, results: Results): Score {
  const { field, zoning, choices, worth, sure, lineup } = results;
  if (!field || !zoning || !choices || !worth || !sure)
    throw new Error(`no plan: ${results.issues.map(({ code, found }) => `${code} ${found}`).join('; ')}`);
  const truth = lineup.map(({ name }) => world.truth.find((own) => own.name === name)!);
  const { lon, lat } = toLonLat(field.frame, field.grid.x, field.grid.y);
  const { x, y } = toFrame(fieldFrame(-90.5, 41.5), lon, lat);
  const zones = zoning.zones.map(() => ({ area: 0, patches: [] as [number, number][] }));
  zoning.label.forEach((zone, cell) => {
    zones[zone].area += field.grid.area[cell];
    zones[zone].patches.push([world.ground(x[cell], y[cell]), field.grid.area[cell]]);
  });
  const area = zones.reduce((sum, own) => sum + own.area, 0);
  const { emergence, step_seedsPerAc: step, hoppers } = plan.rates;
  const seedCost = ({ product, seedsPerAc }: Seeded) =>
    (seedsPerAc * truth[product].pricePerUnit) / SEEDS_PER_UNIT;
  const earned = (zone: (typeof zones)[number], own: Seeded): number => {
    const stand_k = (own.seedsPerAc * emergence) / 1000;
    let bushels = 0;
    for (const [environment, acres] of zone.patches)
      bushels += acres * trueYield(truth[own.product], environment, stand_k);
    return (bushels / zone.area) * GRAIN_PRICE - seedCost(own);
  };
  const whole = { area, patches: zones.flatMap(({ patches }) => patches) };
  const best = (zone: typeof whole, product: number) => {
    let found = { product, seedsPerAc: NaN, dollars: -Infinity };
    for (let seedsPerAc = 23_500; seedsPerAc <= 44_000; seedsPerAc += step) {
      const dollars = earned(zone, { product, seedsPerAc });
      if (dollars > found.dollars) found = { product, seedsPerAc, dollars };
    }
    return found;
  };
  const over = (of: (zone: (typeof zones)[number], k: number) => number) =>
    zones.reduce((sum, zone, k) => sum + (zone.area / area) * of(zone, k), 0);
  const alone = truth.map((_, product) => zones.map((zone) => best(zone, product).dollars));
  let most = -Infinity;
  for (const one of alone)
    for (const other of hoppers > 1 ? alone : [one])
      most = Math.max(
        most,
        over((_, k) => Math.max(one[k], other[k])),
      );
  const flat = Math.max(...truth.map((_, product) => best(whole, product).dollars));
  const own = over((zone, k) => earned(zone, choices[k].chosen));
  const gain = own - earned(whole, worth.flat);
  return {
    attainable: most - flat,
    captured: own - flat,
    claimed: worth.perAc,
    mean: sure.gain.mean,
    gain,
    held: sure.gain.low - CENT <= gain && gain <= sure.gain.high + CENT,
    below: gain < sure.gain.low - CENT,
    width: sure.gain.high - sure.gain.low,
    ahead: sure.gain.ahead,
    knowing: sure.knowingPerAc,
    verdict: verdictOf(worth.perAc, sure.gain),
  };
}

import { describe, expect, it } from 'vitest';
import type { RatedProduct } from '../../../src/engine/lineup/product.ts';
import { curveOf } from '../../../src/engine/lineup/product-response.ts';
import type { ZoneChoice } from '../../../src/engine/rates/assignment.ts';
import { chancesOf } from '../../../src/engine/rates/chances.ts';
import { bestFlatPlan } from '../../../src/engine/rates/flat-plan.ts';
import { worthOfKnowing } from '../../../src/engine/rates/knowing.ts';
import { verdictOf } from '../../../src/engine/rates/verdict.ts';
import { drawWorlds } from '../../../src/engine/rates/worlds.ts';
import { sureness, worthOver } from '../../../src/engine/rates/worth.ts';
import { yieldOnPlane, yieldPlane } from '../../../src/engine/rates/yield-plane.ts';
import { zoneOption } from '../../../src/engine/rates/zone-option.ts';
import { yieldAt } from '../../../src/engine/response/curve.ts';
import { money, sureGround, unsure } from './small-doubt.ts';

const COUNT = 20_000;
const limits = { step_seedsPerAc: 500, lowest_seedsPerAc: 0, highest_seedsPerAc: null };

/** Two zones of 20 and 60 ac; A leads on the poor ground, B on the good. */
const ground = [
  { environment_buPerAc: 150, area_ac: 20 },
  { environment_buPerAc: 220, area_ac: 60 },
];
const area = ground.map(({ area_ac }) => area_ac);
const pair = (sdA: number, sdB: number): RatedProduct[] => [
  unsure(sdA, { response: { levelPerEnvironment: 0.9 } }),
  unsure(sdB, { id: 'b', name: 'B', response: { levelPerEnvironment: 1.1 } }),
];

/** Every product on each zone at its best rate, and the better one chosen. */
const choose = (products: readonly RatedProduct[]): ZoneChoice[] =>
  ground.map(({ environment_buPerAc }, zone) => {
    const options = products
      .map((own, index) => zoneOption(own, index, environment_buPerAc, money, limits)!)
      .sort((a, b) => b.marginPerAc - a.marginPerAc);
    return { zone, chosen: options[0], options };
  });

const worldsOf = (products: readonly RatedProduct[], price = 0) =>
  drawWorlds(products, area, sureGround(2), money, price, COUNT, 5);

describe('chances of a difference', () => {
  it('are its mean, the ends nine worlds in ten lie between, and the share ahead', () => {
    const one = Float64Array.from({ length: 11 }, (_, k) => 10 - k);
    // R 4.2.2: quantile(0:10 - 2, c(.05, .95)) is -1.5 and 7.5.
    expect(chancesOf(one, new Float64Array(11).fill(2))).toEqual({
      ...{ mean: 3, low: -1.5, high: 7.5, ahead: 8 / 11 },
    });
    expect(chancesOf(Float64Array.of(1), Float64Array.of(1))).toEqual({ mean: 0, low: 0, high: 0, ahead: 0 });
  });
});

describe('the plane of a yield', () => {
  it('is the curve itself where nothing is moved, and moves with the level', () => {
    const own = unsure(3, { response: { levelPerEnvironment: 1.2, standPerEnvironment_plantsPerAc: 40 } });
    const plane = yieldPlane(own, 180, 28);
    expect(yieldOnPlane(plane, null, 0, 0)).toBe(yieldAt(curveOf(own.response, 180), 28));
    const figures = Float64Array.of(2, 0, 0, 0, 0);
    expect(yieldOnPlane(plane, figures, 0, 0) - plane.yield_buPerAc).toBeCloseTo(2, 9);
  });

  it('follows the ground as the curve does, near and far (a quadratic in the ground is a parabola wholly)', () => {
    const own = unsure(3, { response: { levelPerEnvironment: 1.2, standPerEnvironment_plantsPerAc: 40 } });
    const plane = yieldPlane(own, 180, 28);
    for (const away of [-40, -3, 12, 60])
      expect(yieldOnPlane(plane, null, 0, away)).toBeCloseTo(
        yieldAt(curveOf(own.response, 180 + away), 28),
        8,
      );
  });
});

describe('how sure a plan is', () => {
  const products = pair(3, 4);
  const choices = choose(products);
  const flat = bestFlatPlan(products, ground, money, limits)!;

  it('holds its gain about what it claims, as widely as the levels of both products are not known', () => {
    const worth = worthOver(flat, choices, area);
    expect(choices.map(({ chosen }) => products[chosen.product].id)).toEqual(['a', 'b']);
    expect(products[flat.product].id).toBe('b');
    const { gain } = sureness(flat, choices, products, ground, money, worldsOf(products));
    // On a quarter of the field A stands for B: $4 a bushel times the root of 3² + 4² is $20 there, $5 over the field.
    // 1.644854 is the 95th hundredth of the normal distribution; the ends are within four standard errors of such a quantile.
    const near = (4 * 5 * Math.sqrt(0.05 * 0.95)) / 0.103 / Math.sqrt(COUNT);
    expect(Math.abs(gain.mean - worth.perAc)).toBeLessThan((4 * 5) / Math.sqrt(COUNT));
    expect(Math.abs(gain.low - (worth.perAc - 5 * 1.644854))).toBeLessThan(near);
    expect(Math.abs(gain.high - (worth.perAc + 5 * 1.644854))).toBeLessThan(near);
  });

  it('tells for each zone by how much its product leads the next', () => {
    const { leads } = sureness(flat, choices, products, ground, money, worldsOf(products));
    expect(leads.map((lead) => lead?.over)).toEqual([1, 0]);
    leads.forEach((lead, k) => {
      const [chosen, next] = choices[k].options;
      const sd = lead!.chances.high - lead!.chances.low;
      expect(Math.abs(lead!.chances.mean - (chosen.marginPerAc - next.marginPerAc))).toBeLessThan(
        (4 * 20) / Math.sqrt(COUNT),
      );
      expect(sd / (2 * 1.644854)).toBeCloseTo(20, 0);
    });
  });

  it('is wholly sure of a plan that is the flat plan, whatever is not known of its product', () => {
    const alone = [products[1]];
    const same = choose(alone).map((choice) => ({
      ...choice,
      chosen: { ...choice.chosen, seedsPerAc: 30_000 },
    }));
    const found = sureness(
      { product: 0, seedsPerAc: 30_000 },
      same,
      alone,
      ground,
      money,
      worldsOf(alone, 0.2),
    );
    expect(found.gain).toEqual({ mean: 0, low: 0, high: 0, ahead: 0 });
    expect(found.leads).toEqual([null, null]);
  });

  it('names the products that are taken as sure since nobody says how sure they are', () => {
    const [a, b] = products;
    const unknown = [a, { ...b, response: { ...b.response, uncertainty: null } }];
    expect(sureness(flat, choices, unknown, ground, money, worldsOf(unknown)).takenAsSure).toEqual([1]);
    expect(sureness(flat, choices, products, ground, money, worldsOf(products)).takenAsSure).toEqual([]);
  });

  it('pays while a bushel brings over, or under, what plan and flat plan earn alike at', () => {
    const dearer = [{ ...products[0], pricePerUnit: 300 }, products[1]];
    const [choices, flat] = [choose(dearer), bestFlatPlan(dearer, ground, money, limits)!];
    const worth = worthOver(flat, choices, area);
    const { side, netPrice_perBu } = worth.breakEven!;
    // Planted as they are, both earn the same at that price.
    const at = (price: number) =>
      choices.reduce(
        (sum, { chosen }, k) => sum + (area[k] / 80) * (chosen.yield_buPerAc * price - chosen.seedCostPerAc),
        0,
      ) -
      (flat.yield_buPerAc * price - flat.seedCostPerAc);
    expect(at(netPrice_perBu)).toBeCloseTo(0, 9);
    expect(at(side === 'over' ? netPrice_perBu + 1 : netPrice_perBu - 1)).toBeGreaterThan(0);
    expect(at(4)).toBeCloseTo(worth.perAc, 9);
  });

  it('names them too where their trials have nothing in common with the others', () => {
    const [a, b] = products.map((own, k) => ({
      ...own,
      trialGroup: k,
      response: { ...own.response, uncertainty: null },
    }));
    const worlds = drawWorlds([a, b], area, sureGround(2), money, 0, 100, 5, 10);
    expect(worlds.figures.filter((own) => own !== null)).toHaveLength(1);
    expect(sureness(flat, choices, [a, b], ground, money, worlds).takenAsSure).toEqual([0, 1]);
  });

  it('looks at the products that were drawn, and at no others', () => {
    const worlds = drawWorlds(products, area, sureGround(2), money, 0, 100, 5, 0, new Set([1]));
    expect(worlds.figures[0]).toBeNull();
    const onB = choices.map((choice) => ({
      ...choice,
      chosen: choice.options.find(({ product }) => product === 1)!,
    }));
    expect(sureness(flat, onB, products, ground, money, worlds).leads).toEqual([null, null]);
  });

  it('parts the worth into what rates and what products bring', () => {
    const worth = worthOver(flat, choices, area);
    const { ratesPerAc, productsPerAc } = worth.parts!;
    // B at its own best rate in both zones, over B at one rate; the rest is A on the poor ground, a quarter of the field.
    const [poor] = choices;
    expect(productsPerAc).toBeCloseTo((poor.options[0].marginPerAc - poor.options[1].marginPerAc) / 4, 9);
    expect(ratesPerAc + productsPerAc).toBeCloseTo(worth.perAc, 9);
    expect(ratesPerAc).toBeGreaterThanOrEqual(0);
  });
});

describe('what knowing would bring', () => {
  it('is nothing where nothing is open', () => {
    const products = pair(0, 0);
    const known = worthOfKnowing(choose(products), products, ground, money, limits, worldsOf(products));
    expect(known).toBeCloseTo(0, 9);
  });

  it('is the unit normal loss of the gap between two products (Raiffa & Schlaifer 1961)', () => {
    const products = pair(3, 4);
    const choices = choose(products);
    const found = worthOfKnowing(choices, products, ground, money, limits, worldsOf(products));
    // A level that is not known moves no best stand, so only the product may turn out wrong: sd·(φ(z) − z·Φ(−z)), z the gap over its sd of $20.
    const loss = choices.reduce((sum, { options: [one, other] }, k) => {
      const z = (one.marginPerAc - other.marginPerAc) / 20;
      return sum + (area[k] / 80) * 20 * (density(z) - z * (1 - below(z)));
    }, 0);
    // Rates are looked at in steps, so a little of the rival's margin is missed: its best rate may lie 1250 seeds off, which costs 0.1·1.25²·$4.
    expect(found).toBeGreaterThan(0.9 * loss - 0.3);
    expect(found).toBeLessThan(1.05 * loss);
  });
});

/** Density of the normal distribution, and its share below z (Zelen & Severo 1964, in Abramowitz & Stegun, 26.2.17, to 7.5e-8). */
const density = (z: number) => Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);
function below(z: number): number {
  const t = 1 / (1 + 0.2316419 * Math.abs(z));
  const tail =
    density(z) *
    t *
    (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
  return z < 0 ? tail : 1 - tail;
}

describe('the verdict', () => {
  it.each([
    [8, 0.95, 'map'],
    [8, 0.85, 'map'],
    [8, 0.84, 'flat'],
    [1, 1, 'map'],
    [0.99, 1, 'flat'],
    [-0.04, 0, 'flat'],
    [-0.06, 0.5, 'loses'],
  ] as const)('of $%d an acre that is ahead in a share of %d worlds is %s', (perAc, ahead, verdict) => {
    expect(verdictOf(perAc, { ahead })).toBe(verdict);
  });

  it('asks of the map what it costs first', () => {
    expect(verdictOf(8, { ahead: 0.95 }, 7.5)).toBe('flat');
    expect(verdictOf(8, { ahead: 0.95 }, 7)).toBe('map');
  });

  it('goes by the figures alone where nothing says how sure they are', () => {
    expect(verdictOf(8, null)).toBe('map');
  });
});

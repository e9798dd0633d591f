import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { regionLocator } from '../../src/engine/geometry/point-in-region.ts';
import { Refusal } from '../../src/engine/issue.ts';
import type { PlacementCondition, PlacementRule } from '../../src/engine/lineup/placement-rule.ts';
import type { RatedProduct } from '../../src/engine/lineup/product.ts';
import { random } from '../../src/engine/math/random.ts';
import { withLineup } from '../../src/plan/edits/with-lineup.ts';
import type { Results } from '../../src/run/results.ts';
import { checkZones } from '../../src/run/stages/check-placement.ts';
import { setRates } from '../../src/run/stages/set-rates.ts';
import { sampleOnDesk } from '../browser/in-process.ts';

type Sample = Awaited<ReturnType<typeof sampleOnDesk>>;

let sample: Sample;
let ground: ReturnType<typeof groundOf>;

beforeAll(async () => {
  sample = await sampleOnDesk('marl-hollow');
  ground = groundOf(sample.results);
}, 60_000);

/** What a result must hold, or the test is not about it. */
function there<T>(value: T | null | undefined): T {
  if (value === null || value === undefined) throw new Error('not there');
  return value;
}

/** Zones by name, environment and share of each soil, this counted by the middles of cells and not by area. */
function groundOf(results: Results) {
  const { field, zoning, soils } = results;
  const { grid } = there(field);
  const { label, zones } = there(zoning);
  const units = there(soils).mapUnits.map(({ name, region }) => ({ name, inside: regionLocator(region) }));
  const counts = zones.map(() => new Map<string, number>());
  const cells = zones.map(() => 0);
  for (let cell = 0; cell < label.length; cell++) {
    cells[label[cell]]++;
    const unit = units.find(({ inside }) => inside(grid.x[cell], grid.y[cell]));
    if (unit) counts[label[cell]].set(unit.name, (counts[label[cell]].get(unit.name) ?? 0) + 1);
  }
  return zones.map((zone, k) => ({
    name: zone.name,
    environment: zone.environment_buPerAc,
    soilShare: (names: readonly string[]) =>
      [...new Set(names)].reduce((sum, name) => sum + (counts[k].get(name) ?? 0), 0) / cells[k],
  }));
}

/** Whether all conditions hold on a zone beyond any doubt of counting cells by their middles. */
function surely(where: readonly PlacementCondition[], zone: ReturnType<typeof groundOf>[number]): boolean {
  const soils = where.flatMap((own) => (own.on === 'soil' ? [own.anyOf] : []));
  const inAll = (soils[0] ?? []).filter((name) => soils.every((names) => names.includes(name)));
  return (
    (soils.length === 0 || zone.soilShare(inAll) > 0.25) &&
    where.every((own) => {
      if (own.on === 'zone') return own.anyOf.includes(zone.name);
      if (own.on === 'environment')
        return zone.environment >= (own.from ?? -Infinity) && zone.environment <= (own.to ?? Infinity);
      return own.on === 'soil';
    })
  );
}

describe('Marl Hollow', () => {
  it('is planted otherwise where a rule keeps a product out, and its ledger closes', async () => {
    const { plan, desk, results } = sample;
    const zones = there(results.zoning).zones;
    const last = zones.length - 1;
    const was = results.lineup[there(results.choices)[last].chosen.product];
    const file = there(plan.sources.find(({ id }) => id === plan.lineup?.source)).file;
    const json = JSON.parse(readFileSync(`sample-fields/marl-hollow/${file}`, 'utf8'));
    const limit = Math.floor(zones[last].environment_buPerAc);
    for (const product of json.products)
      if (product.id === was.id)
        product.placement = [
          {
            verdict: 'never',
            where: [{ on: 'environment', from: limit }],
            reason: 'it lodges on the best ground',
            by: 'a trial keeper',
          },
        ];
    const bytes = new TextEncoder().encode(JSON.stringify(json));
    const sha256 = createHash('sha256').update(bytes).digest('hex');
    const then = await desk.call('run', {
      plan: withLineup(plan, { file, sha256 }),
      lineup: { name: file, bytes },
    });
    const choices = there(then.choices);
    expect(then.issues.filter(({ severity }) => severity === 'error')).toEqual([]);
    expect(then.lineup[choices[last].chosen.product].id).not.toBe(was.id);
    expect(choices[last].options.map(({ product }) => then.lineup[product].id)).not.toContain(was.id);
    // It is open where the ground is poorer than the rule says.
    for (const [k, zone] of zones.entries())
      if (zone.environment_buPerAc < limit)
        expect(choices[k].options.map(({ product }) => then.lineup[product].id)).toContain(was.id);
    const acres = there(then.ledger).byZone.reduce((sum, row) => sum + row.acres, 0);
    expect(acres).toBeCloseTo(there(then.field).acres, 6);
    // A rule takes a choice away: the plan can earn no more than without it.
    expect(there(then.worth).marginPerAc).toBeLessThanOrEqual(there(results.worth).marginPerAc);
  });

  it('never plants a product where a rule keeps it out, whatever the rules (400 seeded sets)', () => {
    const { plan, results } = sample;
    const { integer, uniform } = random(2027);
    const pick = <T>(list: readonly T[]): T => list[integer(list.length)];
    const soilNames = [...new Set(there(results.soils).mapUnits.map(({ name }) => name))];
    const environments = ground.map(({ environment }) => environment);
    const low = environments[0] - 20;
    const span = environments[environments.length - 1] + 20 - low;
    const condition = (): PlacementCondition => {
      const kind = integer(4);
      if (kind === 0) return { on: 'zone', anyOf: [pick(ground).name] };
      if (kind === 1) return { on: 'soil', anyOf: [pick(soilNames), pick(soilNames)] };
      if (kind === 2) return { on: 'layer', layer: 'slope', unit: '', from: 20 * uniform(), to: null };
      const end = low + span * uniform();
      return uniform() < 0.5
        ? { on: 'environment', from: end, to: null }
        : { on: 'environment', from: null, to: end };
    };
    const anyRule = (): PlacementRule => ({
      verdict: pick(['never', 'never', 'care', 'best']),
      where: Array.from({ length: integer(3) }, condition),
      reason: 'of a seeded rule',
      by: '',
    });
    const seen = { planned: 0, refused: 0, moved: 0 };
    const free = there(results.choices).map(({ chosen }) => results.lineup[chosen.product].id);
    for (let k = 0; k < 400; k++) {
      const some = results.lineup.filter(() => uniform() < 0.3);
      const products: RatedProduct[] = (some.length > 0 ? some : results.lineup).map((product) => ({
        ...product,
        placement: Array.from({ length: integer(4) }, anyRule),
      }));
      const { checks, issues } = checkZones(
        there(results.field),
        there(results.zoning),
        results.soils,
        results.layers,
        products,
      );
      const keptOut = (zone: number, { placement }: RatedProduct) =>
        placement.some(({ verdict, where }) => verdict === 'never' && surely(where, ground[zone]));
      // No slope is known on this field: rules that rest on it alone are told, each once.
      const told = issues.filter(({ code }) => code === 'placement-not-known');
      const onSlopeAlone = products.flatMap(({ placement }) =>
        placement.filter(({ where }) => where.length > 0 && where.every(({ on }) => on === 'layer')),
      );
      expect(told.length).toBeGreaterThanOrEqual(onSlopeAlone.length);
      let choices: Results['choices'];
      try {
        ({ choices } = setRates(there(results.zoning), products, checks, plan));
      } catch (thrown) {
        if (!(thrown instanceof Refusal)) throw thrown;
        expect(['zone-without-product', 'hoppers-too-few']).toContain(thrown.issue.code);
        seen.refused++;
        continue;
      }
      seen.planned++;
      for (const [zone, { chosen, options }] of there(choices).entries()) {
        if (products[chosen.product].id !== free[zone]) seen.moved++;
        const open = options.map(({ product }) => product);
        for (const product of [chosen.product, ...open])
          expect([k, zone, product, keptOut(zone, products[product])]).toEqual([k, zone, product, false]);
        // And none is kept out that has no such rule.
        for (const [product, { placement }] of products.entries())
          if (placement.every(({ verdict }) => verdict !== 'never')) expect(open).toContain(product);
      }
    }
    // The sets are of every kind, or the test shows nothing.
    expect(seen.planned).toBeGreaterThan(200);
    expect(seen.refused).toBeGreaterThan(20);
    expect(seen.moved).toBeGreaterThan(200);
  }, 60_000);
});

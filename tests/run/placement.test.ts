import { describe, expect, it } from 'vitest';
import type { PlacementRule } from '../../src/engine/lineup/placement-rule.ts';
import type { PlanInput } from '../../src/plan/schema.ts';
import type { Inputs } from '../../src/run/run.ts';
import { run } from '../../src/run/run.ts';
import { answerSentence, stopSentence } from '../../src/run/say.ts';
import type { StageCache } from '../../src/run/walk.ts';
import { whyHere } from '../../src/run/why-here.ts';
import { box } from '../engine/grid/shapes.ts';
import { table } from '../engine/layers/small-source.ts';
import { plan } from '../plan/small-plan.ts';
import { answers, inputs, lineup, points, polygons, sources } from './small-field.ts';
import { errors, walk } from './small-walk.ts';

// Without rules B goes on the poor ground (150, soil Hill, west) and A on the best (200, Bottom, east).
const rule = (
  verdict: PlacementRule['verdict'],
  where: PlacementRule['where'] = [],
  change: Partial<PlacementRule> = {},
): PlacementRule => ({ verdict, where, reason: 'it lodges', by: 'J. Hall', ...change });

const over180 = { on: 'environment' as const, from: 180, to: null };
const slopeOver8 = { on: 'layer' as const, layer: 'slope', unit: '%', from: 8, to: null };

/** The small field with rules by product. */
const withRules = (
  rules: Readonly<Record<string, readonly PlacementRule[]>>,
  own: Inputs = inputs,
): Inputs => ({
  ...own,
  lineup: {
    ...lineup,
    products: lineup.products.map((product) => ({ ...product, placement: rules[product.id] ?? [] })),
  },
});

const planted = ({ choices, lineup: products }: Awaited<ReturnType<typeof walk>>) =>
  choices?.map(({ chosen }) => products[chosen.product].id);

const halves = (...columns: readonly Readonly<Record<string, readonly (string | number | null)[]>>[]) =>
  polygons(
    'halves.geojson',
    [box(-200, -150, 200, 300), box(0, -150, 200, 300)],
    Object.assign({}, ...columns),
  );

describe('a rule that says where a product is best', () => {
  it('keeps no other out, and is told where it is passed over', async () => {
    const results = await walk(
      {},
      withRules({ b: [rule('best', [over180], { reason: 'it stands wet feet' })] }),
    );
    expect(planted(results)).toEqual(['b', 'a']);
    const [note] = results.issues.filter(({ code }) => code === 'rule-passed-over');
    expect(note.where).toBe('zone 2 Best ground');
    expect(note.found).toMatch(
      /^A is planted; B belongs there by its rule and would earn \$\d+\.\d\d\/ac less$/,
    );
    const own = await walk({}, withRules({ a: [rule('best', [over180])] }));
    expect(own.issues.filter(({ code }) => code === 'rule-passed-over')).toEqual([]);
  });
});

describe('a rule that keeps a product out', () => {
  it.each<[string, PlacementRule['where'][number]]>([
    ['by yield environment', over180],
    ['by soil', { on: 'soil', anyOf: ['bottom'] }],
    [
      'by what the soil map says in numbers',
      { on: 'layer', layer: 'corn bu', unit: 'bu/ac', from: 180, to: null },
    ],
    ['by zone', { on: 'zone', anyOf: ['Best ground'] }],
  ])('%s moves it from that zone and leaves it open to the other', async (_, where) => {
    const results = await walk({}, withRules({ a: [rule('never', [where])] }));
    expect(planted(results)).toEqual(['b', 'b']);
    expect(results.placement?.map((checks) => checks.map(({ verdict }) => verdict))).toEqual([
      ['fits', 'fits'],
      ['not here', 'fits'],
    ]);
    const open = results.choices?.map(({ options }) => options.map(({ product }) => product).toSorted());
    expect(open).toEqual([[0, 1], [1]]);
    expect(results.issues.map(({ code }) => code)).not.toContain('placement-not-known');
  });

  it('by a layer of the evidence, by its label and unit', async () => {
    const own = withRules(
      { a: [rule('never', [slopeOver8])] },
      {
        ...inputs,
        sources: new Map([...sources, ['terrain', halves({ S: [2, 12] })]]),
      },
    );
    const evidence = {
      ...answers.evidence,
      layers: [{ source: 'terrain', column: 'S', label: 'Slope', unit: '%' }],
    };
    const change: Partial<PlanInput> = {
      sources: ['boundary', 'soils', 'yield', 'lineup', 'terrain'].map((id) => ({
        id,
        file: `${id}.geojson`,
        sha256: '0'.repeat(64),
      })),
      evidence,
    };
    expect(planted(await walk(change, own))).toEqual(['b', 'b']);
    const degrees = { ...change, evidence: { ...evidence, layers: [{ ...evidence.layers[0], unit: '°' }] } };
    const told = await walk(degrees, own);
    expect(planted(told)).toEqual(['b', 'a']);
    expect(told.issues.find(({ code }) => code === 'placement-not-known')?.found).toContain(
      'slope in % (the layer is in °)',
    );
  });

  it('by words of the soil map, in its own columns or in the table joined to it', async () => {
    const drainage = rule('never', [{ on: 'soil attribute', attribute: 'drainage', anyOf: ['Poor'] }]);
    const soils = { MUSYM: ['Hill', 'Bottom'], MUKEY: ['1', '2'] };
    const within = { ...soils, CORN_BU: [150, 200], Drainage: ['well', 'poor'] };
    const own = withRules(
      { a: [drainage] },
      {
        ...inputs,
        sources: new Map([...sources, ['soils', halves(within)]]),
      },
    );
    expect(planted(await walk({}, own))).toEqual(['b', 'b']);

    const joined = (rows: Parameters<typeof table>[0]) =>
      withRules(
        { a: [drainage] },
        {
          ...inputs,
          sources: new Map([...sources, ['soils', halves(soils)], ['table', table(rows)]]),
        },
      );
    const change: Partial<PlanInput> = {
      sources: ['boundary', 'soils', 'yield', 'lineup', 'table'].map((id) => ({
        id,
        file: `${id}.csv`,
        sha256: '0'.repeat(64),
      })),
      evidence: {
        ...answers.evidence,
        soils: {
          source: 'soils',
          label: 'MUSYM',
          column: 'rating',
          meaning: 'yield',
          join: [{ source: 'table', fromKey: 'MUKEY', toKey: 'key' }],
        },
      },
    };
    const one = joined({ key: [2, 1], rating: [200, 150], drainage: ['poor', 'well'] });
    expect(planted(await walk(change, one))).toEqual(['b', 'b']);
    // Two rows for a unit say nothing of the unit as a whole.
    const two = joined({ key: [2, 1, 2], rating: [200, 150, 200], drainage: ['poor', 'well', 'well'] });
    const told = await walk(change, two);
    expect(planted(told)).toEqual(['b', 'a']);
    const issue = told.issues.find(({ code }) => code === 'placement-not-known');
    expect(issue?.found).toBe('not known in Best ground: drainage');
  });

  it('keeps it out of the flat plan it is set against', async () => {
    const flat = ({ worth, lineup: products }: Awaited<ReturnType<typeof walk>>) =>
      worth && products[worth.flat.product].id;
    const free = await walk();
    expect(flat(free)).toBe('b');
    const kept = await walk({}, withRules({ b: [rule('never', [over180])] }));
    expect(planted(kept)).toEqual(['b', 'a']);
    expect(flat(kept)).toBe('a');
    // The same plan, set against a flat plan that earns less.
    expect(kept.worth?.marginPerAc).toBeCloseTo(free.worth?.marginPerAc ?? 0, 9);
    expect(kept.worth?.perAc).toBeGreaterThan(free.worth?.perAc ?? 0);
  });

  it('leaves no flat plan where every product is kept out somewhere, and says so', async () => {
    const rules = {
      a: [rule('never', [{ on: 'zone', anyOf: ['Poor ground'] }])],
      b: [rule('never', [{ on: 'zone', anyOf: ['Best ground'] }])],
    };
    const results = await walk({}, withRules(rules));
    expect(planted(results)).toEqual(['b', 'a']);
    expect(results.worth).toBeNull();
    expect(results.ledger).not.toBeNull();
    expect(results.issues.find(({ code }) => code === 'flat-plan-none')?.severity).toBe('note');
    expect(answerSentence(results, plan(answers))).toContain('no product may go everywhere');
    expect(stopSentence('lineup', results, plan(answers)).text).toBe(
      '2 corn products; 2 kept out of some zones',
    );
    const oneHopper = await walk({ rates: { ...answers.rates, hoppers: 1 } }, withRules(rules));
    expect(errors(oneHopper)).toEqual(['hoppers-too-few']);
  });

  it('with nothing left for a zone is refused, with every rule and what to do', async () => {
    const rules = {
      a: [rule('never', [over180])],
      b: [rule('never', [{ on: 'soil', anyOf: ['Bottom'] }], { reason: 'roots rot', by: '' })],
    };
    const results = await walk({}, withRules(rules));
    expect(errors(results)).toEqual(['zone-without-product']);
    expect(results.choices).toBeNull();
    expect(results.prescription).toBeNull();
    const told = results.issues.find(({ code }) => code === 'zone-without-product');
    expect(told?.where).toBe('zone 2 Best ground');
    expect(told?.found).toBe(
      '2 products, all kept out by placement rules: A because it lodges (by J. Hall): yield environment 200 bu/ac; B because roots rot: Bottom on 100 % of it',
    );
    expect(told?.remedy).toBe('Change a rule in the lineup, or add a product for such ground');
  });

  it('is told apart from rate limits that leave no rate', async () => {
    // A is kept out; B was tested to 40,000 plants only.
    const { issues } = await walk(
      { rates: { ...answers.rates, lowest_seedsPerAc: 90_000 } },
      withRules({ a: [rule('never')] }),
    );
    const told = issues.find(({ code }) => code === 'zone-without-product');
    expect(told?.found).toContain('2 products, 1 without a rate within the limits, 1 kept out');
    expect(told?.remedy).toContain('widen the rate limits');
  });

  it('outweighs a choice by hand, which is refused', async () => {
    const byHand = (zone: number) => ({ rates: { ...answers.rates, byHand: [{ zone, product: 'a' }] } });
    const own = withRules({ a: [rule('never', [over180])] });
    expect(planted(await walk(byHand(1), own))).toEqual(['a', 'b']);
    const { issues, choices } = await walk(byHand(2), own);
    expect(choices).toBeNull();
    expect(issues.filter(({ severity }) => severity === 'error')).toMatchObject([
      {
        code: 'by-hand-not-here',
        where: 'zone 2 Best ground',
        found:
          'A set by hand, which must not go there because it lodges (by J. Hall): yield environment 200 bu/ac',
        remedy: 'Take the hand choice back, or change the rule in the lineup',
      },
    ]);
  });

  it('holds for a zone whose rate alone is set by hand', async () => {
    const rates = { ...answers.rates, byHand: [{ zone: 2, seedsPerAc: 30_000 }] };
    const results = await walk({ rates }, withRules({ a: [rule('never', [over180])] }));
    expect(planted(results)).toEqual(['b', 'b']);
    expect(results.choices?.[1].options.map(({ product }) => product)).toEqual([1]);
  });
});

describe('rules that keep nothing out', () => {
  it('care is planted all the same, and told as a warning and in why here', async () => {
    const results = await walk({}, withRules({ a: [rule('care', [over180])] }));
    expect(planted(results)).toEqual(['b', 'a']);
    expect(results.issues.filter(({ code }) => code === 'placed-with-care')).toMatchObject([
      {
        severity: 'warning',
        where: 'zone 2 Best ground',
        found: 'A. With care because it lodges (by J. Hall): yield environment 200 bu/ac.',
      },
    ]);
    expect(said(results, 150)).toContain(
      'A: with care because it lodges (by J. Hall): yield environment 200 bu/ac.',
    );
    expect(said(results, -150).join(' ')).not.toContain('with care');
  });

  it('best is told in why here and moves nothing', async () => {
    const results = await walk({}, withRules({ b: [rule('best', [over180])] }));
    expect(planted(results)).toEqual(['b', 'a']);
    const own = await walk({}, withRules({ a: [rule('best', [over180])] }));
    expect(said(own, 150)).toContain(
      'A: belongs here because it lodges (by J. Hall): yield environment 200 bu/ac.',
    );
  });

  it('what keeps a product out is told where it is kept out', async () => {
    const results = await walk({}, withRules({ a: [rule('never', [over180])] }));
    expect(said(results, 150)).toContain(
      'A may not go here because it lodges (by J. Hall): yield environment 200 bu/ac.',
    );
    expect(said(results, -150).join(' ')).not.toContain('may not go');
  });

  it('what is not known is a warning once a rule, and keeps nothing out', async () => {
    const rules = { a: [rule('never', [slopeOver8]), rule('best', [{ ...slopeOver8, layer: 'pH' }])] };
    const results = await walk({}, withRules(rules));
    expect(planted(results)).toEqual(['b', 'a']);
    expect(results.issues.filter(({ code }) => code === 'placement-not-known')).toMatchObject([
      {
        severity: 'warning',
        where: 'lineup › A',
        found: 'not known in Poor ground, Best ground: slope',
        expected: 'what the rule asks of the ground: it lodges (by J. Hall)',
        effect: 'It may be planted where it must not go',
      },
      { severity: 'note', where: 'lineup › A', found: 'not known in Poor ground, Best ground: pH' },
    ]);
    expect(said(results, 150)).toContain(
      'A: not known here: slope. So nobody can tell whether it must stay out because it lodges (by J. Hall).',
    );
  });

  it('ground no layer covers has no environment of its own, only the one expected of the field', async () => {
    const west = points(
      'yield.csv',
      Array.from({ length: 30 * 60 }, (_, k) => [-195 + 5 * (k % 30), -147 + 5 * Math.floor(k / 30), 150]),
    );
    const own = withRules(
      { a: [rule('never', [{ ...over180, from: 140 }])] },
      { ...inputs, sources: new Map([...sources, ['yield', west]]) },
    );
    const results = await walk({ evidence: { ...answers.evidence, soils: null } }, own);
    expect(results.zoning?.zones.map(({ name }) => name).at(-1)).toBe('Not mapped');
    expect(results.placement?.map(([check]) => check.verdict)).toEqual(['not here', 'fits']);
    const told = results.issues.find(({ code }) => code === 'placement-not-known');
    expect(told?.found).toBe('not known in Not mapped: yield environment');
  });

  it('a layer added counts the moment it is there', async () => {
    const own = withRules({ a: [rule('never', [{ ...slopeOver8, layer: 'pH', unit: '', from: 180 }])] });
    const evidence = { ...answers.evidence, layers: [{ source: 'soils', column: 'CORN_BU', label: 'pH' }] };
    const cache: StageCache = new Map();
    expect(planted(await run(plan(answers), own, {}, cache))).toEqual(['b', 'a']);
    expect(planted(await run(plan({ ...answers, evidence }), own, {}, cache))).toEqual(['b', 'b']);
    expect(planted(await run(plan(answers), own, {}, cache))).toEqual(['b', 'a']);
  });
});

/** The sentences of why here on the cell nearest to x metres east of the middle. */
function said(results: Awaited<ReturnType<typeof walk>>, x: number): string[] {
  const { grid } = results.field ?? {};
  if (!grid) throw new Error('no field');
  let cell = 0;
  for (let k = 1; k < grid.area.length; k++)
    if (Math.hypot(grid.x[k] - x, grid.y[k]) < Math.hypot(grid.x[cell] - x, grid.y[cell])) cell = k;
  return whyHere(results, plan(answers), cell)?.sentences.map(({ text }) => text) ?? [];
}

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { GroundFacts, GroundSoil } from '../../../src/engine/lineup/ground-facts.ts';
import { checkPlacement, type PlacementVerdict } from '../../../src/engine/lineup/placement-check.ts';
import type { PlacementCondition, PlacementRule } from '../../../src/engine/lineup/placement-rule.ts';

const soil = (name: string | null, share: number, words: Record<string, string> = {}): GroundSoil => ({
  name,
  share,
  words: new Map(Object.entries(words)),
});

/** A hill: 150 bu/ac, 6 % of slope, three quarters Hill and a quarter Bottom. */
const hill: GroundFacts = {
  zone: 'Poor ground',
  environment_buPerAc: 150,
  figures: [{ name: 'Slope', unit: '%', mean: 6, knownShare: 1 }],
  soils: [soil('Hill', 0.75, { DRAINAGE: 'well' }), soil('Bottom', 0.25, { DRAINAGE: 'poor' })],
};

const rule = (
  verdict: PlacementRule['verdict'],
  where: readonly PlacementCondition[] = [],
  change: Partial<PlacementRule> = {},
): PlacementRule => ({ verdict, where, reason: 'it lodges', by: 'J. Hall', ...change });

const environment = (from: number | null, to: number | null) => ({ on: 'environment' as const, from, to });
const slope = (from: number | null, to: number | null, unit = '') => ({
  on: 'layer' as const,
  layer: 'slope',
  unit,
  from,
  to,
});
const soils = (...anyOf: string[]) => ({ on: 'soil' as const, anyOf });
const drainage = (...anyOf: string[]) => ({ on: 'soil attribute' as const, attribute: 'drainage', anyOf });
const zone = (...anyOf: string[]) => ({ on: 'zone' as const, anyOf });

const verdict = (rules: readonly PlacementRule[], facts = hill) => checkPlacement(rules, facts).verdict;

describe('the verdict of placement rules on a piece of ground', () => {
  it.each<[string, PlacementCondition, boolean]>([
    ['an environment at its lower end', environment(150, 200), true],
    ['an environment at its upper end', environment(100, 150), true],
    ['an environment just over', environment(150.001, null), false],
    ['an environment just under', environment(null, 149.999), false],
    ['a range of one figure', environment(150, 150), true],
    ['a layer, whatever its case', { ...slope(6, null), layer: 'SLOPE ' }, true],
    ['a layer in the unit asked', slope(5, 7, '%'), true],
    ['a layer outside', slope(6.5, null), false],
    ['a zone by name, whatever its case', zone('poor_ground'), true],
    ['another zone', zone('Best ground'), false],
    ['a soil on most of it', soils('hill'), true],
    ['one of two soils', soils('Elsewhere', 'Bottom'), true],
    ['a soil that is not there', soils('Elsewhere'), false],
    ['a word of the soil map', drainage('Poor', 'very poor'), true],
    ['a word it does not have', drainage('excessive'), false],
  ])('%s', (_, condition, holds) => {
    expect(verdict([rule('never', [condition])])).toBe(holds ? 'not here' : 'fits');
    expect(verdict([rule('care', [condition])])).toBe(holds ? 'care' : 'fits');
    expect(checkPlacement([rule('never', [condition])], hill).unknown).toEqual([]);
  });

  it('without rules anything fits, and nothing is said', () => {
    expect(checkPlacement([], hill)).toEqual({ verdict: 'fits', because: [], unknown: [], findings: [] });
  });

  it('a rule without conditions holds everywhere', () => {
    expect(checkPlacement([rule('never')], hill).because).toEqual([
      'Not here because it lodges (by J. Hall).',
    ]);
  });

  it('all conditions must hold', () => {
    expect(verdict([rule('never', [environment(null, 160), slope(5, null)])])).toBe('not here');
    expect(verdict([rule('never', [environment(null, 160), slope(7, null)])])).toBe('fits');
  });

  it.each<[readonly PlacementRule['verdict'][], PlacementVerdict]>([
    [['best', 'care', 'never'], 'not here'],
    [['best', 'care'], 'care'],
    [['best'], 'best'],
  ])('of %j the gravest speaks: %s', (verdicts, expected) => {
    expect(verdict(verdicts.map((own) => rule(own)))).toBe(expected);
    expect(verdict(verdicts.toReversed().map((own) => rule(own)))).toBe(expected);
  });

  it.each<[number, PlacementVerdict, PlacementVerdict, PlacementVerdict]>([
    [0, 'fits', 'fits', 'fits'],
    [0.05, 'fits', 'fits', 'fits'],
    [0.0501, 'care', 'care', 'fits'],
    [0.2, 'care', 'care', 'fits'],
    [0.2001, 'not here', 'care', 'fits'],
    [0.5, 'not here', 'care', 'fits'],
    [0.5001, 'not here', 'care', 'best'],
    [1, 'not here', 'care', 'best'],
  ])('a soil on %d of the ground: never %s, care %s, best %s', (share, never, care, best) => {
    const facts = { ...hill, soils: [soil('Wet', share), soil('Dry', 1 - share)] };
    const own = (of: PlacementRule['verdict']) => verdict([rule(of, [soils('Wet')])], facts);
    expect([own('never'), own('care'), own('best')]).toEqual([never, care, best]);
  });

  it('soil conditions must be met by the same ground', () => {
    expect(verdict([rule('never', [soils('Hill'), drainage('poor')])])).toBe('fits');
    expect(verdict([rule('never', [soils('Bottom'), drainage('poor')])])).toBe('not here');
  });
});

describe('what is not known', () => {
  it.each<[string, PlacementCondition, Partial<GroundFacts>, RegExp]>([
    ['a layer that is not there', { ...slope(5, null), layer: 'pH' }, {}, /pH/],
    ['a layer known nowhere', slope(5, null), { figures: [figure(NaN, 0)] }, /slope\./],
    [
      'a layer known on too little',
      slope(5, null),
      { figures: [figure(6, 0.49)] },
      /slope \(known on only 49 % of it\)/,
    ],
    ['a layer in another unit', slope(5, null, '°'), {}, /slope in ° \(the layer is in %\)/],
    ['an environment', environment(100, null), { environment_buPerAc: NaN }, /yield environment/],
    ['soils that are not there', soils('Hill'), { soils: [] }, /soil map unit\./],
    ['soils without names', soils('Hill'), { soils: [soil(null, 1)] }, /soil map unit\./],
    ['a column the soil map lacks', { ...drainage('poor'), attribute: 'flooding' }, {}, /flooding\./],
    ['soils on part of it', soils('Wet'), { soils: [soil('Dry', 0.7)] }, /no soil is mapped on 30 % of it/],
  ])('%s is told and closes nothing', (_, condition, change, words) => {
    for (const of of ['never', 'care'] as const) {
      const check = checkPlacement([rule(of, [condition])], { ...hill, ...change });
      expect(check).toMatchObject({ verdict: 'fits', because: [] });
      expect(check.unknown).toHaveLength(1);
      expect(check.unknown[0]).toMatch(words);
    }
  });

  it('is not told where it makes no difference', () => {
    // The other condition fails already.
    const elsewhere = rule('never', [environment(300, null), { ...slope(5, null), layer: 'pH' }]);
    expect(checkPlacement([elsewhere], hill)).toMatchObject({ verdict: 'fits', unknown: [] });
    // Enough of the soil is known to be there, and too little of the map is missing.
    const wet = rule('never', [soils('Wet')]);
    const mostly = { ...hill, soils: [soil('Wet', 0.3)] };
    expect(checkPlacement([wet], mostly)).toMatchObject({ verdict: 'not here', unknown: [] });
    const nearly = { ...hill, soils: [soil('Dry', 0.96)] };
    expect(checkPlacement([wet], nearly)).toMatchObject({ verdict: 'fits', unknown: [] });
  });

  it('is told beside what is known', () => {
    const partly = { ...hill, soils: [soil('Wet', 0.1), soil('Dry', 0.5)] };
    const check = checkPlacement([rule('never', [soils('Wet')])], partly);
    expect(check.verdict).toBe('care');
    expect(check.unknown).toEqual([
      'Not known here: soil map unit (no soil is mapped on 40 % of it). So nobody can tell whether it must stay out because it lodges (by J. Hall).',
    ]);
  });

  it('of two layers of one name the one that is known speaks', () => {
    const facts = { ...hill, figures: [figure(2, 0.1), figure(8, 1)] };
    expect(verdict([rule('never', [slope(7, null)])], facts)).toBe('not here');
  });

  function figure(mean: number, knownShare: number) {
    return { name: 'slope', unit: '%', mean, knownShare };
  }
});

describe('the sentences', () => {
  it('give the reason, who says so, and what the ground is', () => {
    const because = (own: PlacementRule, facts = hill) => checkPlacement([own], facts).because;
    expect(because(rule('never', [environment(null, 160), slope(5, null)]))).toEqual([
      'Not here because it lodges (by J. Hall): yield environment 150 bu/ac; Slope 6 %.'.replace(
        'Slope',
        'slope',
      ),
    ]);
    expect(because(rule('care', [soils('Hill', 'Bottom')], { reason: 'it lodges. ', by: '' }))).toEqual([
      'With care because it lodges: Hill on 75 % of it; Bottom on 25 % of it.',
    ]);
    expect(because(rule('best', [zone('Poor ground')]))).toEqual([
      'Belongs here because it lodges (by J. Hall): this is Poor ground.',
    ]);
    const sliver = {
      ...hill,
      soils: [soil('Wet', 0.12, { drainage: 'poor' }), soil('Dry', 0.88, { drainage: 'well' })],
    };
    expect(because(rule('never', [soils('Wet'), drainage('poor')]), sliver)).toEqual([
      'With care because it lodges (by J. Hall): Wet and poor on 12 % of it, and there it must not go.',
    ]);
    const partly = { ...hill, figures: [{ name: 'slope', unit: '%', mean: 6.04, knownShare: 0.8 }] };
    expect(because(rule('never', [slope(6, null)]), partly)).toEqual([
      'Not here because it lodges (by J. Hall): slope 6.04 % where known, 80 % of it.',
    ]);
  });
});

describe('any rules on any ground', () => {
  const share = fc.double({ min: 0, max: 1, noNaN: true });
  const figureOrNone = fc.option(fc.double({ min: 0, max: 300, noNaN: true }), { nil: NaN });
  const names = fc.constantFrom('Wet', 'Dry', 'Hill');
  const anyOf = fc.array(names, { minLength: 1, maxLength: 3 });
  const end = fc.option(fc.double({ min: 0, max: 300, noNaN: true }));
  const condition = fc.oneof(
    fc.record({ on: fc.constant('environment' as const), from: end, to: end }),
    fc.record({
      on: fc.constant('layer' as const),
      layer: fc.constantFrom('slope', 'pH'),
      unit: fc.constantFrom('', '%', '°'),
      from: end,
      to: end,
    }),
    fc.record({ on: fc.constant('soil' as const), anyOf }),
    fc.record({ on: fc.constant('soil attribute' as const), attribute: fc.constant('drainage'), anyOf }),
    fc.record({ on: fc.constant('zone' as const), anyOf }),
  );
  const anyRule = fc.record({
    verdict: fc.constantFrom('never' as const, 'care' as const, 'best' as const),
    where: fc.array(condition, { maxLength: 4 }),
    reason: fc.constant('it lodges'),
    by: fc.constant(''),
  });
  const anyGround = fc
    .record({
      zone: names,
      environment_buPerAc: figureOrNone,
      figures: fc.array(
        fc.record({
          name: fc.constantFrom('slope', 'pH'),
          unit: fc.constantFrom('', '%'),
          mean: figureOrNone,
          knownShare: share,
        }),
        { maxLength: 3 },
      ),
      soils: fc.array(
        fc.record({
          name: fc.option(names),
          share,
          words: fc.option(names).map((word) => new Map(word === null ? [] : [['drainage', word]])),
        }),
        { maxLength: 4 },
      ),
    })
    .map((facts) => ({ ...facts, soils: facts.soils.map((own) => ({ ...own, share: own.share / 4 })) }));
  const order = ['best', 'fits', 'care', 'not here'];

  it('say no less with a rule more that keeps out, and tell every rule they could not look at', () => {
    fc.assert(
      fc.property(fc.array(anyRule, { maxLength: 4 }), anyRule, anyGround, (rules, more, facts) => {
        const before = checkPlacement(rules, facts);
        const after = checkPlacement([...rules, more], facts);
        if (more.verdict !== 'best')
          expect(order.indexOf(after.verdict)).toBeGreaterThanOrEqual(order.indexOf(before.verdict));
        for (const { says, share: held, open } of after.findings) {
          expect(held.atMost).toBeGreaterThanOrEqual(held.atLeast);
          // What is left open has a name, and what is not known is never taken for what keeps out.
          if (open) expect(held.notKnown.length).toBeGreaterThan(0);
          if (held.atLeast === 0) expect(says).toBeNull();
        }
        expect(after.unknown).toHaveLength(after.findings.filter(({ open }) => open).length);
        expect(after.because).toHaveLength(after.findings.filter(({ says }) => says !== null).length);
      }),
      { seed: 20_261_125, numRuns: 3000 },
    );
  });
});

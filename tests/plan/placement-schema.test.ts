import { describe, expect, it } from 'vitest';
import type { PlacementRule } from '../../src/engine/lineup/placement-rule.ts';
import { placementRule } from '../../src/plan/placement-schema.ts';
import { readLineup } from '../../src/plan/validate.ts';

const rule = (where: unknown) => ({ verdict: 'never', reason: 'it lodges', where: [where] });

describe('a placement rule in a lineup', () => {
  it('may be as short as a verdict and a reason, and is then one of the engine', () => {
    const read: PlacementRule = placementRule.parse({ verdict: 'care', reason: 'it lodges' });
    expect(read).toEqual({ verdict: 'care', where: [], reason: 'it lodges', by: '' });
  });

  it('fills in the ends and the unit that are not given', () => {
    const read = placementRule.parse(rule({ on: 'layer', layer: 'slope', from: 8 }));
    expect(read.where).toEqual([{ on: 'layer', layer: 'slope', unit: '', from: 8, to: null }]);
  });

  it.each<[string, unknown, RegExp]>([
    ['a condition nobody knows', { on: 'moon', anyOf: ['full'] }, /on/],
    ['an environment without an end', { on: 'environment' }, /neither from nor to/],
    ['a layer without an end', { on: 'layer', layer: 'slope' }, /neither from nor to/],
    ['ends the wrong way round', { on: 'environment', from: 200, to: 150 }, /from over to/],
    ['no soil at all', { on: 'soil', anyOf: [] }, /anyOf/],
    ['a layer without a name', { on: 'layer', layer: '', from: 1 }, /layer/],
  ])('%s is refused with its place', (_, where, words) => {
    const product = {
      id: 'a',
      name: 'A',
      crop: 'corn',
      seedsPerUnit: 80_000,
      placement: [rule(where)],
    };
    const json = { document: 'eachacre-lineup', version: 1, name: 'L', products: [product] };
    const { value, issues } = readLineup(json, 'l.json');
    expect(value).toBeNull();
    expect(issues).toHaveLength(1);
    expect(issues[0].where).toMatch(/^l\.json › products\[0\]\.placement\[0\]\.where\[0\]/);
    expect(`${issues[0].where} ${issues[0].found}`).toMatch(words);
  });

  it('takes a range of one figure', () => {
    expect(placementRule.safeParse(rule({ on: 'environment', from: 150, to: 150 })).success).toBe(true);
  });
});

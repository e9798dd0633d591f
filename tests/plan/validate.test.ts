import { describe, expect, it } from 'vitest';
import { readLineup, readPlan } from '../../src/plan/validate.ts';
import { least, plan } from './small-plan.ts';

/** The codes and places of the issues of a document that is refused. */
function refusals(json: unknown): [string, string][] {
  const { value, issues } = readPlan(json, 'p.json');
  expect(value).toBeNull();
  expect(issues.length).toBeGreaterThan(0);
  for (const issue of issues) {
    for (const text of [issue.found, issue.expected, issue.effect, issue.remedy]) expect(text).not.toBe('');
  }
  return issues.map(({ code, where }) => [code, where]);
}

describe('a plan read', () => {
  it('fills in every default', () => {
    const read = plan();
    expect(read.field).toEqual({
      boundary: 'boundary',
      records: null,
      crossing: 'refuse',
      heading_deg: null,
      cell_m: null,
    });
    expect(read.evidence).toMatchObject({ soils: null, yields: [], layers: [], yearsBy: 'relative' });
    expect(read.zones).toMatchObject({ method: 'natural-breaks', count: 3, smooth_m: 25, smallest_ac: 0.5 });
    expect(read.money).toEqual({ currency: 'USD', grainPrice_perBu: null, dryingHauling_perBu: 0 });
    expect(read.rates).toEqual({
      emergence: 0.95,
      step_seedsPerAc: 500,
      lowest_seedsPerAc: 0,
      highest_seedsPerAc: null,
      hoppers: 2,
      byHand: [],
    });
    expect(read.handoff).toEqual({ shape: 'cells', name: 'PRESC' });
    expect(read.lineup).toBeNull();
    expect(read.seed).toBe(1);
  });

  it('is the same read again from what was written', () => {
    const read = plan({ money: { grainPrice_perBu: 4.5 }, zones: { count: 2 } });
    expect(readPlan(JSON.parse(JSON.stringify(read)), 'again').value).toEqual(read);
  });

  it.each([
    ['null', null],
    ['a list', []],
    ['a number', 7],
    ['an object of another kind', { document: 'something-else', version: 1 }],
    ['an object that does not say', {}],
  ])('is not %s', (_, json) => {
    expect(refusals(json)).toEqual([['document-foreign', 'p.json']]);
  });

  it.each([[2], [99]])('is not of version %s, made by a newer program', (version) => {
    expect(refusals({ ...least, version })).toEqual([['document-newer', 'p.json']]);
  });

  it.each([[0], [-1], [1.5], ['1'], [undefined], [null]])('is not of version %s', (version) => {
    expect(refusals({ ...least, version })).toEqual([['document-version', 'p.json']]);
  });

  it('names the path of every value the document does not allow', () => {
    const issues = refusals({
      ...least,
      zones: { count: 9, smooth_m: -1 },
      rates: { hoppers: 0, byHand: [{ zone: 1 }, { zone: 0 }] },
      money: { grainPrice_perBu: Number.NaN },
    });
    expect(issues.map(([code]) => code)).toEqual(issues.map(() => 'document-not-valid'));
    expect(issues.map(([, where]) => where).sort()).toEqual([
      'p.json › money.grainPrice_perBu',
      'p.json › rates.byHand[1].zone',
      'p.json › rates.hoppers',
      'p.json › zones.count',
      'p.json › zones.smooth_m',
    ]);
  });

  it('refuses a key it does not know rather than pass over it', () => {
    expect(refusals({ ...least, rate: {} })).toEqual([['document-not-valid', 'p.json › document']]);
    expect(refusals({ ...least, field: { boundary: 'boundary', cell_ft: 30 } })[0][1]).toBe('p.json › field');
  });

  it('wants every source it names listed, once', () => {
    const doubled = { ...least, sources: [...least.sources, least.sources[1]] };
    expect(refusals(doubled)).toEqual([['plan-duplicate-source', 'p.json › sources[4].id']]);
    expect(
      refusals({
        ...least,
        field: { boundary: 'b' },
        evidence: {
          soils: {
            source: 's',
            column: 'x',
            meaning: 'index',
            join: [{ source: 't', fromKey: 'k', toKey: 'k' }],
          },
          yields: [
            { source: 'yield', column: 'y' },
            { source: 'y', column: 'y' },
          ],
          layers: [{ source: 'e', column: 'e', label: 'Elevation' }],
        },
        lineup: { source: 'l' },
      }),
    ).toEqual(
      [
        'field.boundary',
        'evidence.soils.source',
        'evidence.soils.join[0].source',
        'lineup.source',
        'evidence.yields[1].source',
        'evidence.layers[0].source',
      ].map((path) => ['plan-source-missing', `p.json › ${path}`]),
    );
  });

  it('wants a price over its costs and limits that leave a rate', () => {
    for (const costs of [4, 5])
      expect(refusals({ ...least, money: { grainPrice_perBu: 4, dryingHauling_perBu: costs } })).toEqual([
        ['price-not-positive', 'p.json › money'],
      ]);
    expect(refusals({ ...least, rates: { lowest_seedsPerAc: 30_000, highest_seedsPerAc: 20_000 } })).toEqual([
      ['rate-limits-contradict', 'p.json › rates'],
    ]);
  });

  it('wants one choice by hand for a zone: of two, one would be passed over', () => {
    expect(
      refusals({
        ...least,
        rates: {
          byHand: [
            { zone: 1, seedsPerAc: 30_000 },
            { zone: 1, seedsPerAc: 20_000 },
          ],
        },
      }),
    ).toEqual([['by-hand-twice', 'p.json › rates.byHand[1].zone']]);
  });

  it('leaves what it was given alone', () => {
    const given = structuredClone(least);
    readPlan(given, 'p.json');
    expect(given).toEqual(least);
  });
});

describe('a lineup read', () => {
  const product = {
    id: 'a',
    name: 'A',
    crop: 'corn',
    seedsPerUnit: 80_000,
    pricePerUnit: 240,
    tested_plantsPerAc: { min: 20_000, max: 40_000 },
    response: {
      family: 'quadratic',
      reference_buPerAc: 200,
      level_buPerAc: 200,
      stand_plantsPerAc: 30_000,
      bend: 0.1,
    },
  };
  const lineup = (...products: unknown[]) =>
    readLineup({ document: 'eachacre-lineup', version: 1, name: 'L', products }, 'l.json');

  it('fills in its defaults', () => {
    expect(lineup(product).value?.products[0]).toMatchObject({
      maturity: '',
      response: { levelPerEnvironment: 1, standPerEnvironment_plantsPerAc: 0 },
    });
  });

  it.each([
    [
      'an id used twice',
      [product, { ...product, name: 'Another' }],
      'lineup-duplicate-product',
      'l.json › products[1].id',
    ],
    [
      'a name used twice',
      [product, { ...product, id: 'another' }],
      'lineup-duplicate-name',
      'l.json › products[1].name',
    ],
    [
      'a name with a blank at its end',
      [{ ...product, name: 'Sora ' }],
      'document-not-valid',
      'l.json › products[0].name',
    ],
    [
      'tested stands the wrong way round',
      [{ ...product, tested_plantsPerAc: { min: 40_000, max: 20_000 } }],
      'lineup-tested-range',
      'l.json › products[0].tested_plantsPerAc',
    ],
    [
      'no seeds in a unit',
      [{ ...product, seedsPerUnit: 0 }],
      'document-not-valid',
      'l.json › products[0].seedsPerUnit',
    ],
    [
      'a curve that opens upward',
      [{ ...product, response: { ...product.response, bend: -0.1 } }],
      'response-no-best-stand',
      'l.json › products[0].response',
    ],
    [
      'a negative price',
      [{ ...product, pricePerUnit: -1 }],
      'document-not-valid',
      'l.json › products[0].pricePerUnit',
    ],
  ])('refuses %s', (_, products, code, where) => {
    const { value, issues } = lineup(...products);
    expect(value).toBeNull();
    expect(issues.map((issue) => [issue.code, issue.where])).toEqual([[code, where]]);
  });

  it('may be empty: what needs a product says so', () => {
    expect(lineup().value?.products).toEqual([]);
  });

  it('is not a plan', () => {
    expect(readLineup(least, 'l.json').issues.map(({ code }) => code)).toEqual(['document-foreign']);
  });
});

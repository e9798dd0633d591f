import { describe, expect, it } from 'vitest';
import { newProduct } from '../../src/engine/lineup/new-product.ts';
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
      leastAcres: 0,
      mostShare: 1,
      mustUse: [],
      onHand: [],
      planter: null,
      treatments: [],
      spare: 0,
      unitsPerBox: null,
      byHand: [],
    });
    expect(read.worth).toEqual({
      ...{ draws: 2000, priceSpread: 0.1, levelSpread: 0.1, yearToYear: 0.08, apartSpread: 0.05 },
      ...{ mapCost_perAc: 0, usual: null },
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

  it('has one figure of seed on hand for a product', () => {
    const onHand = (...ids: string[]) => ({
      ...least,
      rates: { onHand: ids.map((product, k) => ({ product, units: 4 + k })) },
    });
    expect(refusals(onHand('a', 'b', 'a'))).toEqual([['document-not-valid', 'p.json › rates.onHand']]);
    expect(readPlan(onHand('a', 'b'), 'p.json').issues).toEqual([]);
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

  const whole = (change: Record<string, unknown>) =>
    readLineup(
      { document: 'eachacre-lineup', version: 1, name: 'L', products: [product], ...change },
      'l.json',
    ).issues.map(({ code, where }) => [code, where]);
  const scale = { id: 'ten', lowest: 1, highest: 10, best: 'highest' };
  const rated = (value: number, on: string) => ({
    ...product,
    ratings: [{ of: 'drought', value, scale: on }],
  });

  it('wants ratings on scales that are declared, with their ends and the better one, and inside them', () => {
    expect(whole({ scales: [scale], products: [rated(10, 'ten')] })).toEqual([]);
    expect(whole({ products: [rated(7, 'ten')] })).toEqual([
      ['rating-no-direction', 'l.json › products[0].ratings[0]'],
    ]);
    for (const value of [0, 10.5])
      expect(whole({ scales: [scale], products: [rated(value, 'ten')] })).toEqual([
        ['rating-off-scale', 'l.json › products[0].ratings[0]'],
      ]);
    expect(whole({ scales: [{ ...scale, best: undefined }] })).toEqual([
      ['document-not-valid', 'l.json › scales[0].best'],
    ]);
    expect(whole({ scales: [scale, { ...scale, lowest: 10 }] })).toEqual([
      ['scale-range', 'l.json › scales[1]'],
      ['scale-twice', 'l.json › scales[1]'],
    ]);
  });

  it('wants of every plot a site that is listed, a stand and a yield', () => {
    const plots = { site: [0, 1], stand_plantsPerAc: [30_000, null], yield_buPerAc: [180, 170] };
    const sites = [{ name: 'North' }, { name: 'South', year: 2025 }];
    const of = (change: object) => [{ ...product, plots: { ...plots, ...change } }];
    expect(whole({ sites, products: of({}) })).toEqual([]);
    expect(whole({ sites: [sites[0]], products: of({}) })).toEqual([
      ['plot-no-site', 'l.json › products[0].plots.site[1]'],
    ]);
    for (const short of [{ yield_buPerAc: [180] }, { stand_plantsPerAc: [30_000] }, { site: [0] }])
      expect(whole({ sites, products: of(short) })).toEqual([
        ['plots-not-even', 'l.json › products[0].plots'],
      ]);
  });

  it('wants of an uncertainty fifteen figures and no variance under zero', () => {
    const uncertain = (covariance: number[]) => [
      {
        ...product,
        response: {
          ...product.response,
          uncertainty: { covariance, df: 20, plotSd_buPerAc: 6, siteSd_buPerAc: 3 },
        },
      },
    ];
    const figures = [4, 0, 1, 0, -3, 9e4, 0, 0, 0, 0, 0, 0, 0, 0, 1e-4];
    expect(whole({ products: uncertain(figures) })).toEqual([]);
    expect(whole({ products: uncertain(figures.slice(1)) })).toEqual([
      ['document-not-valid', 'l.json › products[0].response.uncertainty.covariance'],
    ]);
    expect(whole({ products: uncertain([...figures.slice(0, 14), -1e-4]) })).toEqual([
      ['variance-negative', 'l.json › products[0].response.uncertainty.covariance[14]'],
    ]);
  });

  it('wants figures a curve follows from, of a family there is', () => {
    const responding = (change: object) => [{ ...product, response: { ...product.response, ...change } }];
    expect(whole({ products: responding({ family: 'cubic' }) })).toEqual([
      ['document-not-valid', 'l.json › products[0].response.family'],
    ]);
    // A bend left out is not known, which some families cannot do without.
    for (const family of [
      'quadratic',
      'quadratic-plateau',
      'linear-plateau',
      'mitscherlich',
      'parabolic-reciprocal',
      'line',
    ])
      expect(whole({ products: responding({ family, bend: null }) })).toEqual([
        ['response-no-best-stand', 'l.json › products[0].response'],
      ]);
    for (const family of ['density-decay', 'holliday'])
      expect(whole({ products: responding({ family, bend: null }) })).toEqual([]);
  });

  it('needs of a product no more than what it is called and how it is sold', () => {
    const { value } = lineup({ id: 'n', name: 'New', crop: 'corn', seedsPerUnit: 80_000 });
    expect(value?.products).toEqual([
      newProduct({ id: 'n', name: 'New', crop: 'corn', seedsPerUnit: 80_000 }),
    ]);
  });

  it('may be empty: what needs a product says so', () => {
    expect(lineup().value?.products).toEqual([]);
  });

  it('is not a plan', () => {
    expect(readLineup(least, 'l.json').issues.map(({ code }) => code)).toEqual(['document-foreign']);
  });
});

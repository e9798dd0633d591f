import { describe, expect, it } from 'vitest';
import type { PlanInput } from '../../src/plan/schema.ts';
import type { Results } from '../../src/run/results.ts';
import { type Inputs, run } from '../../src/run/run.ts';
import type { Progress, StageCache } from '../../src/run/walk.ts';
import { box } from '../engine/grid/shapes.ts';
import { plan } from '../plan/small-plan.ts';
import { answers, inputs, lineup, points, polygons, sources } from './small-field.ts';
import { errors, walk, withSource } from './small-walk.ts';

describe('a field of two halves, walked to its prescription', () => {
  it('finds both halves, a product and a rate for each, and closes', async () => {
    const results = await walk();
    expect(errors(results)).toEqual([]);
    // 120,000 m² of the frame, drawn as such.
    expect(results.field?.area_m2).toBeCloseTo(120_000, 3);
    expect(
      results.zoning?.zones.map(({ name, environment_buPerAc }) => [name, Math.round(environment_buPerAc)]),
    ).toEqual([
      ['Poor ground', 150],
      ['Best ground', 200],
    ]);
    for (const zone of results.zoning?.zones ?? []) expect(zone.area_m2).toBeCloseTo(60_000, 2);
    // A holds 150 + … at 28 thousand; B falls 0.6 a bushel, so it is ahead on the hill: 196 − 0.6 · 50 = 166 against 150.
    expect(results.choices?.map(({ chosen }) => results.lineup[chosen.product].id)).toEqual(['b', 'a']);
    // r = 3/4, so 3.75 thousand under each top of 30.
    expect(results.choices?.map(({ chosen }) => chosen.seedsPerAc)).toEqual([26_250, 26_250]);
    const seeds = results.ledger?.byZone.reduce((sum, row) => sum + row.seeds, 0);
    expect(results.ledger?.total.seeds).toBe(seeds);
    expect(results.ledger?.total.acres).toBeCloseTo(results.field?.acres ?? 0, 9);
    const cut = results.prescription?.reduce((sum, { area_m2 }) => sum + area_m2, 0);
    expect(cut).toBeCloseTo(120_000, 2);
    // Flat: A earns 196 … on the mean; the two zones earn more by some dollars.
    expect(results.worth?.perAc).toBeGreaterThan(1);
    expect(results.worth?.perField).toBeCloseTo((results.worth?.perAc ?? 0) * (results.field?.acres ?? 0), 6);
  });

  it('accounts for every record of every source', async () => {
    const results = await walk();
    for (const { read, used, repaired, setAside } of results.sources)
      expect(used + repaired + Object.values(setAside).reduce((sum, n) => sum + n, 0)).toBe(read);
    expect(results.sources.map(({ id, role }) => [id, role])).toEqual([
      ['boundary', 'boundary'],
      ['soils', 'soils'],
      ['yield', 'yield'],
      ['lineup', 'lineup'],
    ]);
    expect(results.sources[3]).toMatchObject({ read: 3, used: 2, setAside: { 'other-crop': 1 } });
  });

  it('sets points aside by reason, and they come back in the account', async () => {
    // One pass along the middle, 2 m a record, with a record of each kind in it.
    const odd: Record<number, number | null> = { 20: 0, 40: null, 60: 3, 80: 900 };
    const pass = Array.from({ length: 120 }, (_, k): [number, number, number | null] => [
      2 * k - 120,
      1,
      k in odd ? odd[k] : 150 + (k % 3),
    ]);
    const more = points('yield.csv', [...pass, [130, 400, 150], [130, 402, 150], [130, 404, 150]]);
    const results = await walk({}, withSource('yield', more));
    expect(results.sources.find(({ id }) => id === 'yield')).toMatchObject({
      read: 123,
      setAside: { 'header-up': 1, 'no-value': 1, 'outside-field': 3, 'biological-range': 2 },
    });
  });

  it('is the same twice over', async () => {
    const [once, again] = await Promise.all([walk(), walk()]);
    expect(JSON.stringify(again.prescription)).toBe(JSON.stringify(once.prescription));
    expect(again.ledger).toEqual(once.ledger);
  });

  it('gives ground no layer covers a zone of its own, at the expected yield', async () => {
    const west = [...Array(20)].flatMap((_, i) =>
      [...Array(30)].map((_, j): [number, number, number] => [-195 + 5 * i, -145 + 10 * j, 150]),
    );
    const results = await walk(
      {
        evidence: { yields: [{ source: 'yield', column: 'yield', unit: 'bu/ac', crop: 'corn' }] },
        zones: { count: 1 },
      },
      withSource('yield', points('yield.csv', west)),
    );
    expect(results.zoning?.zones.map(({ name, known }) => [name, known])).toEqual([
      ['Whole field', true],
      ['Not mapped', false],
    ]);
    expect(results.zoning?.zones[1].environment_buPerAc).toBeCloseTo(150, 9);
    expect(results.issues.map(({ code }) => code)).toContain('yield-covers-little');
  });

  it('draws one zone where all yields are equal, and says so', async () => {
    const level = points(
      'yield.csv',
      [...Array(20)].flatMap((_, i) =>
        [...Array(15)].map((_, j): [number, number, number] => [-190 + 20 * i, -140 + 20 * j, 180]),
      ),
    );
    const results = await walk(
      { evidence: { yields: [{ source: 'yield', column: 'yield' }] } },
      withSource('yield', level),
    );
    expect(results.zoning?.zones).toHaveLength(1);
    expect(results.issues.map(({ code }) => code)).toContain('zones-fewer');
  });
});

describe('stages', () => {
  it('run again only where what they need changed: a price touches rates and prescription alone', async () => {
    const cache: StageCache = new Map();
    const first = await run(plan(answers), inputs, {}, cache);
    const second = await run(plan({ ...answers, money: { grainPrice_perBu: 5 } }), inputs, {}, cache);
    for (const key of ['field', 'soils', 'environment', 'zoning', 'lineup'] as const)
      expect(second[key]).toBe(first[key]);
    expect(second.yields[0]).toBe(first.yields[0]);
    for (const key of ['choices', 'worth', 'ledger', 'prescription'] as const)
      expect(second[key]).not.toBe(first[key]);
    // r falls from 3/4 to 3/5, so the stand rises by 0.75 thousand.
    expect(second.choices?.[0].chosen.seedsPerAc).toBe(27_000);
  });

  it.each<[string, Partial<PlanInput>, (keyof Results)[], (keyof Results)[]]>([
    ['nothing', {}, ['field', 'zoning', 'choices', 'prescription'], []],
    ['the name', { name: 'Another' }, ['field', 'zoning', 'choices', 'prescription'], []],
    [
      'the shape handed off',
      { handoff: { shape: 'zones' } },
      ['field', 'zoning', 'choices'],
      ['prescription'],
    ],
    [
      'the zones',
      { zones: { count: 1 } },
      ['field', 'soils', 'environment', 'lineup'],
      ['zoning', 'choices', 'prescription'],
    ],
    [
      'the cell',
      { field: { boundary: 'boundary', cell_m: 30 } },
      ['lineup'],
      ['field', 'soils', 'zoning', 'prescription'],
    ],
  ])('when %s changes', async (_, change, kept, anew) => {
    const cache: StageCache = new Map();
    const first = await run(plan(answers), inputs, {}, cache);
    const second = await run(plan({ ...answers, ...change }), inputs, {}, cache);
    for (const key of kept) expect(second[key], key).toBe(first[key]);
    for (const key of anew) expect(second[key], key).not.toBe(first[key]);
  });

  it('run again where a file is another', async () => {
    const cache: StageCache = new Map();
    const first = await run(plan(answers), inputs, {}, cache);
    const own = sources.get('yield');
    const second = await run(plan(answers), own ? withSource('yield', { ...own }) : inputs, {}, cache);
    expect(second.field).toBe(first.field);
    expect(second.yields[0]).not.toBe(first.yields[0]);
    expect(second.environment).not.toBe(first.environment);
  });

  it('answer the same from the cache as without it', async () => {
    const cache: StageCache = new Map();
    await run(plan(answers), inputs, {}, cache);
    const kept = await run(plan({ ...answers, zones: { count: 1 } }), inputs, {}, cache);
    const fresh = await walk({ zones: { count: 1 } });
    expect(kept.ledger).toEqual(fresh.ledger);
    expect(kept.issues).toEqual(fresh.issues);
  });

  it('tell their progress, rising, and are whole only when done', async () => {
    const told: Progress[] = [];
    await run(plan(answers), inputs, { onProgress: (progress) => told.push(progress) });
    expect(told.map(({ step }) => step)).toEqual([
      'Laying out the field',
      'Sharing out the soils',
      'Judging yield.csv',
      'Reading the lineup',
      'Bringing the years together',
      'Drawing zones',
      'Asking where products may go',
      'Setting products and rates',
      'Pricing limits and choices by hand',
      'Weighing how sure that is',
      'Cutting the prescription',
      'Closing the ledger',
      'Figures ready',
    ]);
    expect(told.map(({ share }) => share)).toEqual([...told.map(({ share }) => share)].sort((a, b) => a - b));
    expect(told.at(-1)?.share).toBe(1);
    expect(told.at(-2)?.share).toBeLessThan(1);
  });

  it('stop when cancelled: before the first, between two, and with all of it remembered', async () => {
    await expect(run(plan(answers), inputs, { signal: AbortSignal.abort() })).rejects.toThrow(/abort/i);
    const control = new AbortController();
    const steps: string[] = [];
    const stopped = run(plan(answers), inputs, {
      signal: control.signal,
      onProgress: ({ step }) => {
        steps.push(step);
        if (step === 'Drawing zones') control.abort();
      },
    });
    await expect(stopped).rejects.toThrow(/abort/i);
    expect(steps.at(-1)).toBe('Drawing zones');
    const cache: StageCache = new Map();
    await run(plan(answers), inputs, {}, cache);
    await expect(run(plan(answers), inputs, { signal: AbortSignal.abort() }, cache)).rejects.toThrow(
      /abort/i,
    );
  });

  it('go on after a cancel from where they were', async () => {
    const cache: StageCache = new Map();
    const control = new AbortController();
    const stopped = run(
      plan(answers),
      inputs,
      {
        signal: control.signal,
        onProgress: ({ step }) => {
          if (step === 'Setting products and rates') control.abort();
        },
      },
      cache,
    );
    await expect(stopped).rejects.toThrow(/abort/i);
    const steps = new Set(cache.keys());
    expect(steps).toEqual(
      new Set(['field', 'soils', 'yield 0', 'lineup', 'environment', 'zones', 'placement']),
    );
    const results = await run(plan(answers), inputs, {}, cache);
    expect(results.ledger).toEqual((await walk()).ledger);
  });
});

describe('what cannot be used', () => {
  const crossing = polygons('boundary.geojson', [[-200, -150, 200, 150, 200, -150, -200, 150]]);
  const apart = polygons('soils.geojson', [[900, 0, 990, 0, 990, 90]], { MUSYM: ['X'], CORN_BU: [1] });
  const cases: readonly [
    code: string,
    change: Partial<PlanInput>,
    own: Inputs,
    last: keyof Results | null,
  ][] = [
    ['boundary-not-polygons', {}, withSource('boundary', points('boundary.csv', [[0, 0, 1]])), null],
    ['boundary-empty', {}, withSource('boundary', polygons('boundary.geojson', [])), null],
    ['boundary-record-missing', { field: { boundary: 'boundary', records: [2] } }, inputs, null],
    [
      'boundary-many-fields',
      {},
      withSource(
        'boundary',
        polygons('b.geojson', [
          [0, 0, 100, 0, 100, 100],
          [60_000, 0, 60_100, 0, 60_100, 100],
        ]),
      ),
      null,
    ],
    [
      'grid-too-fine',
      { field: { boundary: 'boundary', cell_m: 1, heading_deg: 0 } },
      withSource(
        'boundary',
        polygons('b.geojson', [
          [0, 0, 100, 0, 100, 100],
          [9000, 9000, 9100, 9000, 9100, 9100],
        ]),
      ),
      null,
    ],
    ['soils-not-polygons', {}, withSource('soils', points('soils.csv', [[0, 0, 1]])), 'field'],
    ['soils-outside-field', {}, withSource('soils', apart), 'field'],
    [
      'column-missing',
      { evidence: { soils: { source: 'soils', column: 'X', meaning: 'index' } } },
      inputs,
      'field',
    ],
    [
      'column-not-numbers',
      { evidence: { soils: { source: 'soils', column: 'MUSYM', meaning: 'index' } } },
      inputs,
      'field',
    ],
    ['yield-not-points', {}, withSource('yield', polygons('yield.geojson', [[0, 0, 9, 0, 9, 9]])), 'field'],
    [
      'yield-no-points-inside',
      {},
      withSource(
        'yield',
        points('yield.csv', [
          [5000, 0, 150],
          [0, 0, 0],
        ]),
      ),
      'field',
    ],
    ['lineup-no-usable-product', { crop: 'barley' }, inputs, 'zoning'],
    ['lineup-no-usable-product', { lineup: { source: 'lineup', leaveOut: ['a', 'b'] } }, inputs, 'zoning'],
    ['lineup-no-usable-product', {}, { ...inputs, lineup: { ...lineup, products: [] } }, 'zoning'],
    ['price-missing', { money: {} }, inputs, 'zoning'],
    ['by-hand-no-product', { rates: { byHand: [{ zone: 2, product: 'gone' }] } }, inputs, 'zoning'],
    [
      'by-hand-beyond-limit',
      { rates: { highest_seedsPerAc: 36_000, byHand: [{ zone: 1, seedsPerAc: 36_500 }] } },
      inputs,
      'zoning',
    ],
    [
      'by-hand-beyond-limit',
      { rates: { lowest_seedsPerAc: 20_000, byHand: [{ zone: 1, seedsPerAc: 19_500 }] } },
      inputs,
      'zoning',
    ],
    // 0.1 · (90 − 28)² is more than the 150 bu/ac of the zone.
    [
      'zone-without-yield',
      { rates: { emergence: 1, byHand: [{ zone: 1, seedsPerAc: 90_000 }] } },
      inputs,
      'zoning',
    ],
    ['zone-without-product', { rates: { lowest_seedsPerAc: 90_000 } }, inputs, 'zoning'],
    [
      'hoppers-too-few',
      {
        rates: {
          hoppers: 1,
          byHand: [
            { zone: 1, product: 'a' },
            { zone: 2, product: 'b' },
          ],
        },
      },
      inputs,
      'zoning',
    ],
  ];
  const order = ['field', 'environment', 'zoning', 'choices', 'ledger', 'prescription', 'worth'] as const;

  it.each(cases)('%s ends as an issue, and nothing after it is answered', async (code, change, own, last) => {
    const results = await walk(change, own);
    expect(errors(results)).toEqual([code]);
    const issue = results.issues.find((each) => each.code === code);
    for (const text of [issue?.where, issue?.found, issue?.expected, issue?.effect, issue?.remedy])
      expect(text).toBeTruthy();
    const from = last === null ? 0 : order.indexOf(last as (typeof order)[number]) + 1;
    for (const key of order.slice(0, from)) expect(results[key], key).not.toBeNull();
    for (const key of order.slice(from)) expect(results[key], key).toBeNull();
  });

  it('a boundary that crosses itself is refused, or split when the plan says so', async () => {
    const own = withSource('boundary', crossing);
    const refused = await walk({}, own);
    expect(refused.field).toBeNull();
    expect(errors(refused)).toHaveLength(1);
    const split = await walk({ field: { boundary: 'boundary', crossing: 'split', cell_m: 20 } }, own);
    expect(split.field?.area_m2).toBeCloseTo(60_000, 0);
    expect(split.prescription).not.toBeNull();
  });

  it.each([
    ['boundary', null],
    ['soils', 'field'],
    ['yield', 'field'],
  ] as const)('a source that was not read, the %s, stops what rests on it', async (id, last) => {
    const own = { lineup, sources: new Map([...sources].filter(([key]) => key !== id)) };
    const results = await walk({}, own);
    expect(results.field === null).toBe(last === null);
    for (const key of order.slice(1)) expect(results[key], key).toBeNull();
  });

  it('a table to be joined that was not read is never replaced by a column of the polygons', async () => {
    const join = [{ source: 'table', fromKey: 'MUSYM', toKey: 'musym' }];
    const results = await walk({
      sources: [...plan().sources, { id: 'table', file: 'table.csv', sha256: '0'.repeat(64) }],
      evidence: { soils: { source: 'soils', column: 'CORN_BU', meaning: 'yield', join } },
    });
    expect(results.soils).toBeNull();
    expect(results.environment).toBeNull();
  });

  it('a lineup the plan does not name is a warning, and zones are drawn all the same', async () => {
    const results = await walk({ lineup: null }, { sources, lineup: null });
    expect(errors(results)).toEqual([]);
    expect(results.issues.map(({ code }) => code)).toContain('lineup-missing');
    expect(results.zoning).not.toBeNull();
    expect(results.choices).toBeNull();
  });
  it('a coordinate system is asked for once, however many records a boundary has', async () => {
    const own = polygons('boundary.geojson', [box(-200, -150, 200, 300), box(0, -150, 200, 300)]);
    let asked = 0;
    const counted = {
      ...own,
      get crs() {
        asked++;
        return null;
      },
    };
    const results = await walk({}, withSource('boundary', counted));
    expect(asked).toBe(1);
    expect(results.issues.filter(({ code }) => code === 'crs-assumed')).toHaveLength(1);
    expect(results.prescription).not.toBeNull();
  });
});

import { describe, expect, it } from 'vitest';
import type { Source } from '../../src/engine/layers/source.ts';
import { type DraftFiles, type DraftWords, draftPlan } from '../../src/plan/draft.ts';
import { readPlan } from '../../src/plan/validate.ts';
import { table } from '../engine/layers/small-source.ts';

const file = (id: string, source: Source | null = null) => ({
  entry: { id, file: `${id}.geojson`, sha256: '0'.repeat(64) },
  source,
});
const words: DraftWords = {
  name: 'Small field',
  season: 2027,
  crop: 'corn',
  soilValue: null,
  yieldColumn: {},
  yieldUnit: {},
  yieldCrop: {},
};
/** A table as if it had shapes: the draft looks at columns, and at what kind of layer it is. */
const polygons = (columns: Parameters<typeof table>[0], name?: string): Source => ({
  ...table(columns, name),
  shape: 'polygons',
});
const points = (columns: Parameters<typeof table>[0], name?: string): Source => ({
  ...table(columns, name),
  shape: 'points',
});
const files = (change: Partial<DraftFiles>): DraftFiles => ({
  boundary: file('boundary'),
  soils: null,
  soilTables: [],
  yields: [],
  layers: [],
  lineup: null,
  ...change,
});
const codes = ({ issues }: { issues: readonly { code: string; severity: string }[] }) =>
  issues.map(({ code, severity }) => `${severity} ${code}`);

describe('a plan drafted from files', () => {
  it('has the weight of a bushel as said, and tells of a swath unit without a swath', () => {
    const yields = [file('y', points({ 'Dry Yield (bu/ac)': [180, 190] }, 'y.csv'))];
    const draft = draftPlan(files({ yields }), { ...words, bushel_lb: { y: 60 }, swathUnit: { y: 'ft' } });
    expect(readPlan(draft.plan, 'draft').value?.evidence.yields[0].bushel_lb).toBe(60);
    expect(codes(draft)).toContain('warning swath-column-not-found');
  });

  it('is one that can be read, with every file listed', () => {
    const draft = draftPlan(
      files({
        soils: file('soils', polygons({ MUSYM: ['A'], CORN_BU: [150] })),
        yields: [file('north-2023', points({ 'Dry Yield': [180, 190] }, 'north-2023.csv'))],
        lineup: file('lineup'),
      }),
      words,
    );
    const { value } = readPlan(draft.plan, 'draft');
    expect(value?.sources.map(({ id }) => id)).toEqual(['boundary', 'soils', 'north-2023', 'lineup']);
    expect(value?.evidence.soils).toMatchObject({
      label: 'MUSYM',
      column: 'CORN_BU',
      meaning: 'yield',
      join: [],
    });
    expect(value?.evidence.yields).toMatchObject([
      {
        source: 'north-2023',
        column: 'Dry Yield',
        unit: 'bu/ac',
        year: 2023,
        crop: 'corn',
        moisture: 'dry',
        take: 'column',
        open: [],
        use: true,
      },
    ]);
    expect(value?.lineup?.source).toBe('lineup');
    expect(codes(draft)).toEqual([
      'note soil-value-guessed',
      'note yield-column-guessed',
      'note yield-crop-assumed',
    ]);
  });

  it('prefers a rating of the crop in a table to an index of the polygons, and leaves other tables out', () => {
    const rating = table({ mukey: [1], cropname: ['Corn'], nonirryield_r: [150] });
    const draft = draftPlan(
      files({
        soils: file('soils', polygons({ MUKEY: [1], CSR2: [80] })),
        soilTables: [file('other', table({ x: [1] })), file('rating', rating)],
      }),
      words,
    );
    expect(draft.plan.evidence?.soils).toMatchObject({
      column: 'nonirryield_r',
      meaning: 'yield',
      join: [
        {
          source: 'rating',
          fromKey: 'MUKEY',
          toKey: 'mukey',
          where: { column: 'cropname', equals: 'Corn' },
        },
      ],
    });
    expect(draft.plan.sources.map(({ id }) => id)).toEqual(['boundary', 'soils', 'rating']);
    expect(codes(draft)).toEqual(['warning soil-table-no-key', 'note soil-value-guessed']);
  });

  it('says when nothing tells what the ground can yield, or which column is yield', () => {
    const soils = draftPlan(files({ soils: file('soils', polygons({ AREA: [1] })) }), words);
    expect(soils.plan.evidence?.soils).toBeNull();
    expect(codes(soils)).toEqual(['warning soil-value-not-found']);
    const yields = draftPlan(files({ yields: [file('y', points({ flow: [1] }))] }), words);
    expect(yields.plan.evidence?.yields).toEqual([]);
    expect(codes(yields)).toEqual(['error yield-column-not-found']);
  });

  it('takes the columns it is told', () => {
    const draft = draftPlan(
      files({
        soils: file('soils', polygons({ CORN_BU: [150], DEPTH: [3] })),
        yields: [file('y', points({ q: [1], yield: [180] }))],
      }),
      { ...words, soilValue: 'DEPTH', yieldColumn: { y: 'q' } },
    );
    expect(draft.plan.evidence?.soils).toMatchObject({ column: 'DEPTH', meaning: 'index' });
    expect(draft.plan.evidence?.yields?.[0]).toMatchObject({ column: 'q', unit: 'unknown', crop: 'corn' });
  });

  it('takes no map of one crop for a map of another', () => {
    const crops = (columns: Parameters<typeof table>[0], name: string, yieldCrop = {}) => {
      const draft = draftPlan(files({ yields: [file('y', points(columns, name))] }), { ...words, yieldCrop });
      return { crop: draft.plan.evidence?.yields?.[0].crop, codes: codes(draft).slice(1) };
    };
    const bushels = (value: number) => ({ yield_bu_ac: [value, value] });
    expect(crops(bushels(190), 'a.csv')).toEqual({ crop: 'corn', codes: ['note yield-crop-assumed'] });
    expect(crops(bushels(58), 'a.csv')).toEqual({ crop: 'corn', codes: ['warning yield-crop-assumed'] });
    expect(crops(bushels(25), 'a.csv')).toEqual({
      crop: 'unknown',
      codes: ['warning yield-crop-implausible'],
    });
    expect(crops(bushels(58), 'north soybeans 2022.csv')).toEqual({
      crop: 'soybean',
      codes: ['note yield-crop-guessed'],
    });
    expect(crops({ ...bushels(58), Crop: ['Soybeans', 'Soybeans'] }, 'a.csv').crop).toBe('soybean');
    expect(crops(bushels(58), 'a.csv', { y: 'soybean' })).toEqual({ crop: 'soybean', codes: [] });
  });

  it('is no plan over a boundary of points, soils without a record or a yield map of polygons', () => {
    const draft = draftPlan(
      files({
        boundary: file('boundary', points({ a: [1] })),
        soils: file('soils', polygons({})),
        yields: [file('y', polygons({ yield: [180] }))],
      }),
      words,
    );
    expect(codes(draft)).toEqual(
      expect.arrayContaining([
        'error boundary-not-polygons',
        'error soils-not-polygons',
        'error yield-not-points',
      ]),
    );
  });
});

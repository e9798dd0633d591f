import { describe, expect, it } from 'vitest';
import type { Issue } from '../../src/engine/issue.ts';
import type { Source } from '../../src/engine/layers/source.ts';
import type { DraftWords } from '../../src/plan/draft.ts';
import { draftYield } from '../../src/plan/draft-yield.ts';
import { type Drive, drive, type Header, pointFile } from '../engine/harvest/recognise/small-log.ts';

const corn: Drive = { crop: 'corn', yield_buPerAc: 190, moisture_pct: 19, swath_m: 6.096 };
const words: DraftWords = {
  name: 'Small field',
  season: 2027,
  crop: 'corn',
  soilValue: null,
  yieldColumn: {},
  yieldUnit: {},
  yieldCrop: {},
};

function drafted(source: Source, said: Partial<DraftWords> = {}) {
  const issues: Issue[] = [];
  const entry = { id: 'y', file: source.file, sha256: '0'.repeat(64) };
  const [map] = draftYield({ entry, source }, { ...words, ...said }, issues);
  return { map, codes: issues.map(({ code, severity }) => `${severity} ${code}`), issues };
}
const log = (header: Header, file?: string) => pointFile(drive(corn), header, file);

describe('a yield map of the plan to be', () => {
  it('says what its columns mean', () => {
    const { map, codes } = drafted(
      log({
        'Yield (bu/ac)': 'bu/ac dry',
        'Flow (lb/s)': 'lb/s',
        'Moisture (%)': '%',
        'Distance (ft)': 'ft dist',
        'Swath (ft)': 'ft swath',
        'Header Down': 'down',
      }),
    );
    expect(map).toMatchObject({
      column: 'Yield (bu/ac)',
      unit: 'bu/ac',
      crop: 'corn',
      take: 'column',
      moisture: 'dry',
      open: [],
      columns: {
        flow: { column: 'Flow (lb/s)', unit: 'lb/s' },
        moisture: { column: 'Moisture (%)', unit: '%' },
        distance: { column: 'Distance (ft)', unit: 'ft' },
        swath: { column: 'Swath (ft)', unit: 'ft' },
        header: { column: 'Header Down', unit: '' },
      },
    });
    expect(map.columns?.speed).toBeUndefined();
    expect(codes).toEqual(['note yield-column-guessed', 'note yield-crop-assumed']);
  });

  it('leaves open what only a person can tell, and takes no unit in doubt', () => {
    const wide = drive({ ...corn, swath_m: 12 });
    const { map, codes, issues } = drafted(
      pointFile(wide, { Yield: 'kg/ha dry', Moisture: '%', Swath: 'm swath' }),
    );
    expect(map).toMatchObject({ column: 'Yield', unit: 'unknown', moisture: 'unknown' });
    expect(map.open).toEqual(['yield unit', 'moisture basis', 'swath unit']);
    expect(map.columns?.swath).toEqual({ column: 'Swath', unit: 'unknown' });
    expect(codes.filter((code) => code === 'warning reading-open')).toHaveLength(3);
    expect(issues.find(({ found }) => found.startsWith('yield unit'))?.found).toMatch(/lb\/ac .* or kg\/ha /);
  });

  it('takes what it is told', () => {
    const source = log({ Yield: 'kg/ha dry', Other: 'kg/ha wet', Moisture: '%' });
    const unit = drafted(source, { yieldUnit: { y: 'kg/ha' } });
    expect(unit.map).toMatchObject({ column: 'Yield', unit: 'kg/ha' });
    expect(unit.map.open).toEqual(['moisture basis']);
    const both = drafted(source, {
      yieldColumn: { y: 'Other' },
      yieldUnit: { y: 'lb/ac' },
      yieldCrop: { y: 'wheat' },
    });
    expect(both.map).toMatchObject({ column: 'Other', unit: 'lb/ac', crop: 'wheat' });
    expect(drafted(source, { yieldColumn: { y: 'Gone' } }).codes).toEqual(['error yield-column-not-found']);
  });

  it('takes the planned crop out of a file of two', () => {
    const { map, codes } = drafted(
      log({ Crop: (r) => (r.time_s < 400 ? 'Soybeans' : 'Corn'), 'Dry yield bu/ac': 'bu/ac dry' }),
    );
    expect(map).toMatchObject({ crop: 'corn', where: { column: 'Crop', equals: 'Corn' }, open: ['crop'] });
    expect(codes).toContain('warning yield-crops-several');
  });

  it('takes the crop said out of a file of several, whatever is planned', () => {
    const two = log({
      Crop: (r) => (r.time_s < 400 ? 'Soybeans' : 'Corn'),
      'Dry yield bu/ac': 'bu/ac dry',
    });
    const { map, codes } = drafted(two, { yieldCrop: { y: 'soybean' } });
    expect(map).toMatchObject({
      crop: 'soybean',
      where: { column: 'Crop', equals: 'Soybeans' },
      open: expect.not.arrayContaining(['crop']),
    });
    expect(codes).toContain('note yield-crops-several');
    const none = drafted(two, { yieldCrop: { y: 'wheat' } });
    expect(none.map).toBeUndefined();
    expect(none.codes).toEqual(['error yield-crop-not-in-file']);
    expect(none.issues[0].found).toBe('no wheat in Crop, but Soybeans, Corn');
    const one = drafted(log({ Crop: () => 'Corn', 'Dry yield bu/ac': 'bu/ac dry' }), {
      yieldCrop: { y: 'soybean' },
    });
    expect([one.map.crop, one.map.where]).toEqual(['soybean', undefined]);
    expect(one.codes).toContain('warning yield-crop-contradicted');
  });

  it('reads the units of one crop of several by its own records', () => {
    // Corn in bu/ac; twice as many records of a tenth of that, which would make the median of all no corn at all.
    const records = drive(corn);
    const source = pointFile(records, {
      Crop: (r) => (r.time_s < 400 ? 'Clover' : 'Corn'),
      Yield: 'bu/ac dry',
    });
    const columns = source.columns.map((own) =>
      own.name === 'Yield' && own.kind === 'number'
        ? { ...own, values: own.values.map((value, i) => (i < 400 ? value / 10 : value)) }
        : own,
    );
    expect(drafted({ ...source, columns }).map).toMatchObject({ crop: 'corn', unit: 'bu/ac' });
  });

  it('takes a crop that is none of the usual ones by its word in the name, with a note', () => {
    const { map, issues } = drafted(log({ 'Yield (bu/ac)': 'bu/ac dry' }, 'north sorghum 2023.csv'));
    expect(map).toMatchObject({ crop: 'sorghum', year: 2023 });
    expect(issues.find(({ code }) => code === 'yield-crop-guessed')?.found).toBe('sorghum by its file name');
  });

  it('is worked out from flow where there is no column of yield', () => {
    const { map } = drafted(
      log({ 'Flow (lb/s)': 'lb/s', 'Speed (mph)': 'mph', 'Swath (ft)': 'ft swath', 'Moisture (%)': '%' }),
    );
    expect(map).toMatchObject({ take: 'flow', column: 'Flow (lb/s)', moisture: 'dry' });
    const cut = drafted(log({ 'Flow (lb/s)': 'lb/s', 'Speed (mph)': 'mph', 'Swath (ft)': 'ft swath' }));
    expect(cut.map).toMatchObject({ take: 'flow', moisture: 'wet' });
    expect(cut.issues[0].found).toContain('moisture wet as harvested');
    expect(drafted(log({ 'Flow (lb/s)': 'lb/s', 'Speed (mph)': 'mph' })).codes).toEqual([
      'error yield-column-not-found',
    ]);
  });
});

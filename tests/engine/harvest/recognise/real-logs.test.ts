import { beforeAll, describe, expect, it } from 'vitest';
import { grainRecords, harvestLog } from '../../../../src/engine/harvest/read-log.ts';
import {
  type Recognition,
  recogniseColumns,
} from '../../../../src/engine/harvest/recognise/recognise-columns.ts';
import { recogniseSource } from '../../../../src/engine/harvest/recognise/recognise-source.ts';
import { yieldFromFlow } from '../../../../src/engine/harvest/yield-from-flow.ts';
import type { Source } from '../../../../src/engine/layers/source.ts';
import { readFiles } from '../../../../src/formats/registry.ts';
import { missing, openData, openFolder } from '../../../formats/open-data.ts';

const readFirst = async (...files: Parameters<typeof readFiles>[0]) => (await readFiles(files)).sources[0];
const values = (source: Source, name: string) => {
  const column = source.columns.find((own) => own.name === name);
  return column?.kind === 'number' ? column.values : new Float64Array(0);
};

// Hegedus & Maxwell, OFPEDATA, MIT licence: barley of 2015 in Montana. Its yield is flow · 6,272,640 / (distance · swath) / 60, wet, at 60 lb a bushel.
describe.skipIf(missing('montana_barley_2015/yield_2015.zip'))('montana barley of 2015', () => {
  let source: Source;
  let seen: Recognition;
  beforeAll(async () => {
    source = await readFirst(openData('montana_barley_2015/yield_2015.zip'));
    seen = recogniseColumns(source, 'barley');
  });

  it('has its columns and units recognised, those without a unit by the physics', () => {
    const { columns } = seen;
    const found = Object.entries(columns).flatMap(([role, own]) =>
      own ? [[role, `${own.column} ${own.unit}`]] : [],
    );
    expect(Object.fromEntries(found)).toMatchObject({
      yield: 'yield bu/ac',
      flow: 'flw_lbs lb/s',
      distance: 'dist_in in',
      swath: 'swth_w_ in',
      moisture: 'moistur %',
      heading: 'hdng_dg °',
      time: 'gps_tim d',
      pass: 'pass_nm ',
      crop: 'crop ',
      quality: 'rm_code ',
      elevation: 'z_metrs m',
    });
    expect(columns.speed).toBeNull();
    expect(columns.header).toBeNull();
    expect(columns.rate).toBeNull();
    expect(seen.crop).toMatchObject({ crop: 'barley', from: 'column' });
  });

  it('is counted at 60 lb a bushel, which barley is not: that is asked', () => {
    expect(seen.check?.fits).toEqual([]);
    expect(seen.check?.otherBushel[0]).toMatchObject({ grain: { lbPerBu: 60 } });
    // The grain was drier than any base: wet and dry without expansion are one.
    expect(Math.abs((seen.check?.otherBushel[0].ratio ?? NaN) - 1)).toBeLessThan(0.005);
    expect(seen.questions).toEqual([
      {
        about: 'bushel weight',
        options: [
          { value: '60', because: expect.stringContaining('60 lb a bushel') },
          { value: '48', because: 'a bushel of the crop' },
        ],
        proposed: 0,
      },
    ]);
  });

  it('gives the yield of the file again from flow, distance and swath, record by record', () => {
    const records = grainRecords(source, seen.columns, 1);
    const again = yieldFromFlow(records, { lbPerBu: 60, baseMoisture_pct: null, expandDrier: false });
    const [own, flow, distance, swath] = ['yield', 'flw_lbs', 'dist_in', 'swth_w_'].map((name) =>
      values(source, name),
    );
    const departures: number[] = [];
    for (let i = 0; i < own.length; i++) {
      if (!(own[i] > 0)) continue;
      const said = (flow[i] * 6_272_640) / (distance[i] * swath[i]) / 60;
      // Both are products of the same four figures.
      expect(Math.abs(again[i] / said - 1)).toBeLessThan(1e-12);
      departures.push(Math.abs(again[i] / own[i] - 1));
    }
    departures.sort((a, b) => a - b);
    expect(departures.length).toBe(28_640);
    // Distances are written in whole inches of about 91: half an inch is 0.55 %.
    expect(departures[Math.floor(0.5 * departures.length)]).toBeLessThan(0.0055);
    expect(departures[Math.floor(0.99 * departures.length)]).toBeLessThan(0.0075);
    expect(departures.at(-1)).toBeLessThan(0.03);
  });

  it('is a harvest log in SI units', () => {
    const n = source.records;
    const log = harvestLog(source, seen.columns, {
      x_m: new Float64Array(n),
      y_m: new Float64Array(n),
      inside: new Uint8Array(n),
      value: values(source, 'yield'),
      buPerAcPerValue: 1,
      crop: 'barley',
    });
    // 420 in, 66 in, 4.077 lb/s.
    expect(log.swath_m?.[0]).toBeCloseTo(10.668, 6);
    expect(log.distance_m?.[0]).toBeCloseTo(1.6764, 6);
    expect(log.flow_kgPerS?.[0]).toBeCloseTo(1.849296, 6);
    // Days are written to 1e-5, 0.86 s; the first stop is after 94 records.
    const steps = Array.from(
      { length: 90 },
      (_, i) => (log.time_s?.[i + 1] ?? NaN) - (log.time_s?.[i] ?? NaN),
    );
    expect(steps.every((step) => step > 0.8 && step < 1.8)).toBe(true);
    expect(log.speed_mPerS).toBeNull();
    expect(log.header).toBeNull();
  });

  it('is a harvest, its boundary a boundary', async () => {
    expect(recogniseSource(source, 'barley')).toMatchObject({ kind: 'harvest' });
    const boundary = await readFirst(openData('montana_barley_2015/boundary.zip'));
    expect(recogniseSource(boundary, 'barley')).toMatchObject({ kind: 'boundary' });
  });
});

// Kayad et al., alfalfa in Saudi Arabia, by agridat (MIT licence): yield in t/ha without a word of it.
describe.skipIf(missing('yield_alfalfa/kayad.alfalfa.csv'))('alfalfa cut four times', () => {
  it('is a harvest whose unit has to be asked: no figures of alfalfa are known here', async () => {
    const source = await readFirst(openData('yield_alfalfa/kayad.alfalfa.csv'));
    const { columns, questions } = recogniseColumns(source, 'alfalfa');
    expect(columns.yield).toEqual({ column: 'yield', unit: 'unknown' });
    expect(questions.map(({ about }) => about)).toEqual(['yield unit']);
    expect(recogniseSource(source, 'alfalfa').kind).toBe('harvest');
  });
});

// Data Carpentry for Agriculture trial lesson, CC BY 4.0.
describe.skipIf(missing('ohio_trial/asplanted_shp/asplanted.shp'))('corn as planted in Ohio', () => {
  it('is a planting log with its rate, in seeds an acre by its figures, and no harvest', async () => {
    const source = await readFirst(...openFolder('ohio_trial/asplanted_shp'));
    const { columns, questions } = recogniseColumns(source, 'corn');
    const found = Object.entries(columns).flatMap(([role, own]) =>
      own ? [[role, `${own.column} ${own.unit}`]] : [],
    );
    expect(Object.fromEntries(found)).toEqual({
      rate: 'Rt_Apd_Ct_ seeds/ac',
      target: 'Tgt_Rate_k ks/ac',
      distance: 'Distance_f ft',
      swath: 'Swth_Wdth_ ft',
      interval: 'Duration_s s',
      speed: 'Speed_mph_ mi/h',
      heading: 'Track_deg_ °',
      elevation: 'Elevation_ ft',
      pass: 'Pass_Num ',
      date: 'Date ',
    });
    expect(questions).toEqual([]);
    expect(recogniseSource(source, 'corn')).toMatchObject({ kind: 'planted' });
  });
});

describe.skipIf(missing('ohio_trial/ssurgo_shp/ssurgo.shp'))('the other files of the Ohio field', () => {
  it.each([
    ['ohio_trial/ssurgo.geojson', 'soils'],
    ['ohio_trial/boundary.geojson', 'boundary'],
    ['ohio_trial/ssurgo_tabular/samplefield_SSURGO_mucropyld.csv', 'soil table'],
    ['ohio_trial/ssurgo_tabular/samplefield_SSURGO_muaggatt.csv', 'soil table'],
    ['ohio_trial/ssurgo_tabular/samplefield_SSURGO_component.csv', 'soil table'],
  ])('%s is %s', async (path, kind) => {
    expect(recogniseSource(await readFirst(openData(path)), 'corn').kind).toBe(kind);
  });
});

describe.skipIf(missing('trials/carmer.density.csv'))('tables of trials', () => {
  it.each(['carmer.density', 'gomez.seedrate', 'hunter.corn', 'kang.maize', 'mcleod.barley', 'gauch.soy'])(
    '%s is trials',
    async (name) => {
      expect(recogniseSource(await readFirst(openData(`trials/${name}.csv`)), 'corn').kind).toBe('trials');
    },
  );
});

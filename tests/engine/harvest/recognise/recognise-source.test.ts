import { describe, expect, it } from 'vitest';
import { recogniseSource } from '../../../../src/engine/harvest/recognise/recognise-source.ts';
import type { Source } from '../../../../src/engine/layers/source.ts';
import { table } from '../../layers/small-source.ts';
import { drive, type Header, pointFile } from './small-log.ts';

const records = drive({ crop: 'corn', yield_buPerAc: 190, moisture_pct: 18, swath_m: 9.144 });
const kind = (source: Source, crop = 'corn') => recogniseSource(source, crop).kind;
const points = (header: Header) => kind(pointFile(records, header));
const polygons = (count: number, columns: Readonly<Record<string, number | string>> = { id: 1 }) =>
  kind({
    ...table(
      Object.fromEntries(Object.entries(columns).map(([name, value]) => [name, Array(count).fill(value)])),
    ),
    shape: 'polygons',
  });

describe('what a file is', () => {
  it('points: a harvest by yield, or by flow over ground', () => {
    expect(points({ yield: 'bu/ac dry' })).toBe('harvest');
    expect(points({ 'Flow (lb/s)': 'lb/s', 'Speed (mph)': 'mph', 'Swath (ft)': 'ft swath' })).toBe('harvest');
    expect(points({ Rendimiento: 't/ha dry', Humedad: '%' })).toBe('harvest');
    // A target is no yield.
    expect(points({ 'Target Yield': 'bu/ac dry' })).toBe('unknown');
    expect(points({ elevation: 'm elev' })).toBe('unknown');
  });

  it('points: planted by a rate, samples by what a laboratory or a sensor measures', () => {
    const seeds = () => '';
    const planted = pointFile(records, { 'Swath (ft)': 'ft swath', 'Speed (mph)': 'mph', Hybrid: seeds });
    const rate = {
      name: 'Applied Rate (ks/ac)',
      kind: 'number' as const,
      values: Float64Array.from(records, () => 34),
    };
    expect(kind({ ...planted, columns: [...planted.columns, rate] })).toBe('planted');
    const soil = table({
      pH: [6.1, 6.4],
      OM: [3.1, 2.8],
      P_ppm: [21, 30],
      K_ppm: [160, 180],
      'Yield Goal': [200, 200],
    });
    expect(kind({ ...soil, shape: 'points' })).toBe('samples');
    expect(kind({ ...table({ EC_shallow: [12, 14] }), shape: 'points' })).toBe('samples');
  });

  it('polygons: soils by their keys or a rating, a boundary where there are few and no soils', () => {
    expect(polygons(1)).toBe('boundary');
    expect(polygons(5, { Field: 'North', Acres: 80 })).toBe('boundary');
    expect(polygons(9, { MUSYM: 'A1', slope: 2 })).toBe('soils');
    expect(polygons(1, { mukey: 123 })).toBe('soils');
    expect(polygons(7, { zone: 'A', CSR2: 80 })).toBe('soils');
    expect(polygons(60, { Target_Rate: 32 })).toBe('unknown');
    expect(polygons(100, { crop_code: 1 })).toBe('boundary');
    expect(polygons(3000, { id: 1 })).toBe('unknown');
  });

  it('tables: of soils by their keys, of trials, of a lineup', () => {
    expect(kind(table({ mukey: [1], cropname: ['Corn'], nonirryield_r: [150] }))).toBe('soil table');
    expect(kind(table({ cokey: [1], hzdept_r: [0] }))).toBe('soil table');
    expect(kind(table({ hybrid: ['Invented 1'], pop: [32_000], yield: [200] }))).toBe('trials');
    expect(kind(table({ product: ['Invented 1'], price_per_unit: [250] }))).toBe('lineup');
    expect(kind(table({ yield: [190], moisture: [18] }))).toBe('unknown');
    expect(kind(table({ a: [1] }))).toBe('unknown');
  });

  it('pixels and nothing', () => {
    expect(kind({ ...table({ band1: [1] }), shape: 'raster' })).toBe('raster');
    expect(kind({ ...table({ yield: [] }), shape: 'points' })).toBe('unknown');
  });

  it('says why, and how sure it is', () => {
    const found = recogniseSource(
      pointFile(records, { 'Dry yield (bu/ac)': 'bu/ac dry', 'Moisture (%)': '%' }),
      'corn',
    );
    expect(found.because).toBe('points with yield by Dry yield (bu/ac), moisture');
    expect(found.confidence).toBeGreaterThan(0.5);
    expect(found.confidence).toBeLessThan(1);
  });
});

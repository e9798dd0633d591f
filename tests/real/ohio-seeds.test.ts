import { beforeAll, describe, expect, it } from 'vitest';
import { crsToLonLat, WGS84 } from '../../src/engine/geodesy/crs.ts';
import { ringToFrame } from '../../src/engine/geodesy/field-frame.ts';
import { frameAround } from '../../src/engine/geodesy/frame-around.ts';
import { regionArea } from '../../src/engine/geometry/area.ts';
import { intersection } from '../../src/engine/geometry/overlay.ts';
import { regionFromRings } from '../../src/engine/geometry/region-from-rings.ts';
import type { Ring } from '../../src/engine/geometry/ring.ts';
import { harvestLog } from '../../src/engine/harvest/read-log.ts';
import { recogniseColumns } from '../../src/engine/harvest/recognise/recognise-columns.ts';
import { recogniseSource } from '../../src/engine/harvest/recognise/recognise-source.ts';
import type { NumberColumn, Source } from '../../src/engine/layers/source.ts';
import { M2_PER_ACRE } from '../../src/engine/math/units.ts';
import { readFiles } from '../../src/formats/registry.ts';
import { missing, openData, openFolder } from '../formats/open-data.ts';
import { asShapefile, dataPath, openGdal } from './open-fields.ts';

const numbers = (source: Source, name: string): Float64Array =>
  (source.columns.find((column) => column.name === name) as NumberColumn).values;

// Data Carpentry for Agriculture trial lesson, CC BY 4.0; acres, seeds and mean rates as worked out by the lesson's data with R, in the folder's index.
describe.skipIf(missing('ohio_trial/asplanted_shp'))('ohio_trial: what was planted', () => {
  let source: Source;
  beforeAll(async () => {
    [source] = (await readFiles(openFolder('ohio_trial/asplanted_shp'))).sources;
  });

  it('is recognised as a planting log, the rate in seeds an acre, the target in thousands', () => {
    expect(recogniseSource(source, 'corn').kind).toBe('planted');
    const { columns } = recogniseColumns(source, 'corn');
    expect(columns).toMatchObject({
      rate: { column: 'Rt_Apd_Ct_', unit: 'seeds/ac' },
      target: { column: 'Tgt_Rate_k', unit: 'ks/ac' },
      distance: { column: 'Distance_f', unit: 'ft' },
      swath: { column: 'Swth_Wdth_', unit: 'ft' },
    });
  });

  it('covers 84.754 ac and holds 2,915,795 seeds, by the columns as recognised', () => {
    const { columns } = recogniseColumns(source, 'corn');
    const none = new Float64Array(source.records);
    const log = harvestLog(source, columns, {
      x_m: none,
      y_m: none,
      inside: new Uint8Array(source.records),
      value: none,
      buPerAcPerValue: null,
      crop: null,
    });
    const rate = numbers(source, 'Rt_Apd_Ct_');
    let [acres, seeds] = [0, 0];
    for (let i = 0; i < source.records; i++) {
      const own = ((log.distance_m?.[i] ?? NaN) * (log.swath_m?.[i] ?? NaN)) / M2_PER_ACRE;
      acres += own;
      seeds += own * rate[i];
    }
    // Given to a thousandth of an acre and to the seed.
    expect(Math.abs(acres - 84.754)).toBeLessThan(0.0005);
    expect(Math.abs(seeds - 2_915_795)).toBeLessThan(0.5);
    expect(Math.abs(seeds / acres - 34_403)).toBeLessThan(0.5);
  });
});

describe.skipIf(missing('ohio_trial/trialdesign.gpkg'))('ohio_trial: what was designed', () => {
  it('asks for 2,920,906 seeds within the boundary, by our overlay', async () => {
    const [boundary] = (await readFiles([openData('ohio_trial/boundary.geojson')])).sources;
    const [design] = (
      await readFiles(await asShapefile(await openGdal(), dataPath('ohio_trial/trialdesign.gpkg')))
    ).sources;
    const lonLat = (ring: Ring): Ring => {
      const n = ring.length / 2;
      const pick = (k: number) => Float64Array.from({ length: n }, (_, i) => ring[2 * i + k]);
      const { lon, lat } = crsToLonLat(design.crs ?? WGS84, pick(0), pick(1));
      return Float64Array.from({ length: ring.length }, (_, i) => (i % 2 === 0 ? lon : lat)[i >> 1]);
    };
    const outline = boundary.rings[0] ?? [];
    const frame = frameAround(outline);
    const inFrame = (rings: readonly Ring[]) =>
      regionFromRings(
        rings.map((ring) => ringToFrame(frame, ring)),
        'test',
        { crossing: 'split' },
      ).region;
    const field = inFrame(outline);
    const rate = numbers(design, 'SEEDRATE');
    let seeds = 0;
    for (const [record, rings] of design.rings.entries()) {
      if (!rings) continue;
      const area_m2 = regionArea(intersection(inFrame(rings.map(lonLat)), field));
      if (area_m2 > 0) seeds += (area_m2 / M2_PER_ACRE) * rate[record];
    }
    // The index was worked out in UTM 17N, whose areas are 1.8e-4 smaller here (343,911 for 343,975 m²).
    expect(Math.abs(seeds / 2_920_906 - 1)).toBeLessThan(4e-4);
  });
});

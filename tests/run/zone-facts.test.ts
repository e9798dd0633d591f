import { describe, expect, it } from 'vitest';
import type { PlanInput } from '../../src/plan/schema.ts';
import type { Inputs } from '../../src/run/run.ts';
import { zoneFacts } from '../../src/run/stages/zone-facts.ts';
import { box } from '../engine/grid/shapes.ts';
import { answers, inputs, lineup, polygons, sources } from './small-field.ts';
import { walk } from './small-walk.ts';

/** The facts of the two zones (west and east half, 200 by 300 m each) under a soil map and a layer of polygons. */
async function facts(soilMap: ReturnType<typeof polygons>, change: Partial<PlanInput> = {}, own?: Inputs) {
  const results = await walk(
    change,
    own ?? { ...inputs, sources: new Map([...sources, ['soils', soilMap]]) },
  );
  if (!results.field || !results.zoning) throw new Error('no zones');
  return zoneFacts(results.field, results.zoning, results.soils, results.layers);
}

// Soil lines at x = −150 and x = 50, which no edge of a cell of 20 m meets.
const bands = (columns: Parameters<typeof polygons>[2]) =>
  polygons(
    'soils.geojson',
    [box(-200, -150, 50, 300), box(-150, -150, 200, 300), box(50, -150, 150, 300)],
    columns,
  );
const named = { MUSYM: ['Crest', 'Slope', 'Bottom'], CORN_BU: [140, 160, 200] };

describe('what is known of a zone', () => {
  it.each([0, 27])('soils by exact area, rows at %d°', async (heading_deg) => {
    const own = await facts(bands(named), { field: { boundary: 'boundary', heading_deg, cell_m: 20 } });
    const shares = own.map(({ soils }) => soils.map(({ name, share }) => [name, share]));
    // Cells of turned rows lie across the line between the zones, so there only the sum is known beforehand.
    // To a millionth: the fence and the soils are overlaid on a grid of 0.1 mm, and the soils come by way of degrees.
    for (const zone of shares)
      expect(zone.reduce((sum, [, share]) => sum + Number(share), 0)).toBeCloseTo(1, 6);
    if (heading_deg > 0) return;
    expect(shares.map((zone) => zone.map(([name]) => name))).toEqual([
      ['Crest', 'Slope'],
      ['Slope', 'Bottom'],
    ]);
    // 50 and 150 of 200 m, drawn in the plane of the field.
    expect(shares[0].map(([, share]) => share)).toEqual([expect.closeTo(0.25, 6), expect.closeTo(0.75, 6)]);
    expect(shares[1].map(([, share]) => share)).toEqual([expect.closeTo(0.25, 6), expect.closeTo(0.75, 6)]);
  });

  it('a sliver of a soil asks for care before it keeps out, by its share', async () => {
    const strip = (width: number) => ({
      ...inputs,
      sources: new Map([
        ...sources,
        [
          'soils',
          polygons('soils.geojson', [box(-200, -150, 400 - width, 300), box(200 - width, -150, width, 300)], {
            MUSYM: ['Dry', 'Wet'],
            CORN_BU: [150, 200],
          }),
        ],
      ]),
      lineup: {
        ...lineup,
        products: lineup.products.map((product) => ({
          ...product,
          placement: [
            {
              verdict: 'never' as const,
              where: [{ on: 'soil' as const, anyOf: ['Wet'] }],
              reason: 'it rots',
              by: '',
            },
          ].filter(() => product.id === 'a'),
        })),
      },
    });
    const best = async (width: number) => (await walk({}, strip(width))).placement?.[1][0].verdict;
    // Of the 200 m of the zone: 4 %, 6 %, 19 % and 21 %.
    expect(await best(8)).toBe('fits');
    expect(await best(12)).toBe('care');
    expect(await best(38)).toBe('care');
    expect(await best(42)).toBe('not here');
  });

  it('columns of numbers of the soil map, by area of what has one', async () => {
    const [west, east] = await facts(bands({ ...named, PH: [6, 7, null] }));
    const ph = (own: typeof west) => own.figures.find(({ name }) => name === 'PH');
    expect(ph(west)?.mean).toBeCloseTo((50 * 6 + 150 * 7) / 200, 6);
    expect(ph(west)?.knownShare).toBeCloseTo(1, 6);
    // Only the quarter of Slope tells.
    expect(ph(east)?.mean).toBeCloseTo(7, 9);
    expect(ph(east)?.knownShare).toBeCloseTo(0.25, 6);
  });

  it('words of the soil map by column, blanks left out; no name where the plan names no column', async () => {
    const soilMap = bands({ ...named, DRAINAGE: ['well', null, 'poor'] });
    const [west, east] = await facts(soilMap);
    expect(west.soils.map(({ words }) => words.get('DRAINAGE'))).toEqual(['well', undefined]);
    expect(east.soils.map(({ words }) => words.get('DRAINAGE'))).toEqual([undefined, 'poor']);
    const soils = { source: 'soils', column: 'CORN_BU', meaning: 'yield' as const };
    const nameless = await facts(soilMap, { evidence: { ...answers.evidence, soils } });
    expect(nameless.flatMap(({ soils: own }) => own.map(({ name }) => name))).toEqual([
      null,
      null,
      null,
      null,
    ]);
  });

  it('ground without a soil is in no share', async () => {
    const gap = polygons('soils.geojson', [box(-200, -150, 300, 300)], { MUSYM: ['Dry'], CORN_BU: [150] });
    const [west, east] = await facts(gap);
    expect(west.soils.map(({ share }) => share)).toEqual([expect.closeTo(1, 6)]);
    expect(east.soils.map(({ share }) => share)).toEqual([expect.closeTo(0.5, 6)]);
  });

  it('without soils and layers only the zone and its environment', async () => {
    const own = await facts(bands(named), { evidence: { ...answers.evidence, soils: null } });
    expect(own.map(({ zone, figures, soils }) => [zone, figures, soils])).toEqual([
      ['Poor ground', [], []],
      ['Best ground', [], []],
    ]);
    expect(own.map(({ environment_buPerAc }) => Math.round(environment_buPerAc))).toEqual([150, 200]);
  });
});

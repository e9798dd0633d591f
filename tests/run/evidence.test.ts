import { describe, expect, it } from 'vitest';
import { CLEANING_RULES } from '../../src/engine/harvest/clean-harvest.ts';
import type { Source } from '../../src/engine/layers/source.ts';
import type { PlanInput } from '../../src/plan/schema.ts';
import type { Results } from '../../src/run/results.ts';
import { box } from '../engine/grid/shapes.ts';
import { table } from '../engine/layers/small-source.ts';
import { plan } from '../plan/small-plan.ts';
import { answers, lineup, polygons, sources } from './small-field.ts';
import { cuts, grain, ground, pointFile, rasterFile, waves } from './small-harvest.ts';
import { errors, walk } from './small-walk.ts';

type Evidence = NonNullable<PlanInput['evidence']>;
type Map_ = NonNullable<Evidence['yields']>[number];

/** Walk the small field over other evidence; whatever comes of it, the account of every file closes. */
async function walkWith(
  files: Readonly<Record<string, Source>>,
  evidence: Evidence,
  more: Partial<PlanInput> = {},
): Promise<Results> {
  const listed = Object.entries(files).map(([id, { file }], k) => ({
    id,
    file,
    sha256: String(k).repeat(64),
  }));
  const kept = plan().sources.filter(({ id }) => !(id in files) && id !== 'yield');
  const own = new Map([...sources].filter(([id]) => id !== 'yield'));
  for (const [id, source] of Object.entries(files)) own.set(id, source);
  const results = await walk({ sources: [...kept, ...listed], evidence, ...more }, { lineup, sources: own });
  for (const { id, read, used, repaired, setAside } of results.sources) {
    const aside = Object.values(setAside).reduce((sum, n) => sum + n, 0);
    expect([id, used + repaired + aside]).toEqual([id, read]);
    for (const n of [used, repaired, ...Object.values(setAside)]) expect(n).toBeGreaterThanOrEqual(0);
  }
  return results;
}
const codes = ({ issues }: Results) => issues.map(({ code, severity }) => `${severity} ${code}`);
const account = ({ sources: all }: Results, id: string) => all.find((own) => own.id === id);
/** Every cell of two surfaces within a share of the other; known in the same cells. */
function expectSame(a: Float64Array, b: Float64Array, within: number): void {
  expect(a.length).toBe(b.length);
  expect(a.some((own) => !Number.isNaN(own))).toBe(true);
  a.forEach((own, cell) => {
    if (Number.isNaN(own) || Number.isNaN(b[cell])) expect([cell, own]).toEqual([cell, b[cell]]);
    else expect(Math.abs(own / b[cell] - 1)).toBeLessThanOrEqual(within);
  });
}

const rows = cuts();
const dry = rows.map((row) => waves(row));
const moisture = rows.map(({ x }) => 18 + x / 100);
const grains = rows.map((_, i) => grain(dry[i], moisture[i]));
const harvest = pointFile('harvest.csv', rows, {
  Dry: dry,
  Wet: grains.map(({ wet_kgPerHa }) => wet_kgPerHa),
  'Wet bu': grains.map(({ wet_buPerAc }) => wet_buPerAc),
  Flow: grains.map(({ flow_lbPerS }) => flow_lbPerS),
  Moisture: moisture,
  ...ground(rows),
});
const LOG: Map_['columns'] = {
  flow: { column: 'Flow', unit: 'lb/s' },
  swath: { column: 'Swath', unit: 'ft' },
  distance: { column: 'Distance', unit: 'ft' },
  interval: null,
  moisture: { column: 'Moisture', unit: '%' },
  time: { column: 'Seconds', unit: 's' },
};
const map = (change: Partial<Map_> = {}): Map_ => ({
  source: 'h',
  column: 'Dry',
  unit: 'bu/ac',
  crop: 'corn',
  delay_s: 0,
  ...change,
});
const surface = async (change: Partial<Map_>, file = harvest) => {
  const results = await walkWith({ h: file }, { yields: [map(change)] });
  expect(errors(results)).toEqual([]);
  return results.yields[0];
};

describe('the yield of a log', () => {
  it('worked out from flow, swath, distance and moisture is what the dry column says', async () => {
    const columns = LOG;
    const [column, flow] = [await surface({ columns }), await surface({ take: 'flow', columns })];
    // The same bushels another way round: rounding alone is between them.
    expectSame(flow.points.value, column.points.value, 1e-12);
    expectSame(flow.values, column.values, 1e-12);
    expect([flow.unit, column.unit]).toEqual(['bu/ac', 'bu/ac']);
    expect(flow.readings[0]).toBe('yield in bu/ac worked out from flow, dry at 15.5 %, 56 lb a bushel');
  });

  it('from flow without a column of moisture is as it was cut, and says so', async () => {
    const columns = { ...LOG, moisture: null };
    const flow = await surface({ take: 'flow', columns });
    const told = await walkWith({ h: harvest }, { yields: [map({ take: 'flow', columns })] });
    expect(codes(told)).toContain('warning yield-left-wet');
    expectSame(flow.points.value, (await surface({ column: 'Wet bu' })).points.value, 1e-12);
    expect(flow.readings[0]).toContain('wet as harvested');
  });

  it.each([
    ['flow', 'grain flow'],
    ['swath', 'swath width'],
    ['distance', 'distance travelled or speed'],
  ] as const)('from flow without %s is refused by name', async (role, named) => {
    const results = await walkWith(
      { h: harvest },
      { yields: [map({ take: 'flow', columns: { ...LOG, [role]: null } })] },
    );
    expect(errors(results)).toEqual(['yield-flow-lacks']);
    expect(results.issues.find(({ code }) => code === 'yield-flow-lacks')?.found).toBe(`no ${named}`);
    expect(results.prescription).toBeNull();
  });

  it('from flow in a unit nobody told is refused, not taken in another', async () => {
    const columns = { ...LOG, flow: { column: 'Flow', unit: 'unknown' } };
    expect(errors(await walkWith({ h: harvest }, { yields: [map({ take: 'flow', columns })] }))).toEqual([
      'yield-flow-lacks',
    ]);
  });

  it('wet, in kg/ha, is brought to the moisture it is sold at', async () => {
    const wet = await surface({ column: 'Wet', unit: 'kg/ha', moisture: 'wet', columns: LOG });
    expectSame(wet.points.value, (await surface({})).points.value, 1e-12);
    expect(wet.unit).toBe('bu/ac');
    expect(wet.readings[0]).toBe('Wet: yield in kg/ha, wet, brought to 15.5 %');
  });

  it('drier than it is sold at counts for no more than it weighs, unless the plan says so', async () => {
    const rowsDry = pointFile('harvest.csv', rows, {
      Wet: rows.map(() => 160),
      Moisture: rows.map(() => 12),
    });
    const change = {
      column: 'Wet',
      moisture: 'wet',
      columns: { moisture: { column: 'Moisture', unit: '%' } },
    } as const;
    expect((await surface(change, rowsDry)).summary.mean).toBeCloseTo(160, 9);
    // 160 · 88 / 84.5.
    expect((await surface({ ...change, expandDrier: true }, rowsDry)).summary.mean).toBeCloseTo(
      166.627_218_9,
      6,
    );
  });

  it('wet without a column of moisture stays wet, with a warning', async () => {
    const results = await walkWith({ h: harvest }, { yields: [map({ column: 'Wet bu', moisture: 'wet' })] });
    expect(codes(results)).toContain('warning yield-left-wet');
    expectSame(results.yields[0].points.value, (await surface({ column: 'Wet bu' })).points.value, 0);
  });

  it('wet with a moisture in a unit nobody told, or in no column of the file, stays wet, with the reason', async () => {
    const wet = map({ column: 'Wet bu', moisture: 'wet' });
    const why = async (moisture: { column: string; unit: string }) => {
      const results = await walkWith({ h: harvest }, { yields: [{ ...wet, columns: { moisture } }] });
      expect(errors(results)).toEqual([]);
      expectSame(results.yields[0].points.value, (await surface({ column: 'Wet bu' })).points.value, 0);
      const told = results.issues.filter(
        ({ code }) => code === 'yield-left-wet' || code === 'column-missing',
      );
      return { found: told.map(({ found }) => found), readings: results.yields[0].readings };
    };
    expect((await why({ column: 'Moisture', unit: 'unknown' })).found).toEqual([
      'no unit of moisture told of Moisture',
    ]);
    const gone = await why({ column: 'nope', unit: '%' });
    expect(gone.found).toEqual(['no column nope, named as moisture', 'no column of moisture']);
    expect(gone.readings.join()).not.toContain('nope');
  });

  it('wet at a moisture that is none is not known, and never less than nothing', async () => {
    const odd = pointFile('harvest.csv', rows, {
      Wet: rows.map(() => 160),
      Moisture: rows.map((_, i) => (i === 500 ? 120 : i === 501 ? -3 : i === 502 ? 100 : 15.5)),
    });
    const { value } = (
      await surface(
        { column: 'Wet', moisture: 'wet', columns: { moisture: { column: 'Moisture', unit: '%' } } },
        odd,
      )
    ).points;
    expect(Array.from(value.slice(499, 504))).toEqual([160, NaN, NaN, NaN, 160]);
  });

  it('counted in bushels of another weight is brought to those of the crop', async () => {
    const heavy = await surface({ bushel_lb: 60 });
    expectSame(
      heavy.points.value,
      Float64Array.from(dry, (own) => (own * 60) / 56),
      1e-12,
    );
    // Kilograms have no bushel.
    const mass = { column: 'Wet', unit: 'kg/ha' } as const;
    expectSame(
      (await surface({ ...mass, bushel_lb: 60 })).points.value,
      (await surface(mass)).points.value,
      0,
    );
  });
});

/** Records are judged by what holds of each alone, so that a test can count them. */
const FACTS = ['no-position', 'no-value', 'position-jump', 'outside-field', 'header-up'];
const cleaning = Object.fromEntries(
  CLEANING_RULES.filter(({ id }) => !FACTS.includes(id)).map(({ id }) => [id, { use: false }]),
);

describe('one file with several harvests', () => {
  // The whole field in corn, the west again in soybeans, and 30 records of wheat nobody asks for.
  const west = cuts(0);
  const all = [...rows, ...west, ...rows.slice(0, 30)];
  const crops = all.map((_, i) =>
    i < rows.length ? 'Corn' : i < rows.length + west.length ? 'Soybeans' : 'Wheat',
  );
  const file = (odd: Readonly<Record<number, number | null>> = {}) =>
    pointFile('all.csv', all, {
      Yield: all.map((row, i) => (i in odd ? odd[i] : i < rows.length ? waves(row) : 0.3 * waves(row))),
      Crop: crops,
    });
  const of = (equals: string, more: Partial<Map_> = {}) =>
    map({ column: 'Yield', where: { column: 'Crop', equals }, ...more });

  it('gives the one asked for, as if the others were not there', async () => {
    const results = await walkWith({ h: file() }, { yields: [of('corn')], cleaning });
    expect(errors(results)).toEqual([]);
    const alone = await walkWith({ h: harvest }, { yields: [map()], cleaning });
    expectSame(results.yields[0].values, alone.yields[0].values, 0);
    expect(account(results, 'h')).toMatchObject({
      read: all.length,
      used: rows.length,
      setAside: { 'another-harvest': west.length + 30 },
    });
    expect(results.yields[0].id).toBe('h · corn');
  });

  it('gives two maps, and each record one place in the account', async () => {
    // A blank in the corn, a header up in the soybeans.
    const odd = file({ 500: null, [rows.length + 500]: 0 });
    const results = await walkWith(
      { h: odd },
      { yields: [of('Corn', { year: 2024 }), of('Soybeans', { crop: 'soybean', year: 2025 })], cleaning },
    );
    expect(errors(results)).toEqual([]);
    expect(
      results.yields.map(({ id, points, summary }) => [id, points.x.length, summary.mean > 100]),
    ).toEqual([
      ['h · Corn', rows.length, true],
      ['h · Soybeans', west.length, false],
    ]);
    expect(account(results, 'h')).toMatchObject({
      read: all.length,
      used: rows.length + west.length - 2,
      setAside: { 'no-value': 1, 'header-up': 1, 'another-harvest': 30 },
    });
    expect(results.environment?.levels.map(({ id }) => id)).toEqual(['h · Corn', 'h · Soybeans']);
    // What the soybeans gave says nothing of how much corn to expect.
    expect(results.environment?.expected_buPerAc).toBe(results.environment?.levels[0].level);
  });

  it('of which none is meant is refused, and so is a column there is not', async () => {
    expect(errors(await walkWith({ h: file() }, { yields: [of('Barley')] }))).toEqual([
      'yield-no-points-inside',
    ]);
    const results = await walkWith(
      { h: file() },
      { yields: [map({ column: 'Yield', where: { column: 'Kind', equals: 'Corn' } })] },
    );
    expect(errors(results)).toEqual(['column-missing']);
  });
});

describe('the delay of the grain', () => {
  // Ten records late: what is written at a place was cut twenty metres before.
  const late = rows.map((row, i) => dry[row.pass === rows[i - 10]?.pass ? i - 10 : i]);
  const lateFile = pointFile('late.csv', rows, { Dry: late, Seconds: rows.map(({ time_s }) => time_s) });
  const timed = { columns: { time: { column: 'Seconds', unit: 's' } } };
  const rms = (layer: Awaited<ReturnType<typeof surface>>, truth: Awaited<ReturnType<typeof surface>>) => {
    const squares = [...layer.values].flatMap((own, i) => {
      const square = (own - truth.values[i]) ** 2;
      return Number.isNaN(square) ? [] : [square];
    });
    return Math.sqrt(squares.reduce((sum, own) => sum + own, 0) / squares.length);
  };

  it('by the plan moves yields back to where they were cut', async () => {
    const truth = await surface({});
    const moved = await surface({ ...timed, delay_s: 10 }, lateFile);
    expect(moved.delay).toMatchObject({ delay_s: 10, from: 'the plan' });
    const unmoved = await surface({ ...timed, delay_s: 0 }, lateFile);
    expect(unmoved.delay).toMatchObject({ delay_s: 0, from: 'the plan' });
    // Passes up and down smear the waves, some 20 bu/ac; moved back next to nothing is left but at the ends.
    expect(rms(unmoved, truth)).toBeGreaterThan(10);
    expect(rms(moved, truth)).toBeLessThan(1);
  });

  it('by the data is found where the plan does not say, and told', async () => {
    const truth = await surface({});
    const results = await walkWith({ h: lateFile }, { yields: [map({ ...timed, delay_s: null })] });
    const [layer] = results.yields;
    expect(layer.delay.from).toBe('the data');
    // Records a second: half of one is as near as it can be told.
    expect(Math.abs(layer.delay.delay_s - 10)).toBeLessThanOrEqual(0.5);
    expect(codes(results)).toContain('note delay-estimated');
    expect(rms(layer, truth)).toBeLessThan(2);
  });

  it('is not known of an even field, and nothing is moved', async () => {
    const even = pointFile('even.csv', rows, {
      Dry: rows.map(() => 180),
      Seconds: rows.map(({ time_s }) => time_s),
    });
    const layer = await surface({ ...timed, delay_s: null }, even);
    expect(layer.delay).toMatchObject({ delay_s: 0, from: 'not known' });
    expect(layer.summary).toMatchObject({ min: 180, max: 180 });
  });
});

describe('a surface of sparse points', () => {
  const sparse = Array.from({ length: 120 }, (_, i) => ({
    x: -190 + 380 * ((i * 0.618_034) % 1),
    y: -140 + (280 * i) / 119,
  }));
  const smooth = ({ x, y }: { x: number; y: number }) => 170 + 30 * Math.sin(x / 60) + 20 * Math.cos(y / 50);
  const file = (n: number) =>
    pointFile('sparse.csv', sparse.slice(0, n), { Dry: sparse.slice(0, n).map(smooth) });

  it('by kriging has a standard error everywhere and the variogram it rests on', async () => {
    const layer = await surface({ surface: 'kriging' }, file(120));
    expect(layer.variogram?.best).not.toBeNull();
    expect(layer.summary.knownShare).toBeCloseTo(1, 9);
    expect(layer.error?.every((own) => own > 0)).toBe(true);
    // Points lie within the truth of 120 to 220.
    expect(layer.summary.min).toBeGreaterThan(110);
    expect(layer.summary.max).toBeLessThan(230);
    expect(layer.summary.mean).toBeCloseTo(170, -1);
  });

  it('falls back on inverse distance where no variogram can be fitted, and tells', async () => {
    const results = await walkWith({ h: file(4) }, { yields: [map({ surface: 'kriging' })] });
    expect(codes(results)).toContain('warning variogram-not-fitted');
    const [layer] = results.yields;
    expect(layer.error).toBeNull();
    expect(layer.method).toContain('inverse distance');
    expect(layer.variogram?.reason).not.toBe('');
    expect(layer.variogram?.best).toBeNull();
  });

  it.each(['inverse-distance', 'cell-medians'] as const)('by %s has no standard error', async (method) => {
    const layer = await surface({ surface: method }, file(120));
    expect(layer.error).toBeNull();
    expect(layer.variogram).toBeNull();
    expect(layer.method).not.toBe('');
  });
});

describe('other layers', () => {
  const yields = [map()];
  const layer = (source: string, column: string) => ({ source, column, label: 'Something' });
  const rating = polygons('rated.geojson', [box(-200, -150, 100, 300), box(-100, -150, 300, 300)], {
    pH: [5, 7],
  });
  const laid = (results: Results) => results.layers[0];

  it('of polygons are shared out by area', async () => {
    const results = await walkWith({ h: harvest, l: rating }, { yields, layers: [layer('l', 'pH')] });
    expect(errors(results)).toEqual([]);
    // A quarter of the field at 5, the rest at 7.
    expect(laid(results).summary).toMatchObject({ known: 300, min: 5 });
    expect(laid(results).summary.max).toBeCloseTo(7, 9);
    expect(laid(results).summary.mean).toBeCloseTo(6.5, 6);
    expect(laid(results)).toMatchObject({ kind: 'other', id: 'l · pH', error: null });
    expect(account(results, 'l')).toMatchObject({ role: 'layer', read: 2, used: 2 });
  });

  it('of a raster are the means of its pixels', async () => {
    const raster = rasterFile('look.tif', 4, 3, [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, NaN, 12]);
    const results = await walkWith({ h: harvest, l: raster }, { yields, layers: [layer('l', 'Band 1')] });
    const { values } = laid(results);
    // Eleven pixels of twelve, each 100 by 100 m: their mean is 67/11.
    expect(laid(results).summary.mean).toBeCloseTo(67 / 11, 2);
    expect(values.some((own) => Number.isNaN(own))).toBe(true);
    expect([laid(results).summary.min, laid(results).summary.max]).toEqual([1, 12]);
  });

  it('of points are kriged as a rule, with their error', async () => {
    const some = Array.from({ length: 100 }, (_, i) => ({
      x: -180 + 40 * (i % 10),
      y: -135 + 30 * Math.floor(i / 10),
    }));
    const samples = pointFile('tests.csv', some, {
      pH: some.map(({ x, y }) => 6 + x / 400 + 0.2 * Math.sin(y / 40)),
    });
    const kriged = await walkWith(
      { h: harvest, s: samples },
      { yields, layers: [{ ...layer('h', 'Moisture'), surface: 'cell-means' }, layer('s', 'pH')] },
    );
    expect(errors(kriged)).toEqual([]);
    expect(kriged.layers.map(({ id }) => id)).toEqual(['h · Moisture', 's · pH']);
    expect(kriged.layers[0].summary.mean).toBeCloseTo(18, 0);
    expect(kriged.layers[1].error?.every((own) => own > 0)).toBe(true);
    expect(kriged.layers[1].summary.mean).toBeCloseTo(6, 1);
    // Looked at, and not counted.
    const without = await walkWith({ h: harvest, s: samples }, { yields });
    expect(kriged.environment?.values).toEqual(without.environment?.values);
    expect(kriged.ledger).toEqual(without.ledger);
    expect(account(kriged, 's')?.role).toBe('layer');
    expect(account(without, 's')?.role).toBe('not used');
  });

  it.each<[string, Source, string, string]>([
    [
      'elsewhere',
      polygons('far.geojson', [box(5000, 0, 100, 100)], { pH: [5] }),
      'pH',
      'layer-outside-field',
    ],
    ['without a place', table({ pH: [5, 6] }, 'table.csv'), 'pH', 'layer-no-place'],
    ['without the column', rating, 'OM', 'column-missing'],
  ])('%s are left out with a warning, and the run goes on', async (_, source, column, code) => {
    const results = await walkWith({ h: harvest, l: source }, { yields, layers: [layer('l', column)] });
    expect(codes(results)).toContain(`warning ${code}`);
    expect(errors(results)).toEqual([]);
    expect(results.layers).toEqual([]);
    expect(results.prescription).not.toBeNull();
    expect(account(results, 'l')?.role).toBe('not used');
  });
});

describe('layers that lie elsewhere altogether', () => {
  const east = (by_m: number) =>
    pointFile(
      'h.csv',
      rows.map(({ x, y }) => ({ x: x + by_m, y })),
      { Dry: dry },
    );

  it('a yield map 80 km off is told to be apart, with the distance', async () => {
    const results = await walkWith({ h: east(80_000) }, { yields: [map()] });
    expect(errors(results)).toEqual(['layers-apart']);
    const issue = results.issues.find(({ code }) => code === 'layers-apart');
    expect(issue?.found).toMatch(/\b(79|80)\b/);
    expect(results.environment).toBeNull();
  });

  it('one beside the field is told to be outside', async () => {
    expect(errors(await walkWith({ h: east(1500) }, { yields: [map()] }))).toEqual([
      'yield-no-points-inside',
    ]);
  });

  it('soils as far off are told to be apart, too', async () => {
    const far = polygons('soils.geojson', [box(90_000, -150, 400, 300)], { MUSYM: ['A'], CORN_BU: [150] });
    const results = await walkWith({ soils: far }, { soils: answers.evidence?.soils, yields: [] });
    expect(errors(results)).toEqual(['layers-apart']);
  });

  // West of 90° W the reader itself sees that such a latitude is none; here all lies at 80.5° W.
  const tenEast = (source: Source): Source => ({
    ...source,
    x: source.x.map((own) => own + 10),
    rings: source.rings.map(
      (rings) => rings?.map((ring) => ring.map((own, i) => own + (i % 2 === 0 ? 10 : 0))) ?? null,
    ),
  });
  const swapped = (source: Source): Source => ({
    ...source,
    x: source.y,
    y: source.x,
    rings: source.rings.map(
      (rings) => rings?.map((ring) => ring.map((_, i) => ring[i % 2 === 0 ? i + 1 : i - 1])) ?? null,
    ),
  });
  const own = (id: string) => tenEast(sources.get(id) as Source);

  it('a yield map or soils with longitude and latitude exchanged are told to be so', async () => {
    const log = tenEast(harvest);
    const evidence: Evidence = { soils: answers.evidence?.soils, yields: [map()] };
    const files = { boundary: own('boundary'), soils: own('soils'), h: log };
    expect(errors(await walkWith(files, evidence))).toEqual([]);
    expect(errors(await walkWith({ ...files, h: swapped(log) }, evidence))).toEqual(['lon-lat-swapped']);
    expect(errors(await walkWith({ ...files, soils: swapped(own('soils')) }, evidence))).toEqual([
      'lon-lat-swapped',
    ]);
  });
});

describe('years together', () => {
  /** A year that gives `west` in the west half, `east` in the east. */
  const year = (file: string, west: number, east: number, until = 200) =>
    pointFile(file, cuts(until), { Dry: cuts(until).map(({ x }) => (x < 0 ? west : east)) });
  const files = (...years: [number, number][]) =>
    Object.fromEntries(years.map(([west, east], k) => [`y${k}`, year(`y${k}.csv`, west, east)]));
  const maps = (n: number, change: Readonly<Record<number, Partial<Map_>>> = {}) =>
    Array.from({ length: n }, (_, k) => map({ source: `y${k}`, year: 2020 + k, ...change[k] }));
  const halves = ({ environment, field }: Results) => {
    const values = environment?.values ?? [];
    const area = field?.grid.area ?? [];
    let [low, high] = [Infinity, -Infinity];
    for (let cell = 0; cell < values.length; cell++) {
      if (Number.isNaN(values[cell]) || !(area[cell] > 0)) continue;
      low = Math.min(low, values[cell]);
      high = Math.max(high, values[cell]);
    }
    return [low, high];
  };
  const expected = { environment: { expected_buPerAc: 100 } };

  it('count by their weights', async () => {
    // 75 and 125, 90 and 110 about their own means: three to one is 78.75 and 121.25.
    const results = await walkWith(
      files([150, 250], [180, 220]),
      { yields: maps(2, { 0: { weight: 3 } }) },
      expected,
    );
    expect(results.environment?.levels.map(({ share }) => share)).toEqual([0.75, 0.25]);
    const [low, high] = halves(results);
    // Halves do not meet on a cell border exactly: a share of a hundredth is allowed for the level.
    expect(low).toBeCloseTo(78.75, 0);
    expect(high).toBeCloseTo(121.25, 0);
  });

  it('do not count one called unusual, or of no weight: the rest speak as if alone', async () => {
    const own = files([150, 250], [220, 180]);
    const alone = await walkWith(own, { yields: maps(1) }, expected);
    for (const change of [{ unusual: true }, { weight: 0 }, { use: false }]) {
      const results = await walkWith(own, { yields: maps(2, { 1: change }) }, expected);
      expectSame(
        results.environment?.values ?? new Float64Array(0),
        alone.environment?.values ?? new Float64Array(0),
        1e-12,
      );
      expect(results.yields).toHaveLength(2);
      expect(results.environment?.levels.map(({ share }) => share)).toEqual('use' in change ? [1] : [1, 0]);
    }
  });

  it('of which none counts say nothing, and that is told', async () => {
    const results = await walkWith(files([150, 250]), { yields: maps(1, { 0: { weight: 0 } }) }, expected);
    expect(results.environment?.from ?? 'nothing known').toBe('nothing known');
    expect(codes(results)).toContain('warning environment-unknown');
    for (const own of results.environment?.values ?? []) expect(own).toBeCloseTo(100, 9);
  });

  it('expect of the field what the years that count gave', async () => {
    const own = files([190, 210], [90, 110]);
    const mean = async (change: Partial<Map_>) =>
      (await walkWith(own, { yields: maps(2, { 1: change }) })).environment?.expected_buPerAc;
    expect(await mean({})).toBeCloseTo(150, 0);
    for (const change of [{ unusual: true }, { weight: 0 }, { use: false }, { crop: 'soybean' }])
      expect(await mean(change)).toBeCloseTo(200, 0);
  });

  it('expect by weight', async () => {
    const own = files([190, 210], [90, 110]);
    const results = await walkWith(own, { yields: maps(2, { 0: { weight: 3 } }) });
    expect(results.environment?.expected_buPerAc).toBeCloseTo(175, 0);
  });

  it.each([
    ['a yield no corn gives', { unit: 't/ha' as const }, {}],
    ['a unit nobody has settled', {}, { open: ['yield unit'] }],
    ['a crop nobody has settled', {}, { open: ['crop'] }],
  ])('count %s for the pattern alone, and say so', async (_, first, second) => {
    const own = files([190, 210], [90, 110]);
    const results = await walkWith(own, { yields: maps(2, { 0: { ...first, ...second } }) });
    expect(results.environment?.expected_buPerAc).toBeCloseTo(100, 0);
    expect(results.environment?.levels.map(({ share }) => share)).toEqual([0.5, 0.5]);
    expect(codes(results)).toContain('warning yield-level-doubtful');
  });

  it('are not judged by one called unusual, nor told of with it', async () => {
    const own = files([250, 150], [150, 250], [140, 240]);
    const results = await walkWith(own, { yields: maps(3, { 0: { unusual: true } }) });
    expect(codes(results).filter((code) => code.includes('year'))).toEqual([]);
    const levels = results.environment?.levels ?? [];
    expect(levels[1].agreement).toBeGreaterThan(0.9);
    // The odd one is still held against those that count.
    expect(levels[0].agreement).toBeLessThan(-0.9);
  });

  it('two that contradict each other are pointed out once, with both names', async () => {
    const results = await walkWith(files([150, 250], [250, 150]), { yields: maps(2) });
    const told = results.issues.filter(({ code }) => code === 'years-contradict');
    expect(told).toHaveLength(1);
    expect(told[0]).toMatchObject({ severity: 'warning', where: 'Yield 2020, Yield 2021' });
    expect(codes(await walkWith(files([150, 250], [140, 240]), { yields: maps(2) }))).not.toContain(
      'warning years-contradict',
    );
  });

  it('one unlike the others is pointed out by name, until it is called unusual', async () => {
    const own = files([150, 250], [250, 150], [140, 240]);
    const told = (results: Results) =>
      results.issues.filter(({ code }) => /^year/.test(code)).map(({ code, where }) => [code, where]);
    expect(told(await walkWith(own, { yields: maps(3) }))).toContainEqual(['year-unusual', 'Yield 2021']);
    expect(told(await walkWith(own, { yields: maps(3, { 1: { unusual: true } }) }))).toEqual([]);
  });

  it('have an error where two or more are known, and none where only soils speak', async () => {
    const own = { y0: year('y0.csv', 150, 250, -50), y1: year('y1.csv', 160, 250, -50) };
    const results = await walkWith(own, { soils: answers.evidence?.soils, yields: maps(2) });
    const { environment } = results;
    if (!environment) throw new Error('no environment');
    expect(environment.errorFrom).toBe('spread between years');
    let [known, not] = [0, 0];
    for (const [cell, years] of environment.years.entries()) {
      expect(Number.isNaN(environment.values[cell])).toBe(false);
      if (years > 0) known++;
      else not++;
      expect([years > 0, Number.isNaN(environment.error[cell])]).toEqual([years > 0, years === 0]);
    }
    expect(Math.min(known, not)).toBeGreaterThan(20);
  });

  it('have no error at all where nothing tells: soils alone', async () => {
    const { environment } = await walkWith({}, { soils: answers.evidence?.soils, yields: [] });
    expect(environment?.errorFrom).toBe('not known');
    expect(environment?.error.every(Number.isNaN)).toBe(true);
    expect(environment?.spread.every(Number.isNaN)).toBe(true);
  });
});

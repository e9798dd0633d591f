import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { strFromU8, unzipSync } from 'fflate';
import geodesic from 'geographiclib-geodesic';
import Papa from 'papaparse';
import proj4 from 'proj4';
import { read as readShapefile } from 'shapefile';
import { beforeAll, describe, expect, it } from 'vitest';
import type { FieldDesign } from '../sample-fields/generator/design.ts';
import { FIELDS, generateSampleFields } from '../sample-fields/generator/sample-fields.ts';
import { CROPS, type TrueProduct } from '../sample-fields/generator/true-products.ts';
import { toFrame } from '../src/engine/geodesy/field-frame.ts';
import { median } from '../src/engine/math/median.ts';
import { lineupSchema } from '../src/plan/lineup-schema.ts';
import { planSchema } from '../src/plan/schema.ts';
import { LAST_DIGITS, whereTheyDiffer } from './where-they-differ.ts';

const FOLDER = join(import.meta.dirname, '../sample-fields');
const bytesOf = (path: string) => new Uint8Array(readFileSync(join(FOLDER, path)));
const jsonOf = (path: string) => JSON.parse(readFileSync(join(FOLDER, path), 'utf8'));
const sha256 = (bytes: Uint8Array) => createHash('sha256').update(bytes).digest('hex');
const [marlHollow] = FIELDS;

/** Rows of a zipped yield file, by column. */
function yieldRows(folder: string, year: number): Record<string, number>[] {
  const members = unzipSync(bytesOf(`${folder}/yield-${year}.zip`));
  const csv = strFromU8(members[`yield-${year}.csv`]);
  return Papa.parse<Record<string, number>>(csv, { header: true, dynamicTyping: true, skipEmptyLines: true })
    .data;
}

describe('the sample fields as committed', () => {
  let made: Map<string, Uint8Array>;
  const committed = readdirSync(FOLDER, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && !/\.(ts|md)$/.test(entry.name))
    .map((entry) => join(entry.parentPath, entry.name).slice(FOLDER.length + 1));

  beforeAll(() => {
    made = generateSampleFields();
  }, 30_000);

  it('are what the generator makes, byte for byte but for the last digits of fits, and nothing else', () => {
    expect(committed.toSorted()).toEqual([...made.keys()].toSorted());
    const textOf = (bytes: Uint8Array) => Buffer.from(bytes).toString('latin1');
    const lineupMade = JSON.parse(strFromU8(made.get('lineup.json')!));
    expect(whereTheyDiffer(lineupMade, jsonOf('lineup.json'), LAST_DIGITS)).toEqual([]);
    // Plans name the lineup by its bytes.
    const [hashMade, hash] = [made.get('lineup.json')!, bytesOf('lineup.json')].map(sha256);
    const differing = committed.filter(
      (path) =>
        path !== 'lineup.json' &&
        textOf(made.get(path)!).replaceAll(hashMade, hash) !== textOf(bytesOf(path)),
    );
    expect(differing).toEqual([]);
  });

  it('take under 4 MB', () => {
    expect(committed.reduce((sum, path) => sum + bytesOf(path).length, 0)).toBeLessThan(4e6);
  });

  it.each(FIELDS)(
    '$folder has a plan that holds, and names its files, their bytes and their columns',
    ({ folder }) => {
      const plan = planSchema.parse(jsonOf(`${folder}/${folder}.plan.json`));
      for (const source of plan.sources) {
        expect([source.file, sha256(bytesOf(join(folder, source.file)))]).toEqual([
          source.file,
          source.sha256,
        ]);
      }
      const ids = plan.sources.map((source) => source.id);
      expect(ids).toEqual(
        expect.arrayContaining([plan.field.boundary, plan.evidence.soils!.source, 'lineup']),
      );
      for (const { source, column, year } of plan.evidence.yields) {
        expect(ids).toContain(source);
        expect(Object.keys(yieldRows(folder, year!)[0])).toContain(column);
      }
    },
  );

  it('have a lineup that holds, eight corn and six soybean', () => {
    const { products } = lineupSchema.parse(jsonOf('lineup.json'));
    expect(products.filter((product) => product.crop === 'corn')).toHaveLength(8);
    expect(products.filter((product) => product.crop === 'soybean')).toHaveLength(6);
  });
});

describe('the boundaries', () => {
  /** On the WGS 84 ellipsoid by geographiclib-geodesic (Karney 2013), international acres. */
  const acres = (ring: readonly (readonly number[])[]) => {
    const polygon = geodesic.Geodesic.WGS84.Polygon(false);
    for (const [lon, lat] of ring.slice(0, -1)) polygon.AddPoint(lat, lon);
    return (polygon.Compute(false, true).area ?? Number.NaN) / 4046.8564224;
  };
  // Corners are rounded to a centimetre: half of that along the whole of Heron Flat's edge would be 5e-5 of it.
  const nearly = (value: number, truth: number) => expect(Math.abs(value / truth - 1)).toBeLessThan(3e-5);

  it('of Marl Hollow is about 150 acres in GeoJSON, its creek cut out', () => {
    const [feature] = jsonOf('marl-hollow/boundary.geojson').features;
    const [outer, ...holes] = feature.geometry.coordinates as [number, number][][];
    expect(holes).toHaveLength(1);
    // Outer counter-clockwise (positive), hole clockwise (negative), as RFC 7946 asks.
    const total = acres(outer) + acres(holes[0]);
    expect(acres(holes[0])).toBeLessThan(0);
    expect(Math.abs(total - 150)).toBeLessThan(1);
    nearly(total, jsonOf('truth.json').fields['marl-hollow'].acres);
  });

  it('of Heron Flat is about 80 acres in UTM metres, two parts and a pond, as the package shapefile reads it', async () => {
    const members = unzipSync(bytesOf('heron-flat/boundary.zip'));
    const { features } = await readShapefile(
      Uint8Array.from(members['boundary.shp']).buffer,
      Uint8Array.from(members['boundary.dbf']).buffer,
    );
    expect(features).toHaveLength(1);
    const geometry = features[0].geometry as GeoJSON.MultiPolygon;
    expect(geometry.coordinates.map((part) => part.length).toSorted()).toEqual([1, 2]);
    const utm15 = proj4('+proj=utm +zone=15 +datum=WGS84 +units=m');
    const total = geometry.coordinates
      .flatMap((part) =>
        part.map((ring, k) => (k === 0 ? 1 : -1) * Math.abs(acres(ring.map((at) => utm15.inverse(at))))),
      )
      .reduce((a, b) => a + b, 0);
    expect(Math.abs(total - 80)).toBeLessThan(1);
    nearly(total, jsonOf('truth.json').fields['heron-flat'].acres);
  });
});

describe('the lineup', () => {
  const { products } = lineupSchema.parse(jsonOf('lineup.json'));
  const responseOf = (name: string) => products.find((product) => product.name === name)!.response!;
  type Response = ReturnType<typeof responseOf>;
  const FIGURES = ['level', 'level per environment', 'stand', 'stand per environment', 'bend'];
  /** Stands in thousands. */
  const figuresOf = (own: Response) => [
    own.level_buPerAc,
    own.levelPerEnvironment,
    own.stand_plantsPerAc / 1000,
    own.standPerEnvironment_plantsPerAc / 1000,
    own.bend!,
  ];
  const errorsOf = ({ uncertainty }: Response) =>
    [0, 2, 5, 9, 14].map((at, k) => Math.sqrt(uncertainty!.covariance[at]) / (k === 2 || k === 3 ? 1000 : 1));
  /** By product: figures less the true ones where the lineup states its own, and its standard errors. */
  const offTruth = () =>
    (jsonOf('truth.json').products as TrueProduct[]).map(({ name, crop, ...own }) => {
      const response = responseOf(name);
      const away = response.reference_buPerAc - CROPS[crop].reference_buPerAc;
      const truth = [
        own.yield_buPerAc + own.yieldPerEnvironment * away,
        own.yieldPerEnvironment,
        own.optimum_k + own.optimumPerEnvironment_k * away,
        own.optimumPerEnvironment_k,
        own.curvature,
      ];
      const off = figuresOf(response).map((figure, k) => figure - truth[k]);
      return { name, crop, truth, off, errors: errorsOf(response) };
    });

  it.each([
    [
      'Plover 108',
      [194.656685, 0.90754415, 31.5531137, 0.0321302181, 0.164781333],
      [1.04640113, 0.0216680129, 0.194016335, 0.00501398437, 0.0103806936],
      [2.6933487, 5.98732877],
    ],
    [
      'Bittern 112',
      [204.045368, 1.12534425, 36.3207428, 0.0472457857, 0.123145589],
      [1.11343107, 0.0255192008, 0.492695356, 0.00800244364, 0.0114548855],
      [3.01307373, 6.48321772],
    ],
    [
      'Whinchat 26',
      [59.8983878, 1.00339877, 117.689757, -1.05315955, 0.00115788822],
      [0.40611152, 0.0293167867, 1.63646557, 0.154824063, 9.86384246e-5],
      [1.10862318, 2.05142832],
    ],
  ])(
    'has the curve that the plots of %s show, drawn a little towards the others',
    (name, figures, errors, spreads) => {
      // Expected: the product's plots alone, by restricted likelihood from lme4 1.1-31 (tests/reference/fits.R), at the reference of
      // the lineup. Products tried at all 12 sites lean little: less than a standard error.
      const response = responseOf(name);
      figuresOf(response).forEach((own, k) => {
        expect(Math.abs(own - figures[k]), `${name} ${FIGURES[k]}`).toBeLessThan(errors[k]);
      });
      // What sites and plots differ by is not drawn.
      const { siteSd_buPerAc, plotSd_buPerAc } = response.uncertainty!;
      expect(Math.abs(siteSd_buPerAc / spreads[0] - 1)).toBeLessThan(1e-6);
      expect(Math.abs(plotSd_buPerAc / spreads[1] - 1)).toBeLessThan(1e-6);
      // The group makes stand and bend surer, never twice as sure; the level's errors are written wider, for it has fewer degrees of freedom.
      errorsOf(response).forEach((own, k) => {
        expect(own / errors[k], `${name} ${FIGURES[k]}`).toBeGreaterThan(0.5);
        expect(own / errors[k], `${name} ${FIGURES[k]}`).toBeLessThan(1.2);
      });
    },
  );

  it('is near the true products, and not them', () => {
    // 3.5 standard deviations of fit less truth, measured over 60 other seeds of the same trials (all products, the newcomer too).
    const within = { corn: [4.9, 0.097, 1.2, 0.0176, 0.25], soybean: [1.3, 0.095, 8.2, 0.84, 0.41] };
    for (const { name, crop, truth, off } of offTruth()) {
      off.forEach((own, k) => {
        const limit = within[crop][k] * (k === 4 ? truth[k] : 1);
        expect(Math.abs(own), `${name} ${FIGURES[k]}`).toBeLessThan(limit);
        expect(own).not.toBe(0);
      });
    }
  });

  it('is as sure of its curves as it says', () => {
    const inErrors = offTruth().flatMap(({ off, errors }) => off.map((own, k) => own / errors[k]));
    // Student's t of the 26 degrees of the newcomer is beyond 4.2 once in 3600, and there are 70 figures (R 4.2.2: 2 * pt(-4.2, 26)).
    for (const own of inErrors) expect(Math.abs(own)).toBeLessThan(4.2);
    // Over 60 other seeds the mean square was 1.05.
    const meanSquare = inErrors.reduce((sum, own) => sum + own * own, 0) / inErrors.length;
    expect(meanSquare).toBeGreaterThan(0.4);
    expect(meanSquare).toBeLessThan(2);
  });

  it('leans as published: the best stand of corn rises with the ground, that of soybean falls', () => {
    // Bullock et al. 1998 (Agron J 90:830), +30 plants/ac per bu/ac; Carciochi et al. 2019, −24 % from low to high yield.
    for (const { crop, response } of products) {
      expect(Math.sign(response!.standPerEnvironment_plantsPerAc)).toBe(crop === 'corn' ? 1 : -1);
    }
  });
});

describe('the yield files', () => {
  const FT2_PER_AC = 43560;
  const LB_PER_KG = 1 / 0.45359237;

  it.each([
    {
      folder: 'marl-hollow',
      year: 2022,
      dry: (r: Record<string, number>) => r['dry yield bu/ac'] * 56,
      lb: (r: Record<string, number>) => (r['grain flow lb/s'] * (100 - r['moisture %'])) / 84.5,
      ft2: (r: Record<string, number>) => r['distance ft'] * r['swath ft'],
    },
    {
      folder: 'marl-hollow',
      year: 2023,
      dry: (r: Record<string, number>) => (r['yield_dry_t_ha'] * 1000 * LB_PER_KG) / 2.471053814671653,
      lb: (r: Record<string, number>) => (r['flow_kg_s'] * LB_PER_KG * (100 - r['moisture_pct'])) / 84.5,
      ft2: (r: Record<string, number>) => (r['distance_m'] * r['swath_m']) / 0.3048 ** 2,
    },
    {
      folder: 'marl-hollow',
      year: 2024,
      dry: (r: Record<string, number>) => r['YIELD_BU'] * 56,
      lb: (r: Record<string, number>) => (2 * r['FLOW_LB_S'] * (100 - r['MOIST_PCT'])) / 84.5,
      ft2: (r: Record<string, number>) => (r['DIST_IN'] * r['SWATH_IN']) / 144,
    },
    {
      folder: 'heron-flat',
      year: 2022,
      dry: (r: Record<string, number>) => r['yield lb/ac'],
      lb: (r: Record<string, number>) => (r['flow lb/s'] * (100 - r['moisture %'])) / 87,
      ft2: (r: Record<string, number>) => (r['distance in'] * r['swath in']) / 144,
    },
    {
      folder: 'heron-flat',
      year: 2024,
      dry: (r: Record<string, number>) => r['yield bu/ac'] * 60,
      lb: (r: Record<string, number>) => (2 * r['flow lb/s'] * (100 - r['moisture %'])) / 87,
      ft2: (r: Record<string, number>) => r['distance ft'] * r['swath ft'],
    },
  ])(
    'agree with themselves: $folder $year is flow over ground at base moisture',
    ({ folder, year, dry, lb, ft2 }) => {
      // 56 lb at 15.5 % and 60 lb at 13 %: the bushels of the University of Wisconsin's Harvest Math 101.
      const rows = yieldRows(folder, year).filter((r) => dry(r) > 0 && ft2(r) > 50);
      const ratios = rows.map((r) => lb(r) / (ft2(r) / FT2_PER_AC) / dry(r));
      // Columns are rounded; the middle of many thousand is not moved by that as much as 2 in 1000.
      expect(Math.abs(median(ratios) - 1)).toBeLessThan(0.002);
    },
  );

  const seen = (field: FieldDesign, lon: number[], lat: number[]) => {
    const { x, y } = toFrame(field.centre, Float64Array.from(lon), Float64Array.from(lat));
    const h = (field.heading_deg * Math.PI) / 180;
    return lon.map((_, i): [number, number] => [
      x[i] * Math.cos(h) - y[i] * Math.sin(h),
      x[i] * Math.sin(h) + y[i] * Math.cos(h),
    ]);
  };

  it.each([
    { folder: 'marl-hollow', year: 2022, flow: 'grain flow lb/s', pass: 'pass', interval_s: 1, delay_s: 12 },
    { folder: 'marl-hollow', year: 2023, flow: 'flow_kg_s', pass: 'pass', interval_s: 1, delay_s: 4 },
    { folder: 'marl-hollow', year: 2024, flow: 'FLOW_LB_S', pass: 'PASS', interval_s: 2, delay_s: 10 },
    { folder: 'heron-flat', year: 2022, flow: 'flow lb/s', pass: 'pass', interval_s: 1, delay_s: 11 },
    { folder: 'heron-flat', year: 2024, flow: 'flow lb/s', pass: 'pass', interval_s: 2, delay_s: 9 },
  ])('come late: in $folder $year grain is half there $delay_s s into a pass', (file) => {
    const { folder, year, flow, pass, interval_s, delay_s } = file;
    const rows = yieldRows(folder, year);
    const starts = rows.flatMap((row, i) => (i > 0 && row[pass] !== rows[i - 1][pass] ? [i] : []));
    const usual = median(rows.map((row) => row[flow]));
    // The middle of all passes: single ones start slowly, or on ground already cut.
    const filling = Array.from({ length: 24 / interval_s }, (_, k) =>
      median(starts.flatMap((i) => (i + k < rows.length ? [rows[i + k][flow] / usual] : []))),
    );
    const after = filling.findIndex((share) => share >= 0.5);
    const [low, high] = [filling[after - 1], filling[after]];
    const half_s = interval_s * (after - 0.5 + (0.5 - low) / (high - low));
    // Speed climbs through the first seconds, and records hold one or two of them.
    expect(Math.abs(half_s - delay_s)).toBeLessThan(1.5);
    const { years } = jsonOf('truth.json').fields[folder];
    expect(years.find((season: { year: number }) => season.year === year).delay_s).toBe(delay_s);
  });

  it('hold the usual errors', () => {
    const rows = yieldRows('marl-hollow', 2022);
    const count = (test: (r: Record<string, number>) => boolean) => rows.filter(test).length;
    expect(count((r) => r['longitude'] === 0 && r['latitude'] === 0)).toBeGreaterThanOrEqual(3);
    expect(count((r) => r['header down'] === 0)).toBeGreaterThan(1000);
    expect(count((r) => r['header down'] === 1 && r['dry yield bu/ac'] < 5)).toBeGreaterThan(300);
    expect(count((r) => r['distance ft'] === 0)).toBeGreaterThan(50);
    expect(count((r) => r['dry yield bu/ac'] > 400)).toBeGreaterThan(20);
    const jumps = rows.filter(
      (r, i) => i > 0 && r['latitude'] !== 0 && Math.abs(r['latitude'] - rows[i - 1]['latitude']) > 3e-4,
    );
    expect(jumps.length).toBeGreaterThan(5);
  });

  it('show the low ground of Marl Hollow drowned in 2023 and only then', () => {
    const share = (year: number, lon: string, lat: string, column: string) => {
      const rows = yieldRows('marl-hollow', year);
      const at = seen(
        marlHollow,
        rows.map((r) => r[lon]),
        rows.map((r) => r[lat]),
      );
      const low = rows.filter((_, i) => Math.hypot((at[i][0] + 252) / 30, (at[i][1] + 108) / 18) < 1);
      return median(low.map((r) => r[column])) / median(rows.map((r) => r[column]));
    };
    expect(share(2022, 'longitude', 'latitude', 'dry yield bu/ac')).toBeGreaterThan(0.9);
    expect(share(2023, 'lon', 'lat', 'yield_dry_t_ha')).toBeLessThan(0.4);
    expect(share(2024, 'LONGITUDE', 'LATITUDE', 'YIELD_BU')).toBeGreaterThan(0.9);
  });
});

import { createHash } from 'node:crypto';
import { beforeAll, describe, expect, it } from 'vitest';
import type { FileBytes } from '../../src/formats/file-bytes.ts';
import { type HandOffDocument, MANIFEST } from '../../src/jobs/hand-off-document.ts';
import { prove } from '../../src/jobs/prove.ts';
import { writeHandOff } from '../../src/jobs/write-hand-off.ts';
import type { PlanInput } from '../../src/plan/schema.ts';
import type { Results } from '../../src/run/results.ts';
import { type Inputs, run } from '../../src/run/run.ts';
import { box } from '../engine/grid/shapes.ts';
import { plan } from '../plan/small-plan.ts';
import { answers, inputs, lineup, polygons, sources } from '../run/small-field.ts';

const own = plan(answers);
const text = ({ bytes }: FileBytes) => new TextDecoder().decode(bytes);
const file = (name: string, words: string) => ({ name, bytes: new TextEncoder().encode(words) });

let results: Results;
let files: readonly FileBytes[];
beforeAll(async () => {
  results = await run(own, inputs);
  files = (await writeHandOff(own, results)).files;
});

const manifestOf = (of: readonly FileBytes[]): HandOffDocument =>
  JSON.parse(text(of.find(({ name }) => name === MANIFEST) as FileBytes));

/** The hand-off with files put in place of others, and the manifest's sizes and sums made to fit: only their content can give them away. */
function forged(
  put: readonly FileBytes[],
  change: (manifest: HandOffDocument) => void = () => {},
): FileBytes[] {
  const all = files.map((old) => put.find(({ name }) => name === old.name) ?? old);
  const manifest = manifestOf(files);
  for (const listed of manifest.files) {
    const { bytes } = all.find(({ name }) => name === listed.name) as FileBytes;
    listed.bytes = bytes.length;
    listed.sha256 = createHash('sha256').update(bytes).digest('hex');
  }
  change(manifest);
  return all.map((old) => (old.name === MANIFEST ? file(MANIFEST, JSON.stringify(manifest)) : old));
}

const failed = async (of: readonly FileBytes[], alsoThere: readonly string[] = []) =>
  (await prove(of, {}, alsoThere)).checks.filter((check) => !check.ok).map((check) => check.what);
const replaced = (name: RegExp, change: (words: string) => string) => {
  const old = files.find((candidate) => name.test(candidate.name)) as FileBytes;
  const words = change(text(old));
  expect(words).not.toBe(text(old));
  return file(old.name, words);
};

describe('a hand-off', () => {
  it.each(['cells', 'zones'] as const)('of %s is proved, and released', async (shape) => {
    const of = plan({ ...answers, handoff: { shape } });
    const { files: written, issues } = await writeHandOff(of, await run(of, inputs));
    expect(issues).toEqual([]);
    expect((await prove(written)).ok).toBe(true);
  });
  it.each([7, 33, 61])('turned to a heading of %d degrees is proved', async (heading_deg) => {
    const of = plan({ ...answers, field: { boundary: 'boundary', heading_deg, cell_m: 13 } });
    expect((await writeHandOff(of, await run(of, inputs))).issues).toEqual([]);
  });
  it('names 200 cells of the grid, or all there are, and not by their polygons', () => {
    const { spots } = manifestOf(files);
    expect(spots.length).toBe(200);
    expect(new Set(spots.map(({ lon, lat }) => `${lon} ${lat}`)).size).toBe(200);
    // The west half is the poor zone, 1; the field is centred on −90.5.
    for (const { lon, zone } of spots) expect(zone).toBe(lon < -90.5 ? 1 : 2);
  });
  it('draws other spots from another seed', async () => {
    const other = await writeHandOff(plan({ ...answers, seed: 2 }), results);
    expect(manifestOf(other.files).spots).not.toEqual(manifestOf(files).spots);
  });
});

type Prescription = NonNullable<Results['prescription']>;
const withheld = async (change: (prescription: Prescription) => Prescription) => {
  const { files: none, issues } = await writeHandOff(own, {
    ...results,
    prescription: change(results.prescription ?? []),
  });
  expect(none).toEqual([]);
  return issues.map(({ found }) => found.split(':')[0]);
};

describe('polygons that sum up rightly and lie wrongly are withheld', () => {
  const moved = (east_m: number, north_m: number) => (prescription: Prescription) =>
    prescription.map((feature) => ({
      ...feature,
      polygons: feature.polygons.map(({ outer, holes }) => ({
        outer: outer.map((value, i) => value + (i % 2 === 0 ? east_m : north_m)),
        holes,
      })),
    }));
  it.each([
    ['2 mm east', 0.002, 0],
    ['2 mm west', -0.002, 0],
    ['a metre north', 0, 1],
    ['2 mm south', 0, -0.002],
  ])('the whole field %s', async (_, east, north) => {
    expect(await withheld(moved(east, north))).toContain('extent, degrees');
  });
  it('two zones of one size, one in the place of the other', async () => {
    const found = await withheld((prescription) => {
      const twin = (zone: number) => {
        const { product, seedsPerAc } = prescription.find(
          (feature) => feature.zone === zone,
        ) as Prescription[0];
        return { zone, product, seedsPerAc };
      };
      return prescription.map((feature) => ({ ...feature, ...twin(1 - feature.zone) }));
    });
    expect(new Set(found)).toEqual(
      new Set(['spots in one polygon, of the zone, product and rate of their cell']),
    );
  });
  it('one polygon over another, and a gap in its own place', async () => {
    const found = await withheld((prescription) => {
      const poor = prescription.flatMap((feature, k) => (feature.zone === 0 ? [k] : []));
      const [from, onto] = [poor[40], poor[41]];
      return prescription.map((feature, k) =>
        k === from ? { ...feature, polygons: prescription[onto].polygons } : feature,
      );
    });
    expect(found).toContain('polygons over one another');
  });
});

describe('prove', () => {
  it('tells two files apart by a tenth of a millimetre or a letter', async () => {
    const nudge = (words: string) =>
      words.replace(/(\[\[\[-90\.\d{7})(\d)/, (_, head, digit) => `${head}${(Number(digit) + 5) % 10}`);
    expect(await failed(forged([replaced(/geojson$/, nudge)]))).toEqual([
      'polygons with the same rings in both',
    ]);
    const rename = (words: string) => words.replace('"ZONENAME":"Poor ground"', '"ZONENAME":"Pore ground"');
    expect(await failed(forged([replaced(/geojson$/, rename)]))).toEqual([
      'polygons with the same attributes in both',
    ]);
  });
  it('reads ledger.csv back, row by row', async () => {
    for (const change of [
      (words: string) => words.replace('Poor ground', 'Pore ground'),
      (words: string) => words.replace(/(\d)\.(\d)/, '$1.9$2'),
      (words: string) => `${words}3,Third,A,1,1,1,1,1,1,1,1\r\n`,
      (words: string) => words.split('\r\n').slice(0, 2).join('\r\n'),
    ])
      expect(await failed(forged([replaced(/^ledger\.csv$/, change)]))).toEqual(['rows as in the manifest']);
  });
  it('checks units and cost by the seeds, the size of a unit and its price', async () => {
    const price = forged([], ({ ledger }) => {
      ledger.byProduct[0].pricePerUnit += 1;
    });
    expect(await failed(price)).toEqual([
      'zones whose units and cost follow from their seeds',
      'products whose units and cost follow from their seeds',
      'order lines that hold the seed planted and its spare, and no whole unit or box more',
    ]);
    const size = forged([], ({ ledger }) => {
      ledger.byProduct[0].seedsPerUnit *= 2;
    });
    expect((await failed(size)).length).toBe(3);
  });
  it('checks that the order holds the seed, and no whole unit more than it', async () => {
    for (const units of [-1, 1, 0.5]) {
      const order = forged([], ({ ledger }) => {
        const [line] = ledger.order;
        line.cost *= (line.units + units) / line.units;
        line.units += units;
      });
      expect(await failed(order)).toEqual([
        'order lines that hold the seed planted and its spare, and no whole unit or box more',
      ]);
    }
  });
  it('fails without a spot to try, and with a spot of another rate', async () => {
    const what = 'spots in one polygon, of the zone, product and rate of their cell';
    const none = forged([], (manifest) => {
      manifest.spots = [];
    });
    expect(await failed(none)).toEqual([what, what]);
    const other = forged([], ({ spots }) => {
      spots[7].seedsPerAc += 250;
    });
    expect(await failed(other)).toEqual([what, what]);
  });
  it('names files in the folder of the planter that the manifest does not list', async () => {
    const { checks } = await prove(files, {}, ['planter/old.shp', 'notes.txt']);
    expect(checks.filter((check) => !check.ok)).toMatchObject([
      { file: 'planter/', found: 'planter/old.shp' },
    ]);
    expect(await failed([...files, file('planter/old.dbf', '')])).toEqual([
      'files the manifest does not list',
    ]);
  });
});

describe('odd plans are proved too', () => {
  const handOff = async (change: Partial<PlanInput>, of: Inputs = inputs) => {
    const odd = plan({ ...answers, ...change });
    const walked = await run(odd, of);
    const { issues } = await writeHandOff(odd, walked);
    return { issues, cells: walked.prescription?.length ?? 0 };
  };
  const field = (x: number, y: number, wide: number, high: number): Inputs => ({
    lineup,
    sources: new Map([...sources, ['boundary', polygons('boundary.geojson', [box(x, y, wide, high)])]]),
  });
  it('cells of a metre, each a quarter of a thousandth of an acre', async () => {
    const small = await handOff(
      { field: { boundary: 'boundary', heading_deg: 20, cell_m: 1 } },
      field(-15, -15, 30, 30),
    );
    expect(small.issues).toEqual([]);
    expect(small.cells).toBeGreaterThan(800);
  });
  it('a strip narrower than a cell', async () => {
    expect((await handOff({}, field(-100, 0, 200, 5))).issues).toEqual([]);
  });
  it('a product of forty letters, all of them accented', async () => {
    const long = {
      ...lineup,
      products: lineup.products.map((product, k) => ({ ...product, name: 'É'.repeat(39) + k })),
    };
    expect((await handOff({}, { ...inputs, lineup: long })).issues).toEqual([]);
  });
});

import type { Feature, MultiPolygon, Polygon } from 'geojson';
import type { Source } from '../engine/layers/source.ts';
import { M2_PER_ACRE } from '../engine/math/units.ts';
import type { FileBytes } from '../formats/file-bytes.ts';
import { readFiles } from '../formats/registry.ts';
import { sha256Hex } from '../formats/sha256.ts';
import type { RunControl } from '../run/walk.ts';
import {
  AREA_DECIMALS,
  type HandOffDocument,
  handOffSchema,
  LEDGER_TABLE,
  MANIFEST,
  PLANTER,
} from './hand-off-document.ts';
import { filesAgree } from './proof/files-agree.ts';
import { ledgerCloses } from './proof/ledger-closes.ts';
import { ledgerTable } from './proof/ledger-table.ts';
import { type Found, measureFeatures } from './proof/measure-features.ts';
import { countMisplacedSpots } from './proof/misplaced-spots.ts';
import { readGeojsonPlainly, readShapefileElsewhere } from './proof/other-readers.ts';
import { overlap_m2 } from './proof/overlap.ts';
import { sameExtent } from './proof/same-extent.ts';

/** What an independent reader found in the written bytes, against the ledger. */
export interface Proof {
  readonly ok: boolean;
  /** Checks made by readers or measures that are not ours: shpjs, the platform's JSON, GeographicLib, turf. */
  readonly byOthers: number;
  readonly checks: readonly ProofCheck[];
}

export interface ProofCheck {
  readonly file: string;
  readonly what: string;
  readonly expected: string;
  readonly found: string;
  readonly ok: boolean;
}

type Shape = Feature<Polygon | MultiPolygon>;

/** Written degrees have nine decimals (0.1 mm), so areas agree far closer than this share of the field. */
const AREA_SHARE = 1e-4;
/** Seeds by the written polygons against the ledger's whole seeds. */
const SEED_SHARE = 5e-4;
/** Polygons over one another, as a share of the field and m²: the union works in steps of 0.1 mm (0.15 m² were seen on 482 ha). */
const OVERLAP_SHARE = 1e-6;
const OVERLAP_M2 = 0.1;

/**
 * Prove a hand-off from its bytes alone: the manifest's ledger against itself and against ledger.csv; sizes and SHA-256 against the manifest; the
 * shapefile read by shpjs and the GeoJSON by the platform's own JSON, polygon by polygon against each other, each measured on the ellipsoid by
 * GeographicLib and added up against the manifest's ledger, in the field's extent, with the manifest's spots where the grid has them; no polygon over
 * another. Only files the manifest lists are read. `alsoThere` names files beside them; any in the planter's folder fails the proof. Never throws for
 * bad bytes: a file that cannot be read is a check that fails.
 */
export async function prove(
  files: readonly FileBytes[],
  control: RunControl = {},
  alsoThere: readonly string[] = [],
): Promise<Proof> {
  const checks: ProofCheck[] = [];
  let byOthers = 0;
  const say = (share: number, step: string) => control.onProgress?.({ step, share });
  const manifest = readManifest(files, checks);
  if (!manifest) return { ok: false, byOthers, checks };
  say(0.1, 'Proving: sums of the files');
  const names = [...files.map((file) => file.name), ...alsoThere];
  checks.push(...ledgerCloses(manifest.ledger, MANIFEST), areaInAcres(manifest), noStrays(manifest, names));
  await checkBytes(files, manifest, checks);
  if (checks.some((check) => !check.ok)) return { ok: false, byOthers, checks };
  const table = files.find((file) => file.name === LEDGER_TABLE);
  checks.push(ledgerTable(manifest.ledger, LEDGER_TABLE, table?.bytes ?? new Uint8Array()));

  const layers: { file: string; features: Shape[] }[] = [];
  const shp = manifest.files.find((file) => file.name.endsWith('.shp'))?.name ?? '';
  const geojson = manifest.files.find((file) => file.name.endsWith('.geojson'))?.name ?? '';
  say(0.2, 'Proving: reading the shapefile back');
  // The other reader hangs on broken files, so ours looks first; the sums above already say these are the bytes written.
  const strict = await readFiles(files.filter(({ name }) => name.startsWith(PLANTER)));
  const complaint = strict.issues.find((issue) => issue.severity === 'error');
  if (complaint)
    checks.push({
      file: shp,
      what: 'strict reading',
      expected: 'no complaint',
      found: complaint.found,
      ok: false,
    });
  else
    await attempt(shp, async () => ({
      file: `${shp} (shpjs)`,
      features: await readShapefileElsewhere(files, shp),
    }));
  for (const source of strict.sources) {
    say(0.4, 'Proving: no polygon over another');
    await breath();
    checks.push(noOverlap(shp, source, manifest));
  }
  say(0.5, 'Proving: reading the GeoJSON back');
  await attempt(geojson, async () => ({ file: geojson, features: readGeojsonPlainly(files, geojson) }));

  const before = checks.length;
  for (const [k, layer] of layers.entries()) {
    await breath();
    say(0.6 + 0.15 * k, `Proving: measuring ${layer.file}`);
    compare(layer.file, measureFeatures(layer.features), layer.features.length, manifest, checks);
    checks.push(
      sameExtent(layer.file, layer.features, manifest.field),
      spotsHeld(layer.file, layer.features, manifest),
    );
  }
  if (layers.length === 2) {
    await breath();
    say(0.9, 'Proving: one file against the other');
    checks.push(...filesAgree(`${shp}, ${geojson}`, layers[0].features, layers[1].features));
  }
  byOthers = checks.length - before;
  say(1, 'Proved');
  return { ok: layers.length === 2 && checks.every((check) => check.ok), byOthers, checks };

  /** Let the page or a cancel have its turn. */
  async function breath(): Promise<void> {
    await new Promise((resolve) => setTimeout(resolve, 0));
    control.signal?.throwIfAborted();
  }

  async function attempt(file: string, read: () => Promise<(typeof layers)[number]>): Promise<void> {
    try {
      layers.push(await read());
    } catch (thrown) {
      checks.push({
        file,
        what: 'reading back',
        expected: 'a layer of polygons',
        found: thrown instanceof Error ? thrown.message : String(thrown),
        ok: false,
      });
    }
  }
}

function readManifest(files: readonly FileBytes[], checks: ProofCheck[]): HandOffDocument | null {
  const file = files.find((candidate) => candidate.name === MANIFEST);
  const fail = (found: string) => {
    checks.push({
      file: MANIFEST,
      what: 'manifest',
      expected: 'a hand-off document, version 1',
      found,
      ok: false,
    });
    return null;
  };
  if (!file) return fail('no such file');
  try {
    const parsed = handOffSchema.safeParse(JSON.parse(new TextDecoder().decode(file.bytes)));
    return parsed.success ? parsed.data : fail(parsed.error.issues[0].message);
  } catch {
    return fail('no JSON');
  }
}

/** The planter reads whatever is in its folder. */
function noStrays({ files }: HandOffDocument, names: readonly string[]): ProofCheck {
  const strays = names.filter(
    (name) => name.startsWith(PLANTER) && !files.some((file) => file.name === name),
  );
  return {
    file: PLANTER,
    what: 'files the manifest does not list',
    expected: 'none',
    found: strays.length > 0 ? strays.join(', ') : 'none',
    ok: strays.length === 0,
  };
}

function noOverlap(file: string, source: Source, { field }: HandOffDocument): ProofCheck {
  const most = field.area_m2 * OVERLAP_SHARE + OVERLAP_M2;
  const found = overlap_m2(source, field.extent);
  return {
    file,
    what: 'polygons over one another',
    expected: `0 m², to ${most.toFixed(3)}`,
    found: `${found.toFixed(3)} m²`,
    ok: Math.abs(found) <= most,
  };
}

function spotsHeld(file: string, features: readonly Shape[], { spots }: HandOffDocument): ProofCheck {
  const misplaced = countMisplacedSpots(spots, features);
  return {
    file,
    what: 'spots in one polygon, of the zone, product and rate of their cell',
    expected: `${spots.length} of ${spots.length}`,
    found: `${spots.length - misplaced} of ${spots.length}`,
    ok: spots.length > 0 && misplaced === 0,
  };
}

/** The field's two areas say the same, and the ledger covers it. */
function areaInAcres({ field, ledger }: HandOffDocument): ProofCheck {
  const acres = [field.area_m2 / M2_PER_ACRE, field.acres, ledger.total.acres];
  return {
    file: MANIFEST,
    what: 'area of the field, its acres and the ledger’s',
    expected: acres[0].toFixed(6),
    found: acres
      .slice(1)
      .map((value) => value.toFixed(6))
      .join(', '),
    ok: acres.every((value) => Math.abs(value - acres[0]) <= 1e-8 * acres[0]),
  };
}

async function checkBytes(
  files: readonly FileBytes[],
  manifest: HandOffDocument,
  checks: ProofCheck[],
): Promise<void> {
  for (const listed of manifest.files) {
    const file = files.find((candidate) => candidate.name === listed.name);
    checks.push({
      file: listed.name,
      what: 'size',
      expected: `${listed.bytes} bytes`,
      found: file ? `${file.bytes.length} bytes` : 'no such file',
      ok: file?.bytes.length === listed.bytes,
    });
    const found = file ? await sha256Hex(file.bytes) : 'no such file';
    checks.push({
      file: listed.name,
      what: 'SHA-256',
      expected: listed.sha256,
      found,
      ok: found === listed.sha256,
    });
  }
}

function compare(
  file: string,
  found: Found,
  count: number,
  manifest: HandOffDocument,
  checks: ProofCheck[],
): void {
  const add = (what: string, expected: string, got: string, ok: boolean) =>
    checks.push({ file, what, expected, found: got, ok });
  const near = (
    what: string,
    expected: number,
    got: number,
    tolerance: number,
    unit: string,
    decimals: number,
  ) =>
    add(
      what,
      `${expected.toFixed(decimals)} ${unit}`,
      `${got.toFixed(decimals)} ${unit}`,
      Math.abs(got - expected) <= tolerance,
    );
  add('polygons', String(manifest.features), String(count), count === manifest.features);
  const { acres } = manifest.field;
  near('area', acres, found.area_m2 / M2_PER_ACRE, acres * AREA_SHARE, 'ac', 4);
  near(
    'seeds',
    manifest.ledger.total.seeds,
    found.seeds,
    // Seeds of the ledger are whole by zone.
    manifest.ledger.total.seeds * SEED_SHARE + 0.5 * manifest.ledger.byZone.length,
    'seeds',
    0,
  );
  const rounding = 10 ** -AREA_DECIMALS * count;
  near('stated areas', acres, found.statedAcres, acres * AREA_SHARE + rounding, 'ac', 4);
  for (const row of manifest.ledger.byZone) {
    const zone = found.byZone.get(row.zone);
    const rates = zone ? [...zone.rates].join(', ') : 'none';
    const products = zone ? [...zone.products].join(', ') : 'none';
    near(
      `zone ${row.zone} ${row.name}, area`,
      row.acres,
      (zone?.area_m2 ?? 0) / M2_PER_ACRE,
      acres * AREA_SHARE,
      'ac',
      4,
    );
    add(
      `zone ${row.zone} ${row.name}, product and rate`,
      `${row.product} at ${row.seedsPerAc}`,
      `${products} at ${rates}`,
      products === row.product && rates === String(row.seedsPerAc),
    );
  }
  const extra = [...found.byZone.keys()].filter(
    (zone) => !manifest.ledger.byZone.some((row) => row.zone === zone),
  );
  add('zones not in the ledger', 'none', extra.length ? extra.join(', ') : 'none', extra.length === 0);
}

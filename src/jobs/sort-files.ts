import { crsToLonLat, WGS84 } from '../engine/geodesy/crs.ts';
import type { SourceKind } from '../engine/harvest/recognise/recognise-source.ts';
import { recogniseSource } from '../engine/harvest/recognise/recognise-source.ts';
import type { Issue } from '../engine/issue.ts';
import type { Source } from '../engine/layers/source.ts';
import type { FileBytes } from '../formats/file-bytes.ts';
import { type ReadTogether, readFiles } from '../formats/registry.ts';
import type { RunControl } from '../run/walk.ts';
import { type Extent, extentInDegrees, overlapShare, pointsWithin } from './source-extent.ts';

/** Which file is what for a plan; a name is that of a file, or `file › layer` where it holds several. */
export interface Roles {
  readonly boundary: string | null;
  /** Records of the boundary file that make the field; null takes all. */
  readonly records: readonly number[] | null;
  readonly soils: string | null;
  readonly soilTables: readonly string[];
  readonly yields: readonly string[];
  readonly layers: readonly string[];
  readonly lineup: string | null;
}

/** What a layer was taken for, and whether the plan uses it. */
export interface SortedFile {
  readonly file: string;
  readonly kind: SourceKind | 'lineup';
  readonly because: string;
  readonly role: 'boundary' | 'soils' | 'soil table' | 'yield' | 'layer' | 'lineup' | 'not used';
  /** Why it is not used, else empty. */
  readonly why: string;
}

export interface Sorted {
  readonly roles: Roles;
  readonly files: readonly SortedFile[];
  readonly issues: readonly Issue[];
}

/** Records of a boundary file that hold less than this share of the yield points are other fields. */
const OF_THE_FIELD = 0.1;
/** Points looked at to tell which record they lie in. */
const LOOKED_AT = 2000;

interface Sortable {
  readonly source: Source;
  readonly kind: SourceKind;
  readonly because: string;
  readonly extent: Extent | null;
}

/**
 * Files as a grower hands them over, several kinds and some of them broken, sorted by what is in them. What cannot be read is an issue; what is not of the field
 * is told and left out.
 */
export async function sortFiles(
  files: readonly FileBytes[],
  crop: string,
  read: ReadTogether | undefined,
  control: RunControl = {},
): Promise<Sorted> {
  const lineups = files.filter(isLineup);
  const data = files.filter((file) => !isOwnDocument(file));
  control.onProgress?.({ step: 'Reading the files', share: 0 });
  const reading = await readFiles(data, {}, read);
  control.signal?.throwIfAborted();
  const sortable = reading.sources.map((source): Sortable => {
    const { kind, because } = recogniseSource(source, crop);
    return { source, kind, because, extent: extentInDegrees(source) };
  });
  const of = (kind: SourceKind) => sortable.filter((own) => own.kind === kind);
  const harvests = of('harvest');
  const boundary = chooseBoundary(of('boundary'), harvests);
  const field = boundary?.extent ?? null;
  const near = (own: Sortable) =>
    field === null ||
    own.extent === null ||
    (overlapShare(own.extent, field) > 0 && (own.source.shape !== 'points' || someWithin(own, boundary)));
  const soils = of('soils').find(near) ?? null;
  const roles: Roles = {
    boundary: boundary?.own.source.file ?? null,
    records: boundary?.records ?? null,
    soils: soils?.source.file ?? null,
    soilTables: soils ? of('soil table').map(({ source }) => source.file) : [],
    yields: harvests.filter(near).map(({ source }) => source.file),
    layers: [...of('planted'), ...of('samples'), ...of('raster')]
      .filter(near)
      .map(({ source }) => source.file),
    lineup: lineups[0]?.name ?? null,
  };
  const told = sortable.map((own) => tell(own, roles, near(own)));
  return {
    roles,
    files: [
      ...told,
      ...lineups.map(
        ({ name }, k): SortedFile => ({
          file: name,
          kind: 'lineup',
          because: 'a lineup document',
          role: k === 0 ? 'lineup' : 'not used',
          why: k === 0 ? '' : 'another lineup is used',
        }),
      ),
    ],
    issues: [...reading.issues, ...reading.sources.flatMap((source) => source.issues)],
  };
}

interface ChosenBoundary {
  readonly own: Sortable;
  readonly records: readonly number[] | null;
  readonly extent: Extent | null;
}

/** The boundary most yield points lie in, and the records of it they lie in; without points the first. */
function chooseBoundary(
  boundaries: readonly Sortable[],
  harvests: readonly Sortable[],
): ChosenBoundary | null {
  const points = harvests.map(({ source }) => somePoints(source));
  let best: { own: Sortable; records: number[]; held: number } | null = null;
  for (const own of boundaries) {
    const counts = pointsWithin(own.source, points);
    const total = points.reduce((sum, { lon }) => sum + lon.length, 0);
    const records = counts.flatMap((count, k) => (count >= OF_THE_FIELD * total && count > 0 ? [k + 1] : []));
    const held = counts.reduce((sum, count) => sum + count, 0);
    if (held > (best?.held ?? 0)) best = { own, records, held };
  }
  if (best) {
    const all = best.records.length === best.own.source.records;
    const extent = extentInDegrees(best.own.source, best.records);
    return { own: best.own, records: all ? null : best.records, extent };
  }
  return boundaries[0] ? { own: boundaries[0], records: null, extent: boundaries[0].extent } : null;
}

/** Whether some of the points lie in the field: the box of a log next door may lap over its fence, or over all of it after one stray position. */
function someWithin({ source }: Sortable, boundary: ChosenBoundary | null): boolean {
  if (!boundary) return true;
  const { own, records } = boundary;
  const rings = records ? records.map((record) => own.source.rings[record - 1]) : own.source.rings;
  return pointsWithin({ ...own.source, rings }, [somePoints(source)]).some((count) => count > 0);
}

/** Some of the points of a source in degrees, evenly through the file. */
function somePoints(source: Source): { lon: Float64Array; lat: Float64Array } {
  const stride = Math.max(1, Math.floor(source.records / LOOKED_AT));
  const pick = (values: Float64Array) => values.filter((_, k) => k % stride === 0);
  return crsToLonLat(source.crs ?? WGS84, pick(source.x), pick(source.y));
}

function tell({ source, kind, because }: Sortable, roles: Roles, near: boolean): SortedFile {
  const { file } = source;
  const told = { file, kind, because };
  const as = (role: SortedFile['role']): SortedFile => ({ ...told, role, why: '' });
  if (roles.boundary === file) return as('boundary');
  if (roles.soils === file) return as('soils');
  if (roles.soilTables.includes(file)) return as('soil table');
  if (roles.yields.includes(file)) return as('yield');
  if (roles.layers.includes(file)) return as('layer');
  const why = !near ? 'it lies outside the field' : (NOT_USED[kind] ?? 'nothing in a plan is made of it yet');
  return { ...told, role: 'not used', why };
}

const NOT_USED: Readonly<Partial<Record<SourceKind, string>>> = {
  boundary: 'another boundary is used',
  soils: 'other soils are used',
  'soil table': 'there are no soil polygons it belongs to',
  unknown: 'what it holds was not recognised',
};

/** Plans and lineups: documents of our own, and no layers. */
export function isOwnDocument(file: FileBytes): boolean {
  return isLineup(file) || headOf(file).includes('"eachacre-plan"');
}

function isLineup(file: FileBytes): boolean {
  return headOf(file).includes('"eachacre-lineup"');
}

function headOf({ name, bytes }: FileBytes): string {
  return /\.json$/i.test(name) ? new TextDecoder().decode(bytes.subarray(0, 400)) : '';
}

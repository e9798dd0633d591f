import type { Box } from '../engine/geodesy/box.ts';
import { crsToLonLat, WGS84 } from '../engine/geodesy/crs.ts';
import { columnWords } from '../engine/harvest/recognise/column-words.ts';
import type { SourceKind } from '../engine/harvest/recognise/recognise-source.ts';
import { recogniseSource } from '../engine/harvest/recognise/recognise-source.ts';
import { rolesNamed } from '../engine/harvest/recognise/spellings.ts';
import type { Issue } from '../engine/issue.ts';
import type { Source } from '../engine/layers/source.ts';
import type { FileBytes } from '../formats/file-bytes.ts';
import type { ReadOptions } from '../formats/format.ts';
import { type ReadTogether, readFiles, readTogether } from '../formats/registry.ts';
import type { RunControl } from '../run/walk.ts';
import { breathing } from './breathing.ts';
import { parted } from './find-files.ts';
import { sameRecords } from './same-records.ts';
import { extentInDegrees, overlapShare, pointsWithin } from './source-extent.ts';

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
/** More polygons than this are fields, as it seems, and no parts of one. */
const FEW = 20;

/** What is said outright of files that are not among those to be sorted. */
export interface AlreadySaid {
  /** Null where none is said. */
  readonly boundary: Source | null;
  /** Records of the boundary, said or found, that are the field (from 1); null where none are said. */
  readonly records: readonly number[] | null;
  readonly yields: readonly Source[];
  readonly soils: boolean;
  readonly lineup: boolean;
}

const NOTHING_SAID: AlreadySaid = { boundary: null, records: null, yields: [], soils: false, lineup: false };

interface Sortable {
  readonly source: Source;
  readonly kind: SourceKind;
  readonly because: string;
  readonly extent: Box | null;
  /** A file before it that holds the same records. */
  readonly twin: string | null;
  /** It cannot be placed as it is: its system is wrong or not to be had. */
  readonly lost: boolean;
}

/**
 * Files as a grower hands them over, several kinds and some of them broken, sorted by what is in them. What cannot be read is an issue; what is not of the field
 * is told and left out. `said`: how a file is to be read, by its name; `already`: what these are held against.
 */
export async function sortFiles(
  files: readonly FileBytes[],
  crop: string,
  read: ReadTogether = readTogether,
  control: RunControl = {},
  said: (file: string) => ReadOptions = () => ({}),
  already: AlreadySaid = NOTHING_SAID,
): Promise<Sorted> {
  const lineups = files.filter(isLineup);
  const data = files.filter((file) => !isOwnDocument(file));
  control.onProgress?.({ step: 'Reading the files', share: 0 });
  const reading = await readFiles(
    data,
    {},
    (layer, options) => read(layer, { ...options, ...said(parted(mainOf(layer).name).path) }),
    breathing(control, 0),
  );
  control.signal?.throwIfAborted();
  const sortable = reading.sources.map((source, k): Sortable => {
    const { kind, because } = recogniseSource(source, crop);
    const twin = reading.sources.find((own, j) => isBefore(own, j, source, k) && sameRecords(own, source));
    return {
      source,
      kind,
      because,
      extent: extentInDegrees(source),
      twin: twin?.file ?? null,
      lost: isLost(source),
    };
  });
  const of = (kind: SourceKind) =>
    sortable.filter((own) => own.kind === kind && own.twin === null && !own.lost);
  const harvests = of('harvest');
  const boundary = chooseBoundary(
    of('boundary').map(({ source }) => source),
    [...already.yields, ...harvests.map(({ source }) => source)],
    already,
  );
  const field = boundary?.extent ?? null;
  const near = (own: Sortable) =>
    field === null ||
    own.extent === null ||
    (overlapShare(own.extent, field) > 0 && (own.source.shape !== 'points' || someWithin(own, boundary)));
  const soils = already.soils ? null : (of('soils').find(near) ?? null);
  const roles: Roles = {
    boundary: boundary?.source.file ?? null,
    records: boundary?.records ?? null,
    soils: soils?.source.file ?? null,
    soilTables: soils || already.soils ? of('soil table').map(({ source }) => source.file) : [],
    yields: harvests.filter(near).map(({ source }) => source.file),
    layers: [...of('planted'), ...of('samples'), ...of('raster')]
      .filter(near)
      .map(({ source }) => source.file),
    lineup: already.lineup ? null : (lineups[0]?.name ?? null),
  };
  const told = sortable.map((own) => tell(own, roles, near(own)));
  return {
    roles,
    files: [
      ...told,
      ...lineups.map(
        ({ name }): SortedFile => ({
          file: name,
          kind: 'lineup',
          because: 'a lineup document',
          role: name === roles.lineup ? 'lineup' : 'not used',
          why: name === roles.lineup ? '' : 'another lineup is used',
        }),
      ),
    ],
    issues: [
      ...reading.issues,
      ...sortable.flatMap(issuesOf),
      ...(boundary ? recordsOpen(boundary, already.yields.length + harvests.length) : []),
    ],
  };
}

interface ChosenBoundary {
  readonly source: Source;
  readonly records: readonly number[] | null;
  readonly extent: Box | null;
  /** Whether yield points, or a person, told. */
  readonly told: boolean;
}

/** The boundary said; else that most yield points lie in, and the records of it they lie in; without points the first. Records said go before those found. */
function chooseBoundary(
  boundaries: readonly Source[],
  harvests: readonly Source[],
  said: AlreadySaid,
): ChosenBoundary | null {
  const chosen = (source: Source, records: readonly number[] | null, told: boolean): ChosenBoundary => {
    const own = said.records ?? records;
    return { source, records: own, extent: extentInDegrees(source, own), told };
  };
  if (said.boundary?.shape === 'polygons') return chosen(said.boundary, null, true);
  const points = harvests.filter(({ shape }) => shape === 'points').map(somePoints);
  let best: { source: Source; records: number[]; held: number } | null = null;
  for (const source of boundaries) {
    const counts = pointsWithin(source, points);
    const total = points.reduce((sum, { lon }) => sum + lon.length, 0);
    const records = counts.flatMap((count, k) => (count >= OF_THE_FIELD * total && count > 0 ? [k + 1] : []));
    const held = counts.reduce((sum, count) => sum + count, 0);
    if (held > (best?.held ?? 0)) best = { source, records, held };
  }
  if (best)
    return chosen(best.source, best.records.length === best.source.records ? null : best.records, true);
  return boundaries[0] ? chosen(boundaries[0], null, false) : null;
}

/** Whether some of the points lie in the field: the box of a log next door may lap over its fence, or over all of it after one stray position. */
function someWithin({ source }: Sortable, boundary: ChosenBoundary | null): boolean {
  if (!boundary) return true;
  const { records } = boundary;
  const rings = records
    ? records.map((record) => boundary.source.rings[record - 1] ?? null)
    : boundary.source.rings;
  return pointsWithin({ ...boundary.source, rings }, [somePoints(source)]).some((count) => count > 0);
}

/** Some of the points of a source in degrees, evenly through the file. */
function somePoints(source: Source): { lon: Float64Array; lat: Float64Array } {
  const stride = Math.max(1, Math.floor(source.records / LOOKED_AT));
  const pick = (values: Float64Array) => values.filter((_, k) => k % stride === 0);
  return crsToLonLat(source.crs ?? WGS84, pick(source.x), pick(source.y));
}

/** The file a layer is called by: of a shapefile the .shp, wherever it stands. */
function mainOf(layer: readonly FileBytes[]): FileBytes {
  return layer.find(({ name }) => /\.shp$/i.test(name)) ?? layer[0];
}

/** What a file nothing is made of could not say right is no trouble of the plan, unless it may be the reason. */
function issuesOf({ source, kind }: Sortable): readonly Issue[] {
  return source.issues.filter(({ severity }) => kind !== 'unknown' || severity === 'error');
}

/** Several polygons taken for one field, by the yield points in them or for want of any. */
function recordsOpen({ source, records, told }: ChosenBoundary, harvests: number): Issue[] {
  const { file, records: count } = source;
  const taken = records?.length ?? count;
  if (taken < 2) return [];
  const farm = !told && count > FEW;
  const none = harvests === 0 ? 'no yield map' : 'no yield points in any of them';
  return [
    {
      code: farm ? 'boundary-farm' : 'boundary-parts',
      severity: 'warning',
      where: file,
      found: told
        ? `yield points in ${taken} of ${count} polygons${records ? `: records ${records.join(', ')}` : ''}`
        : `${count} polygons, and ${none} to tell which of them are the field`,
      expected: farm ? 'one field' : 'one field, or the parts of one',
      effect: 'All of these are taken together for the field',
      remedy: 'Where it is one of them, say its record (command line: --record N, again for more parts)',
    },
  ];
}

/** Of two alike the one of the shorter name is no `Copy of` the other. */
function isBefore(a: Source, j: number, b: Source, k: number): boolean {
  return a.file.length === b.file.length ? j < k : a.file.length < b.file.length;
}

/** One of which nobody says where it lies is asked about; one that says what cannot be is left out. */
function isLost({ shape, crs, issues }: Source): boolean {
  return shape !== 'table' && crs === null && issues.some(({ severity }) => severity === 'error');
}

function tell({ source, kind, because, twin, lost }: Sortable, roles: Roles, near: boolean): SortedFile {
  const { file } = source;
  const told = { file, kind, because };
  const as = (role: SortedFile['role']): SortedFile => ({ ...told, role, why: '' });
  if (roles.boundary === file) return as('boundary');
  if (roles.soils === file) return as('soils');
  if (roles.soilTables.includes(file)) return as('soil table');
  if (roles.yields.includes(file)) return as('yield');
  if (roles.layers.includes(file)) return as('layer');
  return { ...told, role: 'not used', why: whyNot() };

  function whyNot(): string {
    if (twin !== null) return `the same records as ${twin}`;
    if (lost) return 'it cannot be placed as it is';
    if (!near) return 'it lies outside the field';
    if (kind === 'unknown') return source.records === 0 ? 'there is nothing to use' : unknownText(source);
    return NOT_USED[kind] ?? 'nothing in a plan is made of it yet';
  }
}

const NOT_USED: Readonly<Partial<Record<SourceKind, string>>> = {
  boundary: 'another boundary is used',
  soils: 'other soils are used',
  'soil table': 'there are no soil polygons it belongs to',
  trials: 'a lineup is fitted from it first (in the app at the Lineup stop; command line: eachacre fit)',
  lineup: 'a table of products is brought in at the Lineup stop (command line: eachacre fit --products)',
};

/** Points may be a yield map in words nobody has met. */
function unknownText({ shape, columns }: Source): string {
  const names = columns.map(({ name }) => name);
  const placeless =
    shape === 'table' && names.some((name) => rolesNamed(columnWords(name)).includes('yield'));
  if (placeless)
    return `none of its columns was recognised as its places (${names.slice(0, 12).join(', ')}); call them longitude and latitude`;
  if (shape !== 'points' || columns.length === 0) return 'what it holds was not recognised';
  const some = `${names.slice(0, 12).join(', ')}${names.length > 12 ? ', …' : ''}`;
  return `none of its columns was recognised as yield (${some}); if one is, say so (command line: --yield FILE --yield-column COLUMN)`;
}

/** Plans and lineups: documents of our own, and no layers. */
export function isOwnDocument(file: FileBytes): boolean {
  return isLineup(file) || isPlan(file);
}

/** No plan rests on another. */
export function isPlan(file: FileBytes): boolean {
  return headOf(file).includes('"eachacre-plan"');
}

export function isLineup(file: FileBytes): boolean {
  return headOf(file).includes('"eachacre-lineup"');
}

function headOf({ name, bytes }: FileBytes): string {
  return /\.json$/i.test(name) ? new TextDecoder().decode(bytes.subarray(0, 400)) : '';
}

import type { Issue } from '../issue.ts';
import { type Datum, datumFrom } from './datum.ts';
import { geographicCode, listedLike } from './epsg.ts';
import { nad27Accepted, nad27Refused } from './nad27.ts';
import { type Projection, proj4Text, unitWords } from './projection.ts';
import { child, nameOf, numberAt, parseWkt, type WktNode } from './wkt.ts';
import { isDegree, projectionFrom } from './wkt-projection.ts';

/** A recognised system, in the shape of `Crs`; null with at least one error among the issues. */
interface WktReading {
  readonly crs: { code: string; name: string; proj4: string | null } | null;
  readonly issues: readonly Issue[];
}

/** What the user has accepted about the systems of files. */
export interface CrsChoices {
  /** NAD27 by its mean shift, good to some ten metres. */
  readonly acceptNad27?: boolean;
}

const SUPPORTED_DATUMS = 'WGS 84, NAD83, ETRS89 (or no named datum on their ellipsoids), or Amersfoort';
const SUPPORTED_PROJECTIONS =
  'longitude and latitude in degrees, or Transverse Mercator (UTM, state plane), Lambert conformal conic, Albers, Lambert azimuthal equal-area, ' +
  'oblique stereographic, oblique Mercator or web Mercator in metres, international feet or US survey feet';

/** The coordinate system a WKT text describes; `where` names the file for the issues. Never throws. */
export function readWktCrs(wkt: string, where: string, choices: CrsChoices = {}): WktReading {
  const root = parseWkt(wkt);
  if (typeof root === 'string') return refused(unreadable(where, root));
  const notes: Issue[] = [];
  const horizontal = horizontalPart(root, where, notes);
  if (!horizontal) return refused(unreadable(where, `a ${root.keyword} element`));

  const geographic = horizontal.keyword.startsWith('PROJ') ? child(horizontal, ...GEOGRAPHIC) : horizontal;
  if (!geographic) return refused(unreadable(where, 'a projected system without its datum'));
  const found = datumOf(geographic);
  if (typeof found === 'string') return refused(datumIssue(where, found));
  if (found.id === 'unknown') notes.push(unknownDatum(where));
  if (found.id === 'NAD27' && !choices.acceptNad27)
    return refused(nad27Refused(where, `“${nameOf(horizontal)}”`));
  if (found.id === 'NAD27') notes.push(nad27Accepted(where, `“${nameOf(horizontal)}”`));
  if (!isDegree(child(geographic, 'UNIT', 'ANGLEUNIT'))) {
    return refused(projectionIssue(where, `angles in “${nameOf(child(geographic, 'UNIT', 'ANGLEUNIT'))}”`));
  }

  if (horizontal === geographic) return { crs: degreesOn(found, nameOf(horizontal)), issues: notes };
  const projection = projectionFrom(horizontal);
  if (typeof projection === 'string') return refused(projectionIssue(where, projection));
  return { crs: projected(found, projection, nameOf(horizontal)), issues: notes };
}

/** Degrees on a datum; those not on the ellipsoid of WGS 84 or GRS 80 need its shift. */
export function degreesOn(datum: Datum, name: string): NonNullable<WktReading['crs']> {
  const code = geographicCode(datum);
  const shifted = datum.id === 'Amersfoort' || datum.id === 'NAD27';
  const proj4 = shifted ? `+proj=longlat ${datum.proj4} +no_defs` : null;
  if (code === null) return { code: 'custom', name: name || 'unnamed', proj4 };
  return { code: `EPSG:${code}`, name: datum.id, proj4 };
}

/** A listed system goes by the list's name and numbers, which tell its unit; another by its own name, with the unit where it is feet. */
function projected(datum: Datum, projection: Projection, name: string): NonNullable<WktReading['crs']> {
  const system = listedLike(datum, projection, name);
  const own = unitWords(projection.unit_m);
  return {
    code: system ? `EPSG:${system.code}` : 'custom',
    name: system?.name ?? (own === 'metres' ? name || 'unnamed' : `${name || 'unnamed'} (${own})`),
    proj4: proj4Text(system?.projection ?? projection, datum),
  };
}

const GEOGRAPHIC = [
  'GEOGCS',
  'GEOGCRS',
  'GEOGRAPHICCRS',
  'GEODCRS',
  'GEODETICCRS',
  'BASEGEOGCRS',
  'BASEGEODCRS',
];
const PROJECTED = ['PROJCS', 'PROJCRS', 'PROJECTEDCRS'];

/** The part that places points on the map, out of what binds it to a height or to a transformation. */
function horizontalPart(root: WktNode, where: string, notes: Issue[]): WktNode | null {
  let node: WktNode | undefined = root;
  for (let step = 0; node && step < 4; step++) {
    if (GEOGRAPHIC.includes(node.keyword) || PROJECTED.includes(node.keyword)) return node;
    if (node.keyword === 'COMPD_CS' || node.keyword === 'COMPOUNDCRS') {
      notes.push(partIgnored(where, 'a compound system with heights'));
      node = child(node, ...PROJECTED, ...GEOGRAPHIC, 'BOUNDCRS');
    } else if (node.keyword === 'BOUNDCRS') {
      notes.push(partIgnored(where, 'a transformation of its own'));
      node = child(node, 'SOURCECRS')?.children[0];
    } else return null;
  }
  return null;
}

/** The datum of a geographic element, or in words what it is when not supported. */
function datumOf(geographic: WktNode): Datum | string {
  const datumNode = child(geographic, 'DATUM', 'GEODETICDATUM', 'TRF', 'ENSEMBLE');
  const ellipsoid = datumNode && child(datumNode, 'SPHEROID', 'ELLIPSOID');
  const a = numberAt(ellipsoid, 1);
  const rf = numberAt(ellipsoid, 2);
  const name = nameOf(datumNode);
  if (!Number.isFinite(a) || !Number.isFinite(rf)) return `datum “${name}” without an ellipsoid`;
  const meridian = child(geographic, 'PRIMEM', 'PRIMEMERIDIAN');
  if (meridian && numberAt(meridian, 1) !== 0) return `longitudes counted from “${nameOf(meridian)}”`;
  const datum = datumFrom(name, a, rf);
  if (!datum) return `datum “${name}” on ellipsoid “${nameOf(ellipsoid)}” (${a}, ${rf})`;
  const shift = datumNode && child(datumNode, 'TOWGS84');
  if (shift && ![3, 7].includes(shift.values.length)) {
    return `datum “${name}” with a shift of ${shift.values.length} numbers, where there are 3 or 7`;
  }
  if (shift && datum.id !== 'Amersfoort' && shift.values.some((value) => value !== 0)) {
    return `datum “${name}” with a shift of its own (${shift.values.join(', ')})`;
  }
  return datum;
}

function refused(issue: Issue): WktReading {
  return { crs: null, issues: [issue] };
}

const ASK = 'Save the layer again as WGS 84 longitude and latitude (EPSG:4326), or state its EPSG code';
const UNPLACED = 'The layer cannot be placed on the ground and is not used';

function unreadable(where: string, found: string): Issue {
  return {
    code: 'crs-unreadable',
    severity: 'error',
    where,
    found: `a coordinate system text that cannot be read: ${found}`,
    expected: 'well-known text (GEOGCS, PROJCS, GEOGCRS or PROJCRS)',
    effect: UNPLACED,
    remedy: ASK,
  };
}

function datumIssue(where: string, found: string): Issue {
  return {
    code: 'crs-datum-not-supported',
    severity: 'error',
    where,
    found,
    expected: SUPPORTED_DATUMS,
    effect: `${UNPLACED}: taken as WGS 84 it could lie tens of metres off`,
    remedy: ASK,
  };
}

function projectionIssue(where: string, found: string): Issue {
  return {
    code: 'crs-projection-not-supported',
    severity: 'error',
    where,
    found,
    expected: SUPPORTED_PROJECTIONS,
    effect: UNPLACED,
    remedy: ASK,
  };
}

function unknownDatum(where: string): Issue {
  return {
    code: 'crs-datum-assumed',
    severity: 'note',
    where,
    found: 'no named datum, on the ellipsoid of WGS 84 or GRS 80',
    expected: 'a named datum',
    effect: 'The layer is placed as WGS 84',
    remedy: 'Check on the map that it lies where it should',
  };
}

function partIgnored(where: string, found: string): Issue {
  return {
    code: 'crs-part-ignored',
    severity: 'note',
    where,
    found,
    expected: 'a system of two axes',
    effect: 'Only its horizontal part is used',
    remedy: 'Nothing to do: heights play no part here',
  };
}

import { LINEAR_UNITS, type Projection } from './projection.ts';
import { child, nameOf, numberAt, type WktNode } from './wkt.ts';

const DEGREE = Math.PI / 180;

/** Names of the parameters we read, as the three dialects write them, without punctuation. */
const PARAMETERS = {
  lat0: [
    'latitudeoforigin',
    'latitudeofcenter',
    'latitudeofnaturalorigin',
    'latitudeoffalseorigin',
    'latitudeofprojectioncentre',
  ],
  lon0: [
    'centralmeridian',
    'longitudeofcenter',
    'longitudeofnaturalorigin',
    'longitudeoffalseorigin',
    'longitudeofprojectioncentre',
  ],
  lat1: ['standardparallel1', 'latitudeof1ststandardparallel'],
  lat2: ['standardparallel2', 'latitudeof2ndstandardparallel'],
  scale: ['scalefactor', 'scalefactoratnaturalorigin', 'scalefactoroninitialline'],
  falseEasting: ['falseeasting', 'eastingatfalseorigin'],
  falseNorthing: ['falsenorthing', 'northingatfalseorigin'],
  azimuth: ['azimuth', 'azimuthofinitialline'],
  gridAngle: ['rectifiedgridangle', 'anglefromrectifiedtoskewgrid'],
  sphere: ['auxiliaryspheretype'],
} as const;
type ParameterName = keyof typeof PARAMETERS;

const METHODS: Readonly<Record<string, Projection['method']>> = {
  transversemercator: 'tmerc',
  gausskruger: 'tmerc',
  lambertconformalconic: 'lcc',
  lambertconformalconic1sp: 'lcc',
  lambertconformalconic2sp: 'lcc',
  lambertconicconformal1sp: 'lcc',
  lambertconicconformal2sp: 'lcc',
  albers: 'aea',
  albersconicequalarea: 'aea',
  albersequalarea: 'aea',
  obliquestereographic: 'sterea',
  doublestereographic: 'sterea',
  lambertazimuthalequalarea: 'laea',
  hotineobliquemercator: 'omerc',
  hotineobliquemercatorvarianta: 'omerc',
  hotineobliquemercatorazimuthnaturalorigin: 'omerc',
  mercatorauxiliarysphere: 'web-mercator',
  popularvisualisationpseudomercator: 'web-mercator',
};

/** Metres in one unit of a length-unit element, snapped to the exact value of the units we know; null for others. */
function linearUnit(node: WktNode | undefined): number | null {
  const factor = numberAt(node, 1);
  return LINEAR_UNITS.find(({ metres }) => Math.abs(factor / metres - 1) < 1e-7)?.metres ?? null;
}

/** Whether an angle-unit element is the degree; one left out is taken as the degree. */
export function isDegree(node: WktNode | undefined): boolean {
  return node === undefined || Math.abs(numberAt(node, 1) / DEGREE - 1) < 1e-8;
}

/**
 * The projection a PROJCS or PROJCRS element describes, recognised by method and parameters, never by its name;
 * or, in words, what about it is not supported.
 */
export function projectionFrom(node: WktNode): Projection | string {
  const holder = child(node, 'CONVERSION') ?? node;
  const methodName = nameOf(child(holder, 'PROJECTION', 'METHOD'));
  const method =
    METHODS[plain(methodName)] ?? (isPseudoMercator(node, methodName) ? 'web-mercator' : undefined);
  if (!method) return `projection “${methodName}”`;

  const unitNode = child(node, 'UNIT', 'LENGTHUNIT') ?? axisUnit(node);
  const unit_m = linearUnit(unitNode);
  if (unit_m === null) return `unit “${nameOf(unitNode)}” of ${numberAt(unitNode, 1)} m`;

  const values: Partial<Record<ParameterName, number>> = {};
  for (const parameter of holder.children.filter(({ keyword }) => keyword === 'PARAMETER')) {
    const name = plain(nameOf(parameter));
    const key = (Object.keys(PARAMETERS) as ParameterName[]).find((each) =>
      (PARAMETERS[each] as readonly string[]).includes(name),
    );
    const value = numberAt(parameter, 1);
    if (!Number.isFinite(value)) return `parameter “${nameOf(parameter)}” without a number`;
    // A parameter we do not know but is zero changes nothing in the methods above (an azimuth, a rotation).
    if (!key && value !== 0) return `parameter “${nameOf(parameter)}” of ${methodName}`;
    if (!isDegree(child(parameter, 'ANGLEUNIT'))) return `parameter “${nameOf(parameter)}” not in degrees`;
    const lengthUnit = child(parameter, 'LENGTHUNIT');
    const metres = lengthUnit ? linearUnit(lengthUnit) : unit_m;
    if (metres === null) return `parameter “${nameOf(parameter)}” in ${nameOf(lengthUnit)}`;
    if (key) values[key] = key === 'falseEasting' || key === 'falseNorthing' ? value * metres : value;
  }
  return assemble(method, methodName, values, unit_m);
}

function assemble(
  method: Projection['method'],
  methodName: string,
  values: Partial<Record<ParameterName, number>>,
  unit_m: number,
): Projection | string {
  const { lon0, lat1, lat2, scale = 1, falseEasting = 0, falseNorthing = 0, sphere = 0 } = values;
  // One dialect gives Lambert with one parallel by the parallel alone.
  const lat0 =
    values.lat0 ??
    (method === 'lcc' && lat2 === undefined ? lat1 : method === 'web-mercator' ? 0 : undefined);
  if (lon0 === undefined || lat0 === undefined) return `${methodName} without its origin`;
  if (Math.abs(lat0) > 90 || Math.abs(lon0) > 360 || !(scale > 0))
    return `${methodName} with an impossible origin or scale`;
  const { azimuth = 0, gridAngle = azimuth } = values;
  if (method !== 'omerc' && (azimuth !== 0 || gridAngle !== 0)) return `${methodName} with an azimuth`;
  const base = { method, lat0, lon0, falseEasting_m: falseEasting, falseNorthing_m: falseNorthing, unit_m };
  if (method === 'tmerc' || method === 'sterea') return { ...base, scale };
  if (method === 'omerc') {
    const turned = (azimuth % 360) + (azimuth < 0 ? 360 : 0);
    if (Math.abs(gridAngle - azimuth) > 1e-9)
      return `${methodName} with a grid turned by an angle of its own`;
    // Along a meridian or across one it is another projection.
    if (turned % 90 === 0) return `${methodName} with an azimuth of ${azimuth}`;
    return { ...base, scale, azimuth: turned };
  }
  if (method === 'laea') return scale === 1 ? base : `${methodName} with a scale factor`;
  if (method === 'web-mercator') {
    const usual = lat0 === 0 && (lat1 ?? 0) === 0 && scale === 1 && sphere === 0;
    return usual ? base : `${methodName} with parameters of its own`;
  }
  if (method === 'lcc' && lat2 === undefined) {
    if (lat1 !== undefined && lat1 !== lat0) return `${methodName} whose one parallel is not its origin`;
    return { ...base, lat1: lat0, scale };
  }
  if (lat1 === undefined || lat2 === undefined) return `${methodName} without two standard parallels`;
  if (Math.abs(lat1) >= 90 || Math.abs(lat2) >= 90 || Math.abs(lat1 + lat2) < 1e-9) {
    return `${methodName} with parallels ${lat1} and ${lat2}`;
  }
  return scale === 1 ? { ...base, lat1, lat2 } : `${methodName} with two parallels and a scale factor`;
}

/** WKT 1 has no name for it and says it in an extension or by its EPSG code. */
function isPseudoMercator(node: WktNode, methodName: string): boolean {
  if (plain(methodName) !== 'mercator1sp') return false;
  const extension = child(node, 'EXTENSION');
  return (
    extension !== undefined &&
    /\+proj=merc \+a=6378137 \+b=6378137 .*\+nadgrids=@null/.test(String(extension.values[1]))
  );
}

/** WKT 2 may give the unit with each axis. */
function axisUnit(node: WktNode): WktNode | undefined {
  const axis = child(node, 'AXIS');
  return axis && child(axis, 'LENGTHUNIT', 'UNIT');
}

function plain(name: string): string {
  return name.toLowerCase().replace(/[^a-z0-9]/g, '');
}

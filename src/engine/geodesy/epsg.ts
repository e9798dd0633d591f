import { CANADA } from './canada.ts';
import { type Datum, datumOfId, NAD27_DATUM } from './datum.ts';
import { EUROPE } from './europe.ts';
import { type ListedSystem, systemsOf } from './listed-system.ts';
import type { Projection } from './projection.ts';
import { STATE_PLANE } from './state-plane.ts';
import { STATE_WIDE } from './state-wide.ts';
import { nad27UtmSystems, utmSystems } from './utm.ts';

/** Longitude and latitude in degrees, by code. */
const GEOGRAPHIC: Readonly<Record<number, Datum['id']>> = {
  4326: 'WGS 84',
  4269: 'NAD83',
  4152: 'NAD83(HARN)',
  4759: 'NAD83(NSRS2007)',
  6318: 'NAD83(2011)',
  4617: 'NAD83(CSRS)',
  4258: 'ETRS89',
  4171: 'RGF93 v1',
  4619: 'SWEREF99',
  4173: 'IRENET95',
  9702: 'ETRF2000-PL',
  4669: 'LKS94',
  4661: 'LKS92',
  4180: 'EST97',
};

const WEB_MERCATOR: ListedSystem = {
  code: 3857,
  name: 'WGS 84 / Pseudo-Mercator',
  datum: datumOfId('WGS 84'),
  projection: { method: 'web-mercator', lat0: 0, lon0: 0, falseEasting_m: 0, falseNorthing_m: 0, unit_m: 1 },
  area: { west: -180, south: -85.1, east: 180, north: 85.1 },
};
const US = ['NAD83', 'NAD83(HARN)', 'NAD83(NSRS2007)', 'NAD83(2011)'] as const;

let listed: ReadonlyMap<number, ListedSystem> | null = null;

/** Every projected system listed, by code; made on first use, for most work needs none of them. */
export function listedSystems(): ReadonlyMap<number, ListedSystem> {
  listed ??= new Map(
    [
      WEB_MERCATOR,
      ...utmSystems(),
      ...systemsOf(US.map(datumOfId), STATE_PLANE),
      ...systemsOf(US.map(datumOfId), STATE_WIDE),
      ...systemsOf([datumOfId('NAD83'), datumOfId('NAD83(CSRS)')], CANADA),
      ...EUROPE.flatMap(({ datum, lines }) => systemsOf([datumOfId(datum)], lines)),
    ].map((system) => [system.code, system]),
  );
  return listed;
}

/** The datum whose degrees a code stands for, or null. */
export function geographicDatum(code: number): Datum | null {
  return Object.hasOwn(GEOGRAPHIC, code) ? datumOfId(GEOGRAPHIC[code]) : null;
}

/** The listed code of degrees on a datum, or null. */
export function geographicCode(datum: Datum): number | null {
  if (datum.id === 'NAD27') return 4267;
  const found = Object.entries(GEOGRAPHIC).find(([, id]) => id === datum.id);
  return found ? Number(found[0]) : null;
}

/** Degrees (4267) or UTM on NAD27, for those who accept its mean shift: a listed system, `degrees`, or null. */
export function nad27System(code: number): ListedSystem | 'degrees' | null {
  if (code === 4267) return 'degrees';
  return nad27UtmSystems().find((system) => system.code === code) ?? null;
}

/** First and last of the runs of codes the registry (v10.076) has on NAD27: UTM, state plane and other systems of the years before 1983. */
const NAD27_CODES = [
  [4267, 4267],
  [26701, 26722],
  [26729, 26760],
  [26766, 26787],
  [26791, 26799],
  [32001, 32003],
  [32005, 32031],
  [32033, 32058],
  [32061, 32062],
  [32064, 32067],
  [32074, 32077],
  [32081, 32086],
  [32098, 32099],
] as const;

/** Whether an EPSG code is of a system on NAD27. */
export function isNad27Code(code: number): boolean {
  return NAD27_CODES.some(([first, last]) => code >= first && code <= last);
}

/**
 * The listed system of a datum with the same projection to within what programs cut off in writing, or null. A few share all their numbers (New York
 * East and New Jersey); among those, and only there, the name the file gives decides.
 */
export function listedLike(datum: Datum, projection: Projection, name: string): ListedSystem | null {
  const among = datum.id === NAD27_DATUM.id ? nad27UtmSystems() : [...listedSystems().values()];
  const alike = among.filter(
    (system) => system.datum.id === datum.id && sameProjection(system.projection, projection),
  );
  return alike.find((system) => plain(name).includes(plain(zoneOf(system)))) ?? alike[0] ?? null;
}

/** The name of a system without its datum and unit. */
function zoneOf({ name }: ListedSystem): string {
  return name.slice(name.indexOf(' / ')).replace(/\(.*/, '');
}

function plain(text: string): string {
  return text.toLowerCase().replace(/[^a-z0-9]/g, '');
}

/** Angles to 1e-8 degrees (a millimetre), false origins to 1 mm, scales to 1e-9 (a millimetre in 1,000 km). */
function sameProjection(a: Projection, b: Projection): boolean {
  const near = (p = 0, q = 0, within = 1e-8) => Math.abs(p - q) <= within;
  const [south, north] = parallels(a);
  const [otherSouth, otherNorth] = parallels(b);
  return (
    a.method === b.method &&
    a.unit_m === b.unit_m &&
    near(a.lat0, b.lat0) &&
    near(a.lon0, b.lon0) &&
    near(a.azimuth, b.azimuth) &&
    near(south, otherSouth) &&
    near(north, otherNorth) &&
    near(a.scale ?? 1, b.scale ?? 1, 1e-9) &&
    near(a.falseEasting_m, b.falseEasting_m, 1e-3) &&
    near(a.falseNorthing_m, b.falseNorthing_m, 1e-3)
  );
}

function parallels({ lat1, lat2 = lat1 }: Projection): readonly [number | undefined, number | undefined] {
  if (lat1 === undefined || lat2 === undefined) return [undefined, undefined];
  return [Math.min(lat1, lat2), Math.max(lat1, lat2)];
}

import { crsFromWkt, statedCrs } from '../../engine/geodesy/crs.ts';
import type { Issue } from '../../engine/issue.ts';
import type { SettledCrs } from '../crs-check.ts';
import type { ReadOptions } from '../format.ts';
import type { GeoKeys } from './geo-keys.ts';

/** "See the parameters", in place of a code of the EPSG registry. */
const USER_DEFINED = 32767;

/** The system of the keys; null with an error when it is not one we have verified, null without an issue when the file names none. */
export function crsOfKeys(keys: GeoKeys, where: string, options: ReadOptions): SettledCrs {
  const model = keys.number(1024);
  const code = model === 1 ? keys.number(3072) : model === 2 ? keys.number(2048) : null;
  if (code !== null && code !== USER_DEFINED && code !== 0) return ofCode(code, keys, where, options);
  const wkt = [1026, 3073, 2049]
    .map((key) => keys.text(key))
    .find((text) => text.startsWith('ESRI PE String = '));
  if (wkt) return crsFromWkt(wkt.slice('ESRI PE String = '.length), where, options);
  if (model === 1 || model === 2) {
    const text = model === 1 ? projectedWkt(keys) : geographicWkt(keys);
    return text === null
      ? unsupported(where, named(keys, 'a coordinate system by parameters'))
      : crsFromWkt(text, where, options);
  }
  return model === null || model === 0 || model === USER_DEFINED
    ? { crs: null, issues: [] }
    : unsupported(where, model === 3 ? 'geocentric coordinates' : `coordinates of kind ${model}`);
}

function ofCode(code: number, keys: GeoKeys, where: string, options: ReadOptions): SettledCrs {
  const stating = statedCrs(code, where, options);
  const { crs } = stating;
  if (!crs)
    return stating.issues.some((issue) => issue.code === 'crs-nad27')
      ? stating
      : unsupported(where, named(keys, `EPSG:${code}`));
  const unit = keys.number(3076);
  const own = crs.proj4 ? Number(/\+to_meter=(\S+)/.exec(crs.proj4)?.[1] ?? 1) : null;
  const stated = LINEAR_UNITS.find(({ code: key }) => key === unit);
  if (own !== null && stated && Math.abs(stated.metres / own - 1) > 1e-9) {
    return unsupported(where, `${crs.name}, but coordinates counted in ${stated.name}`);
  }
  return stating;
}

function named(keys: GeoKeys, found: string): string {
  const name = keys.text(3073) || keys.text(1026) || keys.text(2049);
  return name ? `${found} (${name.slice(0, 80)})` : found;
}

function unsupported(where: string, found: string): SettledCrs {
  const issue: Issue = {
    code: 'crs-not-supported',
    severity: 'error',
    where,
    found,
    expected: 'a coordinate system that is known here, such as WGS 84 degrees or UTM',
    effect: 'The raster cannot be placed on the ground and is not used',
    remedy: 'Save it again in WGS 84 degrees (EPSG:4326) or UTM',
  };
  return { crs: null, issues: [issue] };
}

const LINEAR_UNITS = [
  { code: 9001, name: 'metre', metres: 1 },
  { code: 9002, name: 'foot', metres: 0.3048 },
  { code: 9003, name: 'US survey foot', metres: 1200 / 3937 },
] as const;

/** Datums by geographic system and by datum code, and their ellipsoids: axis in metres, inverse flattening. */
const DATUMS = [
  { codes: [4326, 6326], name: 'WGS_1984', a: 6378137, rf: 298.257223563 },
  { codes: [4269, 6269], name: 'North_American_Datum_1983', a: 6378137, rf: 298.257222101 },
  { codes: [4258, 6258], name: 'European_Terrestrial_Reference_System_1989', a: 6378137, rf: 298.257222101 },
] as const;
const ELLIPSOIDS: Readonly<Record<number, readonly [number, number]>> = {
  7030: [6378137, 298.257223563],
  7019: [6378137, 298.257222101],
};

/** The geographic system in well-known text, so that one reader judges every system; null where its datum is not told. */
function geographicWkt(keys: GeoKeys): string | null {
  const angle = keys.number(2054);
  if (angle !== null && angle !== 9102) return null;
  const code = [2048, 2050]
    .map((key) => keys.number(key))
    .find((own) => own !== null && own !== USER_DEFINED);
  const datum = DATUMS.find(({ codes }) => codes.some((own) => own === code));
  if (code !== undefined && !datum) return null;
  const [a, rf] = datum
    ? [datum.a, datum.rf]
    : (ELLIPSOIDS[keys.number(2056) ?? 0] ?? [keys.number(2057), keys.number(2059)]);
  if (a === null || rf === null) return null;
  return `GEOGCS["user-defined",DATUM["${datum?.name ?? 'unknown'}",SPHEROID["",${a},${rf}]${shiftWkt(keys)}],PRIMEM["Greenwich",${keys.number(2061) ?? 0}],UNIT["degree",0.0174532925199433]]`;
}

/** A shift to WGS 84 the file gives of its own; the reader of well-known text decides about it. */
function shiftWkt(keys: GeoKeys): string {
  const shift = keys.numbers(2062);
  return shift.length > 0 ? `,TOWGS84[${shift.join(',')}]` : '';
}

/** Projections by number, and the key of each parameter; the first key that the file has counts. */
const METHODS: Readonly<
  Record<number, { name: string; parameters: Readonly<Record<string, readonly number[]>> }>
> = {
  1: {
    name: 'Transverse_Mercator',
    parameters: {
      latitude_of_origin: [3081],
      central_meridian: [3080],
      scale_factor: [3092],
      false_easting: [3082],
      false_northing: [3083],
    },
  },
  8: {
    name: 'Lambert_Conformal_Conic_2SP',
    parameters: {
      latitude_of_origin: [3085, 3081],
      central_meridian: [3084, 3080],
      standard_parallel_1: [3078],
      standard_parallel_2: [3079],
      false_easting: [3086, 3082],
      false_northing: [3087, 3083],
    },
  },
  9: {
    name: 'Lambert_Conformal_Conic_1SP',
    parameters: {
      latitude_of_origin: [3081, 3085],
      central_meridian: [3080, 3084],
      scale_factor: [3092],
      false_easting: [3082, 3086],
      false_northing: [3083, 3087],
    },
  },
  10: {
    name: 'Lambert_Azimuthal_Equal_Area',
    parameters: {
      latitude_of_center: [3089, 3081],
      longitude_of_center: [3088, 3080],
      false_easting: [3082],
      false_northing: [3083],
    },
  },
  11: {
    name: 'Albers_Conic_Equal_Area',
    parameters: {
      latitude_of_center: [3081, 3089, 3085],
      longitude_of_center: [3080, 3088, 3084],
      standard_parallel_1: [3078],
      standard_parallel_2: [3079],
      false_easting: [3082, 3086],
      false_northing: [3083, 3087],
    },
  },
  16: {
    name: 'Oblique_Stereographic',
    parameters: {
      latitude_of_origin: [3081, 3089],
      central_meridian: [3080, 3088],
      scale_factor: [3092],
      false_easting: [3082],
      false_northing: [3083],
    },
  },
};

/** The projected system in well-known text; null where a part of it is not of the kinds above. */
function projectedWkt(keys: GeoKeys): string | null {
  const geographic = geographicWkt(keys);
  const unit = LINEAR_UNITS.find(({ code }) => code === (keys.number(3076) ?? 9001));
  if (geographic === null || !unit) return null;
  const projection = keys.number(3074);
  // The registry's own projections of UTM: 16001 to 16060 north of the equator, 16101 to 16160 south of it.
  const zone =
    projection === null || projection < 16001 || projection > 16160 ? 0 : (projection - 16000) % 100;
  if (zone >= 1 && zone <= 60) {
    const south = projection !== null && projection > 16100;
    return wkt(geographic, 'Transverse_Mercator', unit.metres, {
      latitude_of_origin: 0,
      central_meridian: 6 * zone - 183,
      scale_factor: 0.9996,
      false_easting: 500000 / unit.metres,
      false_northing: south ? 10000000 / unit.metres : 0,
    });
  }
  const method = METHODS[keys.number(3075) ?? 0];
  if (!method) return null;
  const parameters: Record<string, number> = {};
  for (const [name, candidates] of Object.entries(method.parameters)) {
    const value = candidates.map((key) => keys.number(key)).find((own) => own !== null);
    if (value !== undefined && value !== null) parameters[name] = value;
  }
  return wkt(geographic, method.name, unit.metres, parameters);
}

function wkt(
  geographic: string,
  method: string,
  metres: number,
  parameters: Readonly<Record<string, number>>,
): string {
  const list = Object.entries(parameters).map(([name, value]) => `PARAMETER["${name}",${value}]`);
  return `PROJCS["user-defined",${geographic},PROJECTION["${method}"],${list.join(',')},UNIT["unit",${metres}]]`;
}

import { M_PER_US_SURVEY_FT } from '../math/units.ts';
import { AMERSFOORT_DATUM, type Datum, ETRS89_DATUM, NAD83_DATUM, WGS84_DATUM } from './datum.ts';
import { type Projection, proj4Text } from './projection.ts';

/** A system of the EPSG registry that tests compare with an independent implementation. `proj4` null: lon/lat degrees. */
interface EpsgEntry {
  readonly name: string;
  readonly datum: Datum;
  readonly proj4: string | null;
}

const METRE = { falseEasting_m: 0, falseNorthing_m: 0, unit_m: 1 };

const GEOGRAPHIC: Readonly<Record<number, { name: string; datum: Datum }>> = {
  4326: { name: 'WGS 84', datum: WGS84_DATUM },
  4269: { name: 'NAD83', datum: NAD83_DATUM },
  4258: { name: 'ETRS89', datum: ETRS89_DATUM },
};

/** Iowa North's standard parallels, 42°04' and 43°16', with the origin its metre and its foot system share. */
const IOWA_NORTH = { method: 'lcc', lat0: 41.5, lon0: -93.5, lat1: 43 + 16 / 60, lat2: 42 + 4 / 60 } as const;

/** Single systems; parameters from the EPSG registry (epsg.org), false origins in metres. */
const SINGLE: Readonly<Record<number, { name: string; datum: Datum; projection: Projection }>> = {
  2154: {
    name: 'RGF93 / Lambert-93',
    datum: ETRS89_DATUM,
    projection: {
      ...METRE,
      method: 'lcc',
      lat0: 46.5,
      lon0: 3,
      lat1: 49,
      lat2: 44,
      falseEasting_m: 700000,
      falseNorthing_m: 6600000,
    },
  },
  3417: {
    name: 'NAD83 / Iowa North (ftUS)',
    datum: NAD83_DATUM,
    projection: {
      ...IOWA_NORTH,
      falseEasting_m: 1500000,
      falseNorthing_m: 3280833.3333 * M_PER_US_SURVEY_FT,
      unit_m: M_PER_US_SURVEY_FT,
    },
  },
  3857: {
    name: 'WGS 84 / Pseudo-Mercator',
    datum: WGS84_DATUM,
    projection: { ...METRE, method: 'web-mercator', lat0: 0, lon0: 0 },
  },
  5070: {
    name: 'NAD83 / Conus Albers',
    datum: NAD83_DATUM,
    projection: { ...METRE, method: 'aea', lat0: 23, lon0: -96, lat1: 29.5, lat2: 45.5 },
  },
  26975: {
    name: 'NAD83 / Iowa North',
    datum: NAD83_DATUM,
    projection: { ...IOWA_NORTH, falseEasting_m: 1500000, falseNorthing_m: 1000000, unit_m: 1 },
  },
  28992: {
    name: 'Amersfoort / RD New',
    datum: AMERSFOORT_DATUM,
    projection: {
      ...METRE,
      method: 'sterea',
      lat0: 52 + 9 / 60 + 22.178 / 3600,
      lon0: 5 + 23 / 60 + 15.5 / 3600,
      scale: 0.9999079,
      falseEasting_m: 155000,
      falseNorthing_m: 463000,
    },
  },
};

/** Families of UTM systems: code of zone 0, zones that exist, hemisphere. */
const UTM: readonly { base: number; first: number; last: number; south: boolean; datum: Datum }[] = [
  { base: 32600, first: 1, last: 60, south: false, datum: WGS84_DATUM },
  { base: 32700, first: 1, last: 60, south: true, datum: WGS84_DATUM },
  { base: 26900, first: 1, last: 23, south: false, datum: NAD83_DATUM },
  { base: 25800, first: 28, last: 38, south: false, datum: ETRS89_DATUM },
];

/** The system of an EPSG code, or null when it is not among those we have verified. */
export function epsgEntry(code: number): EpsgEntry | null {
  const geographic = GEOGRAPHIC[code];
  if (geographic) return { ...geographic, proj4: null };
  const single = SINGLE[code];
  if (single)
    return { name: single.name, datum: single.datum, proj4: proj4Text(single.projection, single.datum) };
  const family = UTM.find(({ base, first, last }) => code >= base + first && code <= base + last);
  if (!family) return null;
  const zone = code - family.base;
  const projection: Projection = {
    ...METRE,
    method: 'tmerc',
    lat0: 0,
    lon0: 6 * zone - 183,
    scale: 0.9996,
    falseEasting_m: 500000,
    falseNorthing_m: family.south ? 10000000 : 0,
  };
  const name = `${family.datum.id} / UTM zone ${zone}${family.south ? 'S' : 'N'}`;
  return { name, datum: family.datum, proj4: proj4Text(projection, family.datum) };
}

/** The EPSG code of a system known by its datum and proj4 text, or null. */
export function epsgCodeOf(datum: Datum, proj4: string | null): number | null {
  const codes = [GEOGRAPHIC, SINGLE].flatMap((table) => Object.keys(table).map(Number));
  for (const { base, first, last } of UTM) {
    for (let zone = first; zone <= last; zone++) codes.push(base + zone);
  }
  const same = (entry: EpsgEntry | null) => entry?.datum.id === datum.id && entry.proj4 === proj4;
  return codes.find((code) => same(epsgEntry(code))) ?? null;
}

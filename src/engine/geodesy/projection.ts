import { M_PER_FT, M_PER_US_SURVEY_FT } from '../math/units.ts';
import type { Datum } from './datum.ts';

/** The linear units that field data come in. */
export const LINEAR_UNITS = [
  { name: 'metre', metres: 1 },
  { name: 'international foot', metres: M_PER_FT },
  { name: 'US survey foot', metres: M_PER_US_SURVEY_FT },
] as const;

/** The unit of coordinates in words: `metres`, `international feet`, `US survey feet`. */
export function unitWords(unit_m: number): string {
  const name = LINEAR_UNITS.find(({ metres }) => metres === unit_m)?.name ?? `units of ${unit_m} m`;
  return name.replace('foot', 'feet').replace('metre', 'metres');
}

/** A map projection by its parameters: degrees and metres, whatever unit its coordinates are counted in. */
export interface Projection {
  readonly method: 'tmerc' | 'lcc' | 'aea' | 'sterea' | 'laea' | 'omerc' | 'web-mercator';
  readonly lat0: number;
  readonly lon0: number;
  /** Standard parallels, in either order; Lambert with one has `lat1` and a scale. */
  readonly lat1?: number;
  readonly lat2?: number;
  readonly scale?: number;
  /** Of the oblique Mercator (variant A), its initial line at the centre, clockwise from north; its grid is turned by as much. */
  readonly azimuth?: number;
  readonly falseEasting_m: number;
  readonly falseNorthing_m: number;
  /** Metres in one unit of its coordinates. */
  readonly unit_m: number;
}

/**
 * The one proj4 text of a projection on a datum. Degrees are written to 1e-10 and metres to 1e-6, so that the same
 * system written by different programs gives the same text.
 */
export function proj4Text(projection: Projection, datum: Datum): string {
  const { method } = projection;
  const degrees = (value: number) => String(Number(value.toFixed(10)));
  const metres = (value: number) => String(Number(value.toFixed(6)));
  const offsets = `+x_0=${metres(projection.falseEasting_m)} +y_0=${metres(projection.falseNorthing_m)}`;
  const unit = projection.unit_m === 1 ? '+units=m' : `+to_meter=${projection.unit_m}`;
  if (method === 'web-mercator') {
    return `+proj=merc +a=6378137 +b=6378137 +lat_ts=0 +lon_0=${degrees(projection.lon0)} +k=1 ${offsets} ${unit} +nadgrids=@null +no_defs`;
  }
  const parts = [
    `+proj=${method}`,
    `+lat_0=${degrees(projection.lat0)}`,
    `+lon_0=${degrees(projection.lon0)}`,
  ];
  const parallels = [projection.lat1, projection.lat2].filter((lat) => lat !== undefined);
  parallels.sort((a, b) => a - b);
  parts.push(...parallels.map((lat, i) => `+lat_${i + 1}=${degrees(lat)}`));
  if (projection.azimuth !== undefined) {
    // This projection has its longitude of centre by another name, and variant A keeps its origin on the equator.
    parts[2] = `+lonc=${degrees(projection.lon0)}`;
    parts.push(`+alpha=${degrees(projection.azimuth)} +gamma=${degrees(projection.azimuth)} +no_uoff`);
  }
  if (projection.scale !== undefined) parts.push(`+k_0=${projection.scale}`);
  return [...parts, offsets, datum.proj4, unit, '+no_defs'].join(' ');
}

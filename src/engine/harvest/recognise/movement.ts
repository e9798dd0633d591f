import type { Source } from '../../layers/source.ts';
import { M_PER_FT, M_PER_US_SURVEY_FT } from '../../math/units.ts';

/** How the machine moved from each sampled row to the next; NaN where a place is missing or it did not move. */
export interface Movement {
  readonly spacing_m: Float64Array;
  /** Clockwise from north. */
  readonly bearing_deg: Float64Array;
}

/** Metres in a degree of a meridian, within half a percent anywhere. */
const M_PER_DEGREE = 111_200;
/** Farther apart than this, records are not one after the other. */
const APART_M = 50;

/** From the places as the file gives them: good to about a percent, which tells units apart and no more. */
export function movementOf(source: Source, rows: Int32Array): Movement {
  const { x, y } = source;
  const spacing_m = new Float64Array(rows.length).fill(NaN);
  const bearing_deg = new Float64Array(rows.length).fill(NaN);
  const scale = metresPerUnit(source);
  for (const [k, row] of rows.entries()) {
    if (row + 1 >= x.length) continue;
    const north = (y[row + 1] - y[row]) * (scale ?? M_PER_DEGREE);
    const east = (x[row + 1] - x[row]) * (scale ?? M_PER_DEGREE * Math.cos((y[row] * Math.PI) / 180));
    const spacing = Math.hypot(east, north);
    if (!(spacing > 0.05 && spacing < APART_M)) continue;
    spacing_m[k] = spacing;
    bearing_deg[k] = ((Math.atan2(east, north) * 180) / Math.PI + 360) % 360;
  }
  return { spacing_m, bearing_deg };
}

/** Null for degrees. A file without a system is in degrees if its figures can be. */
function metresPerUnit({ crs, x, y }: Source): number | null {
  if (crs) {
    if (crs.proj4 === null || /\+proj=longlat/.test(crs.proj4)) return null;
    if (/\+units=us-ft/.test(crs.proj4)) return M_PER_US_SURVEY_FT;
    const toMetre = /\+to_meter=([0-9.]+)/.exec(crs.proj4);
    return toMetre ? Number(toMetre[1]) : /\+units=ft/.test(crs.proj4) ? M_PER_FT : 1;
  }
  const known = x.findIndex((own, row) => Number.isFinite(own) && Number.isFinite(y[row]));
  return known < 0 || (Math.abs(x[known]) <= 180 && Math.abs(y[known]) <= 90) ? null : 1;
}

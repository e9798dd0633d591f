import { M_PER_FT, M_PER_US_SURVEY_FT } from '../math/units.ts';
import type { Box } from './box.ts';
import type { Datum } from './datum.ts';
import type { Projection } from './projection.ts';

/** A projected system of the EPSG registry that tests compare with an independent implementation. */
export interface ListedSystem {
  readonly code: number;
  readonly name: string;
  readonly datum: Datum;
  readonly projection: Projection;
  /** Where it is meant to be used, degrees, as the registry has it, rounded outwards to 0.1. */
  readonly area: Box;
}

const UNITS: Readonly<Record<string, { metres: number; words: string }>> = {
  m: { metres: 1, words: '' },
  ftUS: { metres: M_PER_US_SURVEY_FT, words: ' (US survey feet)' },
  ft: { metres: M_PER_FT, words: ' (international feet)' },
};

/**
 * The systems of some lines, each `zone | west south east north | projection | unit easting northing codes… | …`: degrees as 43:16 or 43:16:02.5, the
 * false origin in the unit of the coordinates, one code for each of `datums` (`-` or nothing where the registry has none). Projections:
 * `tmerc lat0 lon0 scale`, `sterea` the same, `omerc lat0 lon0 azimuth scale`, `lcc lat0 lon0 lat1 lat2`, `aea` the same, `lcc1 lat0 lon0 scale`, `laea lat0 lon0`.
 */
export function systemsOf(datums: readonly Datum[], lines: string): ListedSystem[] {
  return lines
    .trim()
    .split('\n')
    .flatMap((line) => {
      const [zone, box, projection, ...units] = line.split(' | ');
      const [west, south, east, north] = box.split(' ').map(Number);
      return units.flatMap((text) => {
        const [unit, easting, northing, ...codes] = text.split(' ');
        const { metres, words } = UNITS[unit];
        const whole: Projection = {
          ...shapeOf(projection.split(' ')),
          falseEasting_m: Number(easting) * metres,
          falseNorthing_m: Number(northing) * metres,
          unit_m: metres,
        };
        return codes.flatMap((code, k) =>
          code === '-'
            ? []
            : {
                code: Number(code),
                name: `${datums[k].id} / ${zone}${words}`,
                datum: datums[k],
                projection: whole,
                area: { west, south, east, north },
              },
        );
      });
    });
}

function shapeOf([method, ...words]: readonly string[]): Pick<Projection, 'method' | 'lat0' | 'lon0'> {
  const [lat0, lon0] = words.map(degreesOf);
  if (method === 'lcc1')
    return { method: 'lcc', lat0, lon0, lat1: lat0, scale: Number(words[2]) } as Projection;
  if (method === 'tmerc' || method === 'sterea')
    return { method, lat0, lon0, scale: Number(words[2]) } as Projection;
  if (method === 'omerc')
    return { method, lat0, lon0, azimuth: degreesOf(words[2]), scale: Number(words[3]) } as Projection;
  if (method === 'laea') return { method, lat0, lon0 };
  return { method, lat0, lon0, lat1: degreesOf(words[2]), lat2: degreesOf(words[3]) } as Projection;
}

function degreesOf(text: string): number {
  const [degrees, minutes = 0, seconds = 0] = text.replace('-', '').split(':').map(Number);
  return (text.startsWith('-') ? -1 : 1) * (degrees + minutes / 60 + seconds / 3600);
}

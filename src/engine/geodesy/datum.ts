/** A datum whose way to WGS 84 we have verified. */
export interface Datum {
  readonly id: 'WGS 84' | 'NAD83' | 'ETRS89' | 'Amersfoort' | 'unknown';
  /** Ellipsoid and shift for proj4. */
  readonly proj4: string;
}

export const WGS84_DATUM: Datum = { id: 'WGS 84', proj4: '+ellps=WGS84 +towgs84=0,0,0' };
/** NAD83 and ETRS89 lie within about two metres of WGS 84 and are taken as it, as programs without a time of survey do. */
export const NAD83_DATUM: Datum = { id: 'NAD83', proj4: '+ellps=GRS80 +towgs84=0,0,0' };
export const ETRS89_DATUM: Datum = { id: 'ETRS89', proj4: '+ellps=GRS80 +towgs84=0,0,0' };
/**
 * The Dutch datum with its published seven parameters, EPSG operation 4833 (Amersfoort to WGS 84 (4)), position
 * vector signs, rotations in arc-seconds (published as 1.9342, -1.6677 and 9.1019 microradians, coordinate frame).
 */
export const AMERSFOORT_DATUM: Datum = {
  id: 'Amersfoort',
  proj4:
    '+ellps=bessel +towgs84=565.4171,50.3319,465.5524,-0.398957388243134,0.343987817378283,-1.87740163998045,4.0725',
};
const UNKNOWN_DATUM: Datum = { id: 'unknown', proj4: '+ellps=GRS80 +towgs84=0,0,0' };

const NAMES: readonly { pattern: RegExp; datum: Datum }[] = [
  { pattern: /^(wgs(19)?84|worldgeodeticsystem(of)?1984)/, datum: WGS84_DATUM },
  { pattern: /^(nad(19)?83|northamerican(datum)?(of)?(19)?83)/, datum: NAD83_DATUM },
  {
    pattern:
      /^(etrs(19)?89|europeanterrestrialreferencesystem(19)?89|etrf|rgf(19)?93|reseaugeodesiquefrancais1993)/,
    datum: ETRS89_DATUM,
  },
];
const NO_NAME = /^$|unknown|notspecified|unspecified|unnamed|undefined|basedon(grs|wgs)/;

/**
 * The verified datum for what a file says: the ellipsoid decides (semi-major axis in metres, inverse flattening), the
 * name only tells apart those that share one. Null when the ellipsoid or a known name belongs to another datum.
 */
export function datumFrom(name: string, a_m: number, inverseFlattening: number): Datum | null {
  const plain = name
    .toLowerCase()
    .replace(/^d_/, '')
    .replace(/[^a-z0-9]/g, '');
  if (isEllipsoid(a_m, inverseFlattening, 6377397.155, 299.1528128)) {
    return plain.startsWith('amersfoort') || plain.startsWith('rddatum') ? AMERSFOORT_DATUM : null;
  }
  const modern =
    isEllipsoid(a_m, inverseFlattening, 6378137, 298.257223563) ||
    isEllipsoid(a_m, inverseFlattening, 6378137, 298.257222101);
  if (!modern) return null;
  const known = NAMES.find((each) => each.pattern.test(plain));
  if (known) return known.datum;
  return NO_NAME.test(plain) ? UNKNOWN_DATUM : null;
}

/** Within what programs cut off in writing: a millimetre of axis, 1e-5 of inverse flattening (0.2 mm of a coordinate). */
function isEllipsoid(a_m: number, inverseFlattening: number, a: number, rf: number): boolean {
  return Math.abs(a_m - a) < 1e-3 && Math.abs(inverseFlattening - rf) < 1e-5;
}

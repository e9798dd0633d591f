/** A datum whose way to WGS 84 we have verified. */
export interface Datum {
  readonly id:
    | 'WGS 84'
    | Nad83
    | 'another NAD83'
    | 'ETRS89'
    | EuropeanFrame
    | 'Amersfoort'
    | 'NAD27'
    | 'unknown';
  /** Ellipsoid and shift for proj4. */
  readonly proj4: string;
}

type Nad83 = 'NAD83' | 'NAD83(HARN)' | 'NAD83(NSRS2007)' | 'NAD83(2011)' | 'NAD83(CSRS)';
type EuropeanFrame = 'RGF93 v1' | 'SWEREF99' | 'IRENET95' | 'ETRF2000-PL' | 'LKS94' | 'LKS92' | 'EST97';

const UNSHIFTED = '+ellps=GRS80 +towgs84=0,0,0';
export const WGS84_DATUM: Datum = { id: 'WGS 84', proj4: '+ellps=WGS84 +towgs84=0,0,0' };
/**
 * NAD83 in all its realizations and ETRS89 in its national ones lie within about two metres of WGS 84 and are taken as it, as programs without a time
 * of survey do, by the null operations of the EPSG registry: 1188, 1580, 15931, 9774, 1842, 1149 and their like. So one field's layers in two of
 * them stay together; for HARN and CSRS PROJ of itself takes another operation (1901, 1946), a metre from the null one.
 */
export const NAD83_DATUM: Datum = { id: 'NAD83', proj4: UNSHIFTED };
export const ETRS89_DATUM: Datum = { id: 'ETRS89', proj4: UNSHIFTED };
/**
 * The Dutch datum with its published seven parameters, EPSG operation 4833 (Amersfoort to WGS 84 (4)), position
 * vector signs, rotations in arc-seconds (published as 1.9342, -1.6677 and 9.1019 microradians, coordinate frame).
 */
export const AMERSFOORT_DATUM: Datum = {
  id: 'Amersfoort',
  proj4:
    '+ellps=bessel +towgs84=565.4171,50.3319,465.5524,-0.398957388243134,0.343987817378283,-1.87740163998045,4.0725',
};
/**
 * The American datum of 1927 by its mean shift in the lower 48, EPSG operation 1173 (NAD27 to WGS 84 (4)), of a stated accuracy of 10 m. Never used
 * unless the user accepts that: a grid of shifts, which we do not carry, would bring it to decimetres.
 */
export const NAD27_DATUM: Datum = { id: 'NAD27', proj4: '+a=6378206.4 +b=6356583.8 +towgs84=-8,160,176' };
const UNKNOWN_DATUM: Datum = { id: 'unknown', proj4: UNSHIFTED };

const NAD83_NAME = '(nad(19)?83|northamerican(datum)?(of)?(19)?83)';
const unshifted = (id: Datum['id'], pattern: string) => ({
  pattern: new RegExp(pattern),
  datum: { id, proj4: UNSHIFTED },
});
/** In this order, on names in lower case without punctuation. */
const NAMES: readonly { pattern: RegExp; datum: Datum }[] = [
  { pattern: /^(wgs(19)?84|worldgeodeticsystem(of)?1984)/, datum: WGS84_DATUM },
  { pattern: new RegExp(`^${NAD83_NAME}(datum)?$`), datum: NAD83_DATUM },
  unshifted('NAD83(HARN)', `^${NAD83_NAME}(harn|highaccuracyreferencenetwork)$`),
  unshifted('NAD83(NSRS2007)', `^${NAD83_NAME}(nsrs|nationalspatialreferencesystem)2007$`),
  unshifted('NAD83(2011)', `^${NAD83_NAME}(nsrs|nationalspatialreferencesystem)?2011$`),
  unshifted('NAD83(CSRS)', `^${NAD83_NAME}(csrs|canadianspatialreferencesystem)$`),
  unshifted('another NAD83', `^${NAD83_NAME}`),
  unshifted('RGF93 v1', '^(rgf(19)?93|reseaugeodesiquefrancais1993)(v1)?$'),
  unshifted('SWEREF99', '^sweref99'),
  unshifted('IRENET95', '^irenet95'),
  unshifted('ETRF2000-PL', '^etrf2000(pl|poland)'),
  unshifted('LKS94', '^(lks94|lithuania1994)'),
  unshifted('LKS92', '^(lks92|latvia1992|latviangeodeticcoordinatesystem1992)'),
  unshifted('EST97', '^(est97|estonia1997)'),
  {
    pattern: /^(etrs(19)?89|europeanterrestrialreferencesystem(19)?89|etrf|rgf(19)?93|reseaugeodesique)/,
    datum: ETRS89_DATUM,
  },
];
const NAD27_NAME = /^(nad(19)?27|northamerican(datum)?(of)?(19)?27)$/;
const NO_NAME = /^$|unknown|notspecified|unspecified|unnamed|undefined|basedon(grs|wgs)/;

/** The verified datum of an id, as the lists of systems name it. */
export function datumOfId(id: Datum['id']): Datum {
  if (id === 'Amersfoort') return AMERSFOORT_DATUM;
  if (id === 'NAD27') return NAD27_DATUM;
  return NAMES.find(({ datum }) => datum.id === id)?.datum ?? UNKNOWN_DATUM;
}

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
  if (isEllipsoid(a_m, inverseFlattening, 6378206.4, 294.9786982)) {
    return NAD27_NAME.test(plain) ? NAD27_DATUM : null;
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

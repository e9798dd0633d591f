/**
 * WGS 84 defining constants: semi-major axis in metres and flattening.
 * Source: NGA.STND.0036, World Geodetic System 1984, table 3.1.
 */
export const WGS84_A_M = 6378137;
export const WGS84_F = 1 / 298.257223563;

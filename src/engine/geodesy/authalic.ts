import { WGS84_F } from './ellipsoid.ts';

/** First eccentricity squared of WGS 84. */
export const WGS84_E2 = WGS84_F * (2 - WGS84_F);

/**
 * q of a sine of geodetic latitude: area of the ellipsoid between the equator and that latitude, in units of π a².
 * Odd, and increasing to `WGS84_Q_POLE`. Source: Snyder (1987), eq. 3-12 as a power series in z = e² sin² φ: sin φ (1 − e²) Σ (2k + 2) / (2k + 1) zᵏ.
 * z is under 0.0067, and what follows the eighth term under 1e-17 of the sum.
 */
export function authalicQ(sinPhi: number): number {
  const z = WGS84_E2 * sinPhi * sinPhi;
  const high = 10 / 9 + z * (12 / 11 + z * (14 / 13 + (z * 16) / 15));
  return (1 - WGS84_E2) * sinPhi * (2 + z * (4 / 3 + z * (6 / 5 + z * (8 / 7 + z * high))));
}

/** q of a pole. */
export const WGS84_Q_POLE = authalicQ(1);

/**
 * The sine of geodetic latitude whose q this is, by Newton on sin φ (Snyder's eq. 3-16 without its division by
 * cos φ). Three steps: the first guess is within 2e-3, and each step squares the error times e².
 */
export function sinGeodeticFromQ(q: number): number {
  let s = q / WGS84_Q_POLE;
  for (let step = 0; step < 3; step++) {
    const w = 1 - WGS84_E2 * s * s;
    s += ((q - authalicQ(s)) * w * w) / (2 * (1 - WGS84_E2));
  }
  return Math.min(1, Math.max(-1, s));
}

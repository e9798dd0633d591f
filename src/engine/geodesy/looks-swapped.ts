import { type Box, greatCircle_km, middleOf, type Place } from './box.ts';

/** Nobody farms nearer to a pole, degrees of latitude. */
const LAST_FARM = 72;
/** Two layers of one job lie nearer than the one and never as far as the other, km. */
const TOGETHER_KM = 50;
const FAR_KM = 500;

/**
 * Why degrees seem to have longitude and latitude in each other's place, or null. `beyond-the-pole`: latitudes that are none, which exchanged would be
 * longitudes; `no-farmland`: polar latitudes, which exchanged would be none; `mirrored`: far from another layer of the job (`near`),
 * but beside it when exchanged.
 */
export function looksSwapped(
  degrees: Box,
  near: Place | null = null,
): 'beyond-the-pole' | 'no-farmland' | 'mirrored' | null {
  const { west, south, east, north } = degrees;
  const exchangeable = west >= -90 && east <= 90 && south >= -180 && north <= 180;
  if (!exchangeable) return null;
  const polar = (limit: number) => south > limit || north < -limit;
  if (polar(90)) return 'beyond-the-pole';
  const place = middleOf(degrees);
  const exchanged = { lon: place.lat, lat: place.lon };
  if (near && greatCircle_km(place, near) > FAR_KM && greatCircle_km(exchanged, near) < TOGETHER_KM) {
    return 'mirrored';
  }
  return polar(LAST_FARM) && west > -LAST_FARM && east < LAST_FARM ? 'no-farmland' : null;
}

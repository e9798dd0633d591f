/** Half way round the Earth and a little: what lies further from the field is no place. */
const FARTHEST_M = 2.1e7;

/** Whether coordinates in the field frame are a place on Earth. */
export function hasPlace(x_m: number, y_m: number): boolean {
  return Math.abs(x_m) < FARTHEST_M && Math.abs(y_m) < FARTHEST_M;
}

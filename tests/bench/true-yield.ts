/** Yield of the invented ground, bu/ac: slow change over the field, and patches of soil some 50 m across. */
export function groundYield(x_m: number, y_m: number): number {
  const slow = 25 * Math.sin(x_m / 210) * Math.cos(y_m / 330) + 15 * Math.sin((x_m + 2 * y_m) / 900);
  return 190 + slow + 16 * Math.sin(x_m / 23) * Math.cos(y_m / 17 + x_m / 60);
}

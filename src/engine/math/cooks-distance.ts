/**
 * Cook's distance of a point, by its index, in the least-squares line of y on x (Cook 1977, Technometrics 19:15): Dᵢ = eᵢ² / (2 s²) · hᵢ / (1 − hᵢ)², h the leverage, s² = Σe² / (n − 2).
 * Points with a NaN y are left out and get NaN. All NaN or infinite where the line is not determined.
 */
export function cooksDistance(x: Float64Array, y: Float64Array): (k: number) => number {
  let n = 0;
  let sumX = 0;
  let sumY = 0;
  for (let k = 0; k < x.length; k++) {
    if (Number.isNaN(y[k])) continue;
    n++;
    sumX += x[k];
    sumY += y[k];
  }
  const meanX = sumX / n;
  const meanY = sumY / n;
  let xx = 0;
  let xy = 0;
  let yy = 0;
  for (let k = 0; k < x.length; k++) {
    if (Number.isNaN(y[k])) continue;
    const dx = x[k] - meanX;
    const dy = y[k] - meanY;
    xx += dx * dx;
    xy += dx * dy;
    yy += dy * dy;
  }
  const slope = xy / xx;
  const variance = (yy - slope * xy) / (n - 2);
  return (k) => {
    const dx = x[k] - meanX;
    const error = y[k] - meanY - slope * dx;
    const leverage = 1 / n + (dx * dx) / xx;
    return ((error * error) / (2 * variance)) * (leverage / (1 - leverage) ** 2);
  };
}

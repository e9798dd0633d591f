/**
 * Mean and variance of the lag of a record under conditional randomisation (Anselin 1995): its own deviation z stays, and its k neighbours are drawn without return from the
 * other n − 1. `squares` is Σz² over all n, whose Σz is 0. Sampling from a finite set: E = −z / (n − 1), Var = s² / k · (n − 1 − k) / (n − 2), s² the population variance of the others.
 */
export function lagMoments(
  z: number,
  n: number,
  squares: number,
  k: number,
): { readonly mean: number; readonly variance: number } {
  const mean = -z / (n - 1);
  const others = (squares - z * z) / (n - 1) - mean * mean;
  return { mean, variance: ((others / k) * (n - 1 - k)) / (n - 2) };
}

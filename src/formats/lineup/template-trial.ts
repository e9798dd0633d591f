/** A trial table to fill in, as text; its rows are invented and show what goes where. */
export function trialTemplate(): string {
  return rows([
    ['product', 'crop', 'site', 'year', 'rep', 'stand (plants/ac)', 'yield (bu/ac)'],
    ...plots('Wren 98 (example)', 'Mill Lane', [158.2, 171.9, 169.4], [155.8, 173.1, 171.2]),
    ...plots('Teal 104 (example)', 'Mill Lane', [160.1, 178.4, 183], [162.7, 176.3, 185.6]),
    ...plots('Wren 98 (example)', 'Fen End', [171.3, 188.6, 190.2], [169.9, 190.8, 188.7]),
    ...plots('Teal 104 (example)', 'Fen End', [174.5, 197.2, 206.1], [176, 199.9, 204.3]),
  ]);
}

const STANDS = [22_000, 28_000, 34_000];

function plots(
  product: string,
  site: string,
  ...reps: readonly (readonly number[])[]
): (string | number)[][] {
  return reps.flatMap((yields, rep) =>
    yields.map((y, k) => [product, 'corn', site, 2025, rep + 1, STANDS[k], y.toFixed(1)]),
  );
}

function rows(cells: readonly (readonly (string | number)[])[]): string {
  return cells.map((row) => `${row.join(',')}\r\n`).join('');
}

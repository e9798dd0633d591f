import type { Results } from '../../../run/results.ts';
import { productColour, productHatch } from '../colours/classes.ts';
import { css } from '../colours/ramps.ts';
import type { ClassKey } from '../drawing.ts';

/** Products planted, in lineup order: their place among those used gives colour and hatch. */
export function plantedProducts(results: Results): number[] {
  return [...new Set((results.choices ?? []).map((choice) => choice.chosen.product))].sort((a, b) => a - b);
}

/** Legend lines of the products planted; without `colour` each shows the hatch alone. */
export function plantedKey(results: Results, colour: string | null): ClassKey[] {
  return plantedProducts(results).map((product, place) => ({
    label: results.lineup[product].name,
    detail: '',
    colour: colour ?? css(productColour(place)),
    hatch: productHatch(place),
  }));
}

import { figure } from '../../parts/figures.ts';
import { productHatch } from '../colours/classes.ts';
import { css, rateRamp } from '../colours/ramps.ts';
import type { ShownLayer } from '../drawing.ts';
import { labelSpots } from '../picture/label-spots.ts';
import { paintCells } from '../picture/paint.ts';
import { share, ticks } from './domain.ts';
import { plantedKey, plantedProducts } from './planted.ts';

/** Whole thousands about the rates, so that one seed more does not change every colour. */
export function rateDomain(rates: readonly number[]): { low: number; high: number } {
  const low = Math.floor(Math.min(...rates) / 1000) * 1000;
  const high = Math.ceil(Math.max(...rates) / 1000) * 1000;
  return high - low < 2000 ? { low: low - 1000, high: high + 1000 } : { low, high };
}

export const rate: ShownLayer = {
  id: 'rate',
  name: 'Seeds per acre',
  isIn: (results) => results.choices !== null,
  draw(results, { night, fineness }) {
    const { field, zoning, choices } = results;
    if (!field || !zoning || !choices) return null;
    const rates = choices.map((choice) => choice.chosen.seedsPerAc);
    const domain = rateDomain(rates);
    const ramp = rateRamp(night);
    const colours = rates.map((value) => ramp(share(value, domain)));
    const used = plantedProducts(results);
    const hatch = choices.map((choice) => productHatch(used.indexOf(choice.chosen.product)));
    return {
      key: {
        kind: 'ramp',
        title: 'Seeds per acre',
        colours: [0, 0.25, 0.5, 0.75, 1].map((t) => css(ramp(t))),
        ticks: ticks(domain, (value) => figure(value)),
        classes: plantedKey(results, css(ramp(0.25))),
        note: '',
      },
      picture: paintCells(
        field.grid,
        field.region,
        fineness,
        (cell) => colours[zoning.label[cell]],
        used.length > 1 ? (cell) => hatch[zoning.label[cell]] : null,
      ),
      divisions: { between: zoning.label },
      labels: labelSpots(field.grid, zoning.label).map((spot) => ({
        cell: spot.cell,
        title: zoning.zones[spot.label].name,
        detail: figure(rates[spot.label]),
      })),
    };
  },
};

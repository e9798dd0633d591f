import { productColour, productHatch } from '../colours/classes.ts';
import type { ShownLayer } from '../drawing.ts';
import { labelSpots } from '../picture/label-spots.ts';
import { paintCells } from '../picture/paint.ts';
import { plantedKey, plantedProducts } from './planted.ts';

export const product: ShownLayer = {
  id: 'product',
  name: 'Product',
  isIn: (results) => results.choices !== null,
  draw(results, { fineness }) {
    const { field, zoning, choices, lineup } = results;
    if (!field || !zoning || !choices) return null;
    const used = plantedProducts(results);
    const place = choices.map((choice) => used.indexOf(choice.chosen.product));
    const label = Uint8Array.from(zoning.label, (zone) => place[zone]);
    return {
      key: { kind: 'classes', title: 'Product', classes: plantedKey(results, null), note: '' },
      picture: paintCells(
        field.grid,
        field.region,
        fineness,
        (cell) => productColour(label[cell]),
        (cell) => productHatch(label[cell]),
      ),
      divisions: { between: zoning.label },
      labels: labelSpots(field.grid, zoning.label).map((spot) => ({
        cell: spot.cell,
        title: zoning.zones[spot.label].name,
        detail: lineup[choices[spot.label].chosen.product].name,
      })),
    };
  },
};

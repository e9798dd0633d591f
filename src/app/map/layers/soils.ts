import { acresFromM2 } from '../../../engine/math/units.ts';
import { figure } from '../../parts/figures.ts';
import { soilColour } from '../colours/classes.ts';
import { css } from '../colours/ramps.ts';
import type { ShownLayer } from '../drawing.ts';
import { labelSpots } from '../picture/label-spots.ts';
import { paintRegions } from '../picture/paint.ts';
import { regionOfCells } from '../picture/scanline.ts';

export const soils: ShownLayer = {
  id: 'soils',
  name: 'Soils',
  draw({ field, soils: layer }, { night }) {
    if (!field || !layer) return null;
    // Units of one name share a colour; a map unit often lies in several pieces.
    const names = [...new Set(layer.mapUnits.map((unit) => unit.name))];
    const place = layer.mapUnits.map((unit) => names.indexOf(unit.name));
    const regions = layer.mapUnits.map((unit) => unit.region);
    const inCell = regionOfCells(field.grid, regions);
    const label = Int16Array.from(inCell, (index) => (index < 0 ? -1 : place[index]));
    const unitOf = (name: string) => layer.mapUnits.filter((unit) => unit.name === name);
    const valueText = (name: string) => `${figure(unitOf(name)[0].value)} ${layer.unit}`.trim();
    return {
      key: {
        kind: 'classes',
        title: `Soil map units, with their ${layer.label}`,
        classes: names.map((name, k) => ({
          label: name,
          detail: `${valueText(name)}, ${figure(
            acresFromM2(unitOf(name).reduce((sum, unit) => sum + unit.area_m2, 0)),
            1,
          )} ac`,
          colour: css(soilColour(k, night)),
          hatch: 0,
        })),
        note: '',
      },
      picture: paintRegions(field.grid, field.region, regions, (index) => soilColour(place[index], night)),
      divisions: label,
      labels: labelSpots(field.grid, label).map((spot) => ({
        cell: spot.cell,
        title: names[spot.label],
        detail: valueText(names[spot.label]),
      })),
    };
  },
};

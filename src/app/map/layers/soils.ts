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
  isIn: (results) => results.soils !== null,
  draw({ field, soils: layer }, { night, fineness }) {
    if (!field || !layer) return null;
    // Units of one name share a colour; a map unit often lies in several pieces.
    const names = [...new Set(layer.mapUnits.map((unit) => unit.name))];
    const place = layer.mapUnits.map((unit) => names.indexOf(unit.name));
    const regions = layer.mapUnits.map((unit) => unit.region);
    const inCell = regionOfCells(field.grid, regions);
    const label = Int16Array.from(inCell, (index) => (index < 0 ? -1 : place[index]));
    // One name may stand for several map units of different worth.
    const valueText = (name: string) => {
      const values = layer.mapUnits.filter((unit) => unit.name === name).map((unit) => unit.value);
      const [low, high] = [figure(Math.min(...values)), figure(Math.max(...values))];
      return `${low === high ? low : `${low} to ${high}`} ${layer.unit}`.trim();
    };
    return {
      key: {
        kind: 'classes',
        title: `Soil map units (${layer.label})`,
        classes: names.map((name, k) => ({
          label: name,
          detail: valueText(name),
          colour: css(soilColour(k, night)),
          hatch: 0,
        })),
        note: '',
      },
      picture: paintRegions(field.grid, field.region, regions, fineness, (index) =>
        soilColour(place[index], night),
      ),
      divisions: { about: regions },
      labels: labelSpots(field.grid, label).map((spot) => ({
        cell: spot.cell,
        title: names[spot.label],
        detail: valueText(names[spot.label]),
      })),
    };
  },
};

import { acresFromM2 } from '../../../engine/math/units.ts';
import { figure } from '../../parts/figures.ts';
import { css, type Rgb, zoneRamp } from '../colours/ramps.ts';
import type { ShownLayer } from '../drawing.ts';
import { labelSpots } from '../picture/label-spots.ts';
import { paintCells } from '../picture/paint.ts';

/** Colour of zone `index` among `count`, poorest ground first. */
export function zoneColour(index: number, count: number, night: boolean): Rgb {
  return zoneRamp(night)(count < 2 ? 0.5 : index / (count - 1));
}

export const zones: ShownLayer = {
  id: 'zones',
  name: 'Zones',
  isIn: (results) => results.zoning !== null,
  draw({ field, zoning }, { night, fineness }) {
    if (!field || !zoning) return null;
    const { label, zones: list } = zoning;
    const colours = list.map((_, k) => zoneColour(k, list.length, night));
    return {
      key: {
        kind: 'classes',
        title: 'Zones, poorest ground to best',
        classes: list.map((zone, k) => ({
          label: zone.name,
          detail: `${figure(zone.environment_buPerAc)} bu/ac, ${figure(acresFromM2(zone.area_m2), 1)} ac`,
          colour: css(colours[k]),
          hatch: 0,
        })),
        note: '',
      },
      picture: paintCells(field.grid, field.region, fineness, (cell) => colours[label[cell]]),
      divisions: { between: label },
      labels: labelSpots(field.grid, label).map((spot) => ({
        cell: spot.cell,
        title: list[spot.label].name,
        detail: `${figure(list[spot.label].environment_buPerAc)} bu/ac`,
      })),
    };
  },
};

import { css, otherRamp } from '../colours/ramps.ts';
import type { ShownLayer } from '../drawing.ts';
import { paintCells } from '../picture/paint.ts';
import { fineTicks, looseDomain, share } from './domain.ts';

/** Whatever else is known of the ground: elevation, a soil test, a picture from above. */
export const other: ShownLayer = {
  id: 'other',
  name: 'Other',
  isIn: ({ layers }) => layers.length > 0,
  draw({ field, layers }, { night, fineness, other: wanted }) {
    const layer = layers.find(({ id }) => id === wanted) ?? layers[0];
    if (!field || !layer) return null;
    const domain = looseDomain(layer.values);
    const ramp = otherRamp(night);
    return {
      key: {
        kind: 'ramp',
        title:
          layer.unit && !layer.label.includes(layer.unit) ? `${layer.label}, ${layer.unit}` : layer.label,
        colours: [0, 0.25, 0.5, 0.75, 1].map((t) => css(ramp(t))),
        ticks: fineTicks(domain),
        classes: [],
        note: 'Looked at, not counted',
      },
      picture: paintCells(field.grid, field.region, fineness, (cell) =>
        Number.isNaN(layer.values[cell]) ? null : ramp(share(layer.values[cell], domain)),
      ),
      divisions: null,
      labels: [],
    };
  },
};

import type { FieldGrid } from '../../../engine/grid/field-grid.ts';
import type { YieldLayer } from '../../../run/results.ts';
import { figure } from '../../parts/figures.ts';
import { cividis, css, type Rgb, rgb } from '../colours/ramps.ts';
import type { Drawing, DrawOptions, RampKey, ShownLayer } from '../drawing.ts';
import { paintCells, paintPoints } from '../picture/paint.ts';
import { quietDomain, share, ticks } from './domain.ts';

const asideByDay = rgb('#a33a2a');
const asideByNight = rgb('#ec8f7c');

/** The key of a cividis ramp over a domain. */
export function cividisKey(title: string, domain: { low: number; high: number }, note: string): RampKey {
  return {
    kind: 'ramp',
    title,
    colours: [0, 0.125, 0.25, 0.375, 0.5, 0.625, 0.75, 0.875, 1].map((t) => css(cividis(t))),
    ticks: ticks(domain, (value) => figure(value)),
    classes: [],
    note,
  };
}

export const yields: ShownLayer = {
  id: 'yield',
  name: 'Yield',
  draw({ field, yields: maps }, options) {
    if (!field || maps.length === 0) return null;
    const map = maps.find((one) => one.id === options.year) ?? maps[maps.length - 1];
    const domain = quietDomain(map.values);
    const colour = (value: number): Rgb | null =>
      Number.isNaN(value) ? null : cividis(share(value, domain));
    const title = `${map.label}, ${map.unit}`;
    if (options.points) return drawPoints(field.grid, map, title, domain, options);
    return {
      key: cividisKey(title, domain, map.use ? '' : 'Looked at, not used'),
      picture: paintCells(field.grid, field.region, options.fineness, (cell) => colour(map.values[cell])),
      divisions: null,
      labels: [],
    };
  },
};

function drawPoints(
  grid: FieldGrid,
  map: YieldLayer,
  title: string,
  domain: { low: number; high: number },
  { night, fineness }: DrawOptions,
): Drawing {
  const aside = night ? asideByNight : asideByDay;
  const { x, y, value, state } = map.points;
  const setAside = state.reduce((sum, one) => sum + (one > 0 ? 1 : 0), 0);
  const key = cividisKey(title, domain, '');
  return {
    key: {
      ...key,
      classes:
        setAside > 0
          ? [
              {
                label: 'set aside',
                detail: `${figure(setAside)} of ${figure(x.length)} points`,
                colour: css(aside),
                hatch: 0,
              },
            ]
          : [],
    },
    picture: paintPoints(grid, x, y, fineness, (point) => {
      if (state[point] > 0) return aside;
      return Number.isNaN(value[point]) ? null : cividis(share(value[point], domain));
    }),
    divisions: null,
    labels: [],
  };
}

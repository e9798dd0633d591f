import { cividis, type Rgb } from '../colours/ramps.ts';
import type { ShownLayer } from '../drawing.ts';
import { paintCells } from '../picture/paint.ts';
import { quietDomain, share } from './domain.ts';
import { cividisKey } from './yield.ts';

export const environment: ShownLayer = {
  id: 'environment',
  name: 'Environment',
  isIn: (results) => results.environment !== null,
  draw({ field, environment: found }, { fineness }) {
    if (!field || !found) return null;
    const domain = quietDomain(found.values);
    const colour = (value: number): Rgb | null =>
      Number.isNaN(value) ? null : cividis(share(value, domain));
    return {
      key: cividisKey('Yield environment, bu/ac', domain, `From ${found.from}`),
      picture: paintCells(field.grid, field.region, fineness, (cell) => colour(found.values[cell])),
      divisions: null,
      labels: [],
    };
  },
};

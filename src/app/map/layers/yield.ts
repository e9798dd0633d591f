import type { FieldGrid } from '../../../engine/grid/field-grid.ts';
import type { YieldLayer } from '../../../run/results.ts';
import { figure } from '../../parts/figures.ts';
import { mapInk } from '../colours/map-ink.ts';
import { cividis, css, type Rgb } from '../colours/ramps.ts';
import type { ClassKey, Drawing, DrawOptions, RampKey, ShownLayer } from '../drawing.ts';
import { paintCells, paintPoints } from '../picture/paint.ts';
import { type Domain, quietDomain, share, ticks } from './domain.ts';
import { markOf, type SetAsideMark, setAsideMarks } from './set-aside-marks.ts';

/** The key of a cividis ramp over a domain. */
export function cividisKey(title: string, domain: Domain, note: string): RampKey {
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
  isIn: (results) => results.yields.length > 0,
  draw({ field, yields: maps }, options) {
    const map = maps.find((one) => one.id === options.year) ?? maps[maps.length - 1];
    if (!field || !map) return null;
    const domain = quietDomain(map.values);
    const title = map.unit ? `${map.label}, ${map.unit}` : `${map.label}, unit not known`;
    if (options.points) return drawPoints(field.grid, map, title, domain, options);
    return {
      key: cividisKey(title, domain, noteOf(map)),
      picture: paintCells(field.grid, field.region, options.fineness, (cell) =>
        Number.isNaN(map.values[cell]) ? null : cividis(share(map.values[cell], domain)),
      ),
      divisions: null,
      labels: [],
    };
  },
};

function noteOf({ use, unusual }: YieldLayer): string {
  if (!use) return 'Looked at, not used';
  return unusual ? 'Called unusual, not counted' : '';
}

/** A yield map is known by thousands of points: drawn as fine as a picture may be. */
const POINTS_FINENESS = 2048;

function drawPoints(
  grid: FieldGrid,
  map: YieldLayer,
  title: string,
  domain: Domain,
  { night, fineness, reason }: DrawOptions,
): Drawing {
  const { x, y, value, state, reasons } = map.points;
  const marks = reasons.map((own) => markOf(own));
  const ink = mapInk(night);
  // Colours are few: one a class of the ramp is found once.
  const ramp = Array.from({ length: 101 }, (_, k) => cividis(k / 100));
  const colour = (point: number): Rgb | null => {
    const t = share(value[point], domain);
    return Number.isNaN(t) ? null : ramp[Math.round(100 * Math.min(1, Math.max(0, t)))];
  };
  const counts = new Uint32Array(reasons.length);
  for (const own of state) if (own > 0) counts[own - 1]++;
  const asked = reason === null ? -1 : reasons.indexOf(reason);
  // Of a rule that found nothing there is nothing to show alone.
  const wanted = asked >= 0 && counts[asked] > 0 ? asked : -1;
  const key = cividisKey(title, domain, '');
  return {
    key:
      wanted < 0
        ? { ...key, classes: markKey(marks, counts, ink.ink) }
        : {
            kind: 'classes',
            title: `${map.label}: set aside`,
            classes: [
              {
                label: map.cleaning[wanted]?.title ?? reasons[wanted],
                detail: figure(counts[wanted]),
                colour: ink.ink,
                hatch: 0,
                mark: marks[wanted].path,
              },
            ],
            note: '',
          },
    picture: paintPoints(
      grid,
      x,
      y,
      { ...fineness, longestSide: POINTS_FINENESS },
      {
        dot: (point) => (wanted < 0 ? colour(point) : null),
        mark: (point) => {
          const own = state[point] - 1;
          return own < 0 || (wanted >= 0 && own !== wanted) ? null : marks[own].path;
        },
        ink: ink.ink,
        halo: ink.field,
      },
    ),
    divisions: null,
    labels: [],
  };
}

/** Legend lines of the marks on the map, with how many points bear them. */
function markKey(marks: readonly SetAsideMark[], counts: Uint32Array, colour: string): ClassKey[] {
  return setAsideMarks.flatMap((mark): ClassKey[] => {
    const count = counts.reduce((sum, own, k) => sum + (marks[k].id === mark.id ? own : 0), 0);
    return count === 0
      ? []
      : [{ label: mark.name, detail: figure(count), colour, hatch: 0, mark: mark.path }];
  });
}

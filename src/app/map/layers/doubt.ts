import type { Surface } from '../../../engine/grid/field-grid.ts';
import type { FieldResult, Results } from '../../../run/results.ts';
import { figure } from '../../parts/figures.ts';
import { css, doubtRamp } from '../colours/ramps.ts';
import type { Drawing, DrawOptions, ShownLayer } from '../drawing.ts';
import { paintCells } from '../picture/paint.ts';
import { fineTicks, looseDomain, share } from './domain.ts';

const isKnown = (surface: Surface | undefined) => surface?.some((value) => Number.isFinite(value)) ?? false;

/** How far the yield environment may be off: its standard error. */
export const error: ShownLayer = {
  id: 'error',
  name: 'Standard error',
  isIn: ({ environment }) => isKnown(environment?.error),
  draw({ field, environment }, options) {
    if (!field || !environment) return null;
    return drawDoubt(
      field,
      environment.error,
      'Standard error of the environment, bu/ac',
      `From the ${environment.errorFrom}`,
      options,
    );
  },
};

/** How much a spot changes from year to year. */
export const spread: ShownLayer = {
  id: 'spread',
  name: 'Spread between years',
  isIn: ({ environment }) => isKnown(environment?.spread),
  draw({ field, environment }, options) {
    if (!field || !environment) return null;
    const percent = environment.spread.map((value) => 100 * value);
    const most = figure(mostYears(environment));
    return drawDoubt(
      field,
      percent,
      'Spread between years, %',
      `One standard deviation of yield over the year's level, up to ${most} years`,
      options,
    );
  },
};

function mostYears({ years }: NonNullable<Results['environment']>): number {
  return years.reduce((most, own) => Math.max(most, own), 0);
}

function drawDoubt(
  field: FieldResult,
  values: Surface,
  title: string,
  note: string,
  { night, fineness }: DrawOptions,
): Drawing {
  const found = looseDomain(values);
  const domain = { low: Math.max(0, found.low), high: found.high };
  const ramp = doubtRamp(night);
  return {
    key: {
      kind: 'ramp',
      title,
      colours: [0, 0.25, 0.5, 0.75, 1].map((t) => css(ramp(t))),
      ticks: fineTicks(domain),
      classes: [],
      note,
    },
    picture: paintCells(field.grid, field.region, fineness, (cell) =>
      Number.isFinite(values[cell]) ? ramp(share(values[cell], domain)) : null,
    ),
    divisions: null,
    labels: [],
  };
}

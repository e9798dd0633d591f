import { FAMILIES } from '../families.ts';
import type { Family, FamilyId } from '../family.ts';
import { BEND, FIGURES, LEVEL, LEVEL_PER_ENVIRONMENT, STAND, STAND_PER_ENVIRONMENT } from './figures.ts';
import { type Moments, momentsFor } from './moments.ts';
import type { Trial } from './trial.ts';

/** Slopes by stand and bend are taken over this share of them: central differences, best near the cube root of a rounding. */
const DIFFERENCE = 1e-5;

/** A product's plots, a family, and the room to work in; nothing of it outlives a fit. */
export interface FitWork {
  readonly trial: Trial;
  readonly family: Family;
  /** Figures that are fitted: those linear in the data, those of the shape, and all. */
  readonly linear: Uint8Array;
  readonly shape: Uint8Array;
  readonly active: Uint8Array;
  /** Least and most of stand and bend. */
  readonly bounds: ReadonlyMap<number, readonly [number, number]>;
  /** Slopes of the curve by each figure, plot by plot, and behind them the residuals. */
  readonly columns: Float64Array;
  readonly residuals: Float64Array;
  readonly moments: Moments;
  readonly normal: Float64Array;
  /** Of the squares by the shape alone. */
  readonly bend: Float64Array;
  readonly fall: Float64Array;
  readonly factor: Float64Array;
  readonly step: Float64Array;
  readonly tried: Float64Array;
}

export function workOn(
  trial: Trial,
  id: FamilyId,
  fitted: readonly number[],
  bounds: FitWork['bounds'],
): FitWork {
  const family = FAMILIES[id];
  const isLinear = (k: number) =>
    k === LEVEL || k === LEVEL_PER_ENVIRONMENT || (k === BEND && family.form === 'less');
  const linear = fitted.filter(isLinear);
  const shape = fitted.filter((k) => !isLinear(k));
  const width = FIGURES + 1;
  const columns = new Float64Array(width * trial.plots);
  return {
    trial,
    family,
    linear: Uint8Array.from(linear),
    shape: Uint8Array.from(shape),
    active: Uint8Array.from([...linear, ...shape]),
    bounds,
    columns,
    residuals: columns.subarray(FIGURES * trial.plots),
    moments: momentsFor(trial, width),
    normal: new Float64Array(width * width),
    bend: new Float64Array(shape.length * shape.length),
    fall: new Float64Array(shape.length),
    factor: new Float64Array(width * width),
    step: new Float64Array(FIGURES),
    tried: new Float64Array(FIGURES),
  };
}

/** Residuals from the curve of these figures and its slopes by each of them, those of the shape only if asked. False where the curve is no number, or has no stand at some site. */
export function fillColumns(work: FitWork, figures: Float64Array, withShape: boolean): boolean {
  const { trial, family, columns, residuals } = work;
  const { plots, p, y, away } = trial;
  const level = figures[LEVEL];
  const perEnvironment = figures[LEVEL_PER_ENVIRONMENT];
  const bend = figures[BEND];
  const less = family.form === 'less';
  // Before a curve that begins at some stand has begun nothing of it is reached.
  const least = family.id === 'mitscherlich' ? Math.max(0, -bend) : 0;
  const reach = DIFFERENCE * (Math.abs(bend) || 1);
  let sum = 0;
  for (let i = 0; i < plots; i++) {
    const e = away[i];
    const stand = figures[STAND] + figures[STAND_PER_ENVIRONMENT] * e;
    if (!(stand > least)) return false;
    const unit = family.unit(p[i], stand, bend);
    const whole = level + perEnvironment * e;
    const scale = less ? 1 : unit;
    residuals[i] = y[i] - (less ? whole - bend * unit : whole * unit);
    columns[LEVEL * plots + i] = scale;
    columns[LEVEL_PER_ENVIRONMENT * plots + i] = scale * e;
    if (less) columns[BEND * plots + i] = -unit;
    sum += residuals[i];
    if (!withShape) continue;
    const wide = DIFFERENCE * stand;
    const byStand =
      ((family.unit(p[i], stand + wide, bend) - family.unit(p[i], stand - wide, bend)) / (2 * wide)) *
      (less ? -bend : whole);
    columns[STAND * plots + i] = byStand;
    columns[STAND_PER_ENVIRONMENT * plots + i] = byStand * e;
    if (!less)
      columns[BEND * plots + i] =
        (whole * (family.unit(p[i], stand, bend + reach) - family.unit(p[i], stand, bend - reach))) /
        (2 * reach);
  }
  return Number.isFinite(sum);
}

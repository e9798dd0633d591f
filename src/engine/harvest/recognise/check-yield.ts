import { BUSHELS } from '../../math/units.ts';
import { bushelAndBase } from '../yield-unit.ts';
import { unitsToTry } from './choose-unit.ts';
import type { Meaning } from './meaning.ts';
import {
  type Grain,
  holding,
  type Measured,
  type PhysicsFit,
  type PhysicsInput,
  physicsFits,
} from './physics-check.ts';
import type { Role } from './role.ts';
import type { Sample } from './sample.ts';
import { slipOf } from './slip.ts';

/** What flow, distance, swath and moisture say of a yield column. */
export interface YieldCheck {
  /** Combinations that hold for the crop, tightest first. */
  readonly fits: readonly PhysicsFit[];
  /** Those that hold only for the bushel of another crop; looked for where none holds for its own. */
  readonly otherBushel: readonly PhysicsFit[];
  /** By crop for which a combination holds: how far its ratio is from 1, as a share. */
  readonly departure: Readonly<Record<string, number>>;
  /** Why none holds, where a known slip explains it. */
  readonly slip: { readonly ratio: number; readonly because: string } | null;
}

/** Lengths of a record tried where no column tells. */
const INTERVALS_S = [1, 2, 3, 5];

/** Null where the file lacks a column the check needs. */
export function checkYield(
  own: Meaning,
  others: Readonly<Record<Role, readonly Meaning[]>>,
  crop: string,
  sample: Sample,
  step_s: number,
): YieldCheck | null {
  const measured = (meaning: Meaning | undefined): Measured | null =>
    meaning?.column.kind === 'number'
      ? { values: thinned(sample.at(meaning.column)), units: unitsToTry(meaning) }
      : null;
  const yields = measured(own);
  if (!yields) return null;
  const input: PhysicsInput = {
    yield: yields,
    flow: measured(others.flow[0]),
    mass: measured(others.mass[0]),
    distance: measured(others.distance[0]),
    speed: measured(others.speed[0]),
    swath: measured(others.swath[0]),
    moisture: measured(others.moisture[0]),
    interval_s: intervalOf(others.interval[0], sample, step_s),
  };
  const known = bushelAndBase(crop);
  const grain: Grain | null = known && { crop, ...known };
  const fits = grain ? physicsFits(input, [grain]) : [];
  const foreign = physicsFits(
    input,
    GRAINS.filter((other) => other.crop !== grain?.crop),
  );
  if (fits.length === 0 && foreign.length === 0) return null;
  const holds = holding(fits);
  const otherBushel =
    holds.length > 0
      ? []
      : holding(foreign.filter((fit) => fit.units.yield === 'bu/ac' && fit.grain.lbPerBu !== grain?.lbPerBu));
  const explained = holds.length + otherBushel.length > 0 || !grain;
  return {
    fits: holds,
    otherBushel,
    departure: departures([...holds, ...foreign]),
    slip: explained ? null : slipOf(physicsFits(likeliest(input), [grain])),
  };
}

/** Crop by crop, how far the best combination that holds is from 1. */
function departures(fits: readonly PhysicsFit[]): Record<string, number> {
  const least: Record<string, number> = {};
  for (const { crop } of GRAINS) {
    const [best] = holding(fits.filter(({ grain }) => grain.crop === crop));
    if (best) least[crop] = Math.abs(best.ratio - 1);
  }
  return least;
}

/** Every column in the one unit its name or its figures speak for: a slip is told against that. */
function likeliest(input: PhysicsInput): PhysicsInput {
  const one = <T extends Measured | null>(own: T): T =>
    (own && { ...own, units: own.units.slice(0, 1) }) as T;
  return {
    yield: one(input.yield),
    flow: one(input.flow),
    mass: one(input.mass),
    distance: one(input.distance),
    speed: one(input.speed),
    swath: one(input.swath),
    moisture: one(input.moisture),
    interval_s: input.interval_s,
  };
}

const GRAINS: readonly Grain[] = Object.entries(BUSHELS).map(([crop, own]) => ({ crop, ...own }));

function intervalOf(meaning: Meaning | undefined, sample: Sample, step_s: number): Float64Array | number[] {
  const scale = meaning?.units[0].unit?.scale;
  if (meaning?.column.kind === 'number' && scale !== undefined)
    return thinned(sample.at(meaning.column)).map((own) => own * scale);
  return step_s > 0 ? [roundStep(step_s)] : INTERVALS_S;
}

/** A quarter of the rows of a long sample: a median of 500 is good to a tenth of a percent, and there are many to take. */
function thinned(values: Float64Array): Float64Array {
  return values.length < 1000 ? values : values.filter((_, k) => k % 4 === 0);
}

/** Machines record at whole seconds or tenths; clocks in files are coarser than that. */
function roundStep(step_s: number): number {
  const unit = step_s > 0.9 ? 1 : 0.1;
  const whole = Math.round(step_s / unit) * unit;
  return Math.abs(step_s / whole - 1) < 0.05 ? whole : step_s;
}

import type { MoistureBasis } from '../moisture-basis.ts';
import { kgPerM2, type YieldUnit } from '../yield-unit.ts';
import { near, ratioOf } from './ratio.ts';
import type { RoleUnit } from './role-units.ts';

/** What a bushel may be: of the crop, or of another by which a monitor counted. */
export interface Grain {
  readonly crop: string;
  readonly lbPerBu: number;
  readonly baseMoisture_pct: number;
}

/** A column at the sampled rows, as written, and the units it may be in. */
export interface Measured {
  readonly values: Float64Array;
  readonly units: readonly RoleUnit[];
}

/** What is known of a record's grain and ground; flow or grain a record, distance or speed. */
export interface PhysicsInput {
  readonly yield: Measured;
  readonly flow: Measured | null;
  readonly mass: Measured | null;
  readonly distance: Measured | null;
  readonly speed: Measured | null;
  readonly swath: Measured | null;
  readonly moisture: Measured | null;
  /** Seconds a record, by record or for all; the lengths tried where nothing tells. */
  readonly interval_s: Float64Array | readonly number[];
}

/** Units in which the yield column is what flow, distance, swath and moisture make it. */
export interface PhysicsFit {
  readonly units: Readonly<
    Partial<Record<'yield' | 'flow' | 'mass' | 'distance' | 'speed' | 'swath' | 'moisture', string>>
  >;
  readonly basis: Exclude<MoistureBasis, 'unknown'>;
  /** Whether grain drier than the base counts for more than it weighs; null where no grain is drier, or the yield is wet. */
  readonly expanded: boolean | null;
  readonly grain: Grain;
  /** Yield column over what the others make; 1 fits. */
  readonly ratio: number;
  /** Median departure from that ratio, as a share. */
  readonly spread: number;
}

/** The yield column is taken to be what the others make within this share. */
export const FIT = 0.02;
/** A fit this much looser than the tightest is of the wrong basis: moisture varies where the right one does not. */
const LOOSER = 1.5;
const LOOSER_BY = 0.0015;
/** Ratios and spreads nearer than this are the same but for a few records. */
const SAME = 0.001;

/**
 * Every combination of units and basis, with how it fits: yield = flow · seconds · (100 − M)/(100 − M0) ÷ (distance · swath), or flow ÷ (speed · swath),
 * or grain a record for flow · seconds. Source: the arithmetic of a bushel (56 lb of corn at 15.5 %) over 43,560 ft². Empty where a column is missing.
 */
export function physicsFits(input: PhysicsInput, grains: readonly Grain[]): PhysicsFit[] {
  const { swath, moisture } = input;
  if (!swath) return [];
  const found: PhysicsFit[] = [];
  for (const way of waysOf(input)) {
    const perArea = way.amount.values.map((own, k) => own / (way.length.values[k] * swath.values[k]));
    const wet = ratioOf(input.yield.values, perArea);
    for (const grain of grains) {
      for (const basis of basesOf(moisture, perArea, input.yield.values, grain, wet)) {
        for (const amount of way.amount.units)
          for (const length of way.length.units)
            for (const width of swath.units)
              for (const own of input.yield.units) {
                const perM2 = kgPerM2(own.unit as YieldUnit, grain.lbPerBu);
                if (perM2 === null) continue;
                const made = (amount.scale * way.seconds) / (length.scale * width.scale) / perM2;
                found.push({
                  units: {
                    yield: own.unit,
                    [way.amountRole]: amount.unit,
                    [way.lengthRole]: length.unit,
                    swath: width.unit,
                    ...(basis.moisture ? { moisture: basis.moisture } : {}),
                  },
                  basis: basis.basis,
                  expanded: basis.expanded,
                  grain,
                  ratio: basis.median / made,
                  spread: basis.spread,
                });
              }
      }
    }
  }
  return found.filter(({ ratio }) => Number.isFinite(ratio));
}

/** The fits that hold, nearest to 1 first, without those that are clearly looser than the tightest. */
export function holding(fits: readonly PhysicsFit[]): PhysicsFit[] {
  const close = fits
    .filter(({ ratio }) => near(ratio, 1, FIT))
    // Where nearly all grain is drier than the base, grain not expanded is grain as harvested: such a yield counts as dry.
    .filter(
      (own) => own.basis === 'dry' || !fits.some((other) => other.expanded === false && same(own, other)),
    )
    .sort((a, b) => a.spread - b.spread);
  return close
    .filter(({ spread }) => spread <= close[0].spread * LOOSER + LOOSER_BY)
    .sort((a, b) => Math.abs(a.ratio - 1) - Math.abs(b.ratio - 1));
}

function same(a: PhysicsFit, b: PhysicsFit): boolean {
  return (
    Math.abs(a.ratio - b.ratio) < SAME &&
    Math.abs(a.spread - b.spread) < SAME &&
    a.grain === b.grain &&
    a.units.yield === b.units.yield &&
    a.units.swath === b.units.swath
  );
}

interface Way {
  readonly amountRole: 'flow' | 'mass';
  readonly amount: Measured;
  readonly lengthRole: 'distance' | 'speed';
  readonly length: Measured;
  readonly seconds: number;
}

/** By grain a record over distance; by flow over speed, which needs no seconds; by flow and seconds over distance. The first that has its columns. */
function waysOf({ flow, mass, distance, speed, interval_s }: PhysicsInput): Way[] {
  if (mass && distance)
    return [{ amountRole: 'mass', amount: mass, lengthRole: 'distance', length: distance, seconds: 1 }];
  if (flow && distance && interval_s instanceof Float64Array) {
    const amount = { ...flow, values: flow.values.map((own, k) => own * interval_s[k]) };
    return [{ amountRole: 'flow', amount, lengthRole: 'distance', length: distance, seconds: 1 }];
  }
  const known = interval_s.length === 1;
  if (flow && distance && (known || !speed))
    return Array.from(interval_s, (seconds) => ({
      amountRole: 'flow',
      amount: flow,
      lengthRole: 'distance',
      length: distance,
      seconds,
    }));
  if (flow && speed)
    return [{ amountRole: 'flow', amount: flow, lengthRole: 'speed', length: speed, seconds: 1 }];
  return [];
}

interface Basis {
  readonly basis: PhysicsFit['basis'];
  readonly expanded: boolean | null;
  readonly moisture: string | null;
  readonly median: number;
  readonly spread: number;
}

function basesOf(
  moisture: Measured | null,
  perArea: Float64Array,
  yields: Float64Array,
  grain: Grain,
  wet: { median: number; spread: number },
): Basis[] {
  const bases: Basis[] = [{ basis: 'wet', expanded: null, moisture: null, ...wet }];
  for (const unit of moisture?.units ?? []) {
    const shrunk = (moisture as Measured).values.map(
      (own) => (100 - own * unit.scale) / (100 - grain.baseMoisture_pct),
    );
    const drier = shrunk.some((own) => own > 1);
    for (const expanded of drier ? [true, false] : [null]) {
      const dry = perArea.map((own, k) => own * (expanded === false ? Math.min(1, shrunk[k]) : shrunk[k]));
      bases.push({ basis: 'dry', expanded, moisture: unit.unit, ...ratioOf(yields, dry) });
    }
  }
  return bases;
}

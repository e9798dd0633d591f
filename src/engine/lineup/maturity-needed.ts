import { dayOfYear } from './day-of-year.ts';

/** What a lineup says of relative maturity and degree days: ratings of relative maturity are no calendar days, and each house has its own scale. */
export interface MaturityRelation {
  readonly relativeMaturity: number;
  /** Growing degree days from planting to black layer at that maturity. */
  readonly gdd: number;
  readonly gddPerPoint: number;
  /** Who says so. */
  readonly by: string;
}

/** What a hybrid needs to reach black layer, growing degree days (86/50 °F) from planting. */
export interface MaturityNeed {
  readonly gdd: number;
  /** As rated, or as the relation has it; added if rated from emergence; taken off for late planting. */
  readonly rated: number;
  readonly toEmergence: number;
  readonly offForLatePlanting: number;
  readonly daysLate: number;
  readonly from: 'rating' | 'relative maturity';
}

/** Growing degree days from planting to emergence, by which ratings of the two kinds differ. Purdue Extension, Hybrid maturity decisions for delayed planting. */
export const GDD_TO_EMERGENCE = 115;
/** Growing degree days fewer for each day planted after 1 May, in Indiana and Ohio. Nielsen et al. 2002, Agronomy Journal 94:549. */
const GDD_FEWER_PER_DAY_LATE = 6.8;
const FIRST_OF_MAY = dayOfYear({ month: 5, day: 1 });
/** Points of grain moisture by which hybrids at harvest differ for a point ("day") of relative maturity. No-Till Farmer, reading a hybrid's rating. */
const MOISTURE_PCT_PER_POINT = 0.5;

/** Null where neither a rating nor a relation with a maturity in figures is there. `planted` is a day of the year. */
export function maturityNeeded(
  product: { readonly maturity: string; readonly gddToMaturity: number | null },
  planted: number,
  ratedFrom: 'planting' | 'emergence',
  relation: MaturityRelation | null,
): MaturityNeed | null {
  const from = product.gddToMaturity === null ? 'relative maturity' : 'rating';
  const rated = product.gddToMaturity ?? (relation && byRelation(product.maturity, relation));
  if (rated === null || !(rated > 0)) return null;
  // A relation counts from planting as it is.
  const toEmergence = from === 'rating' && ratedFrom === 'emergence' ? GDD_TO_EMERGENCE : 0;
  const daysLate = Math.max(0, planted - FIRST_OF_MAY);
  const offForLatePlanting = GDD_FEWER_PER_DAY_LATE * daysLate;
  return {
    gdd: rated + toEmergence - offForLatePlanting,
    rated,
    toEmergence,
    offForLatePlanting,
    daysLate,
    from,
  };
}

/** Relative maturity of a hybrid so many points of moisture wetter (drier: negative) at harvest than one whose maturity is known. */
export function maturityFromMoisture(known: number, wetter_pct: number): number {
  return known + wetter_pct / MOISTURE_PCT_PER_POINT;
}

/** `108`, `108 days`, `RM 108`; NaN for anything else. */
export function relativeMaturityOf(maturity: string): number {
  const match = /^\s*(?:C?RM\s*)?(\d+(?:\.\d+)?)(?:[\s-]*(?:days?|C?RM))?\s*$/i.exec(maturity);
  return match ? Number(match[1]) : NaN;
}

/** A relation among numbers a hybrid's words do not give is none: NaN. */
function byRelation(maturity: string, relation: MaturityRelation): number {
  return relation.gdd + relation.gddPerPoint * (relativeMaturityOf(maturity) - relation.relativeMaturity);
}

import { Refusal } from '../issue.ts';
import { sameCrop } from '../math/crop-name.ts';
import { dayName, dayOfYear, type MonthDay } from './day-of-year.ts';
import type { DegreeDays } from './growing-degree-days.ts';
import {
  GDD_TO_EMERGENCE,
  type MaturityNeed,
  type MaturityRelation,
  maturityNeeded,
} from './maturity-needed.ts';

/** Black layer should come one to two weeks before the killing freeze (Ohio State University Extension, hybrid selection); of those our own choice. */
const DAYS_BEFORE_FREEZE = 10;
/** More days without temperatures than this share and the season is not known. Our own choice. */
const MOST_UNKNOWN = 0.05;
/** To here the published trials of late planting went, give or take. From memory. */
const LATEST_OF_TRIALS = dayOfYear({ month: 6, day: 15 });

export interface Season {
  readonly planted: MonthDay;
  /** The killing freeze to be ready for: the date half of the years, or nine in ten, have not reached. */
  readonly freeze: MonthDay;
  readonly degreeDays: DegreeDays;
  /** Where the ratings count from; null where nobody says. */
  readonly ratedFrom: 'planting' | 'emergence' | null;
  readonly region: 'Indiana or Ohio' | 'elsewhere';
  readonly relation: MaturityRelation | null;
}

/** The figures of a season fit; days are days of the year. */
export interface SeasonFigures {
  readonly planted: number;
  readonly freeze: number;
  readonly need: MaturityNeed;
  /** Growing degree days from the day of planting to the day before the freeze. */
  readonly available: number;
  readonly margin: number;
  /** Day of black layer; null where it does not come before the freeze. */
  readonly blackLayer: number | null;
}

export type SeasonVerdict = 'safe' | 'tight' | 'too long';

export type SeasonFit =
  | {
      readonly verdict: SeasonVerdict;
      readonly figures: SeasonFigures;
      /** The verdict if the rating counts from emergence, where that is not told and makes another verdict. */
      readonly fromEmergence: SeasonVerdict | null;
      readonly cautions: readonly string[];
    }
  | { readonly verdict: 'cannot be told'; readonly why: string };

export interface SeasonProduct {
  readonly crop: string;
  readonly maturity: string;
  readonly gddToMaturity: number | null;
}

/** Whether a hybrid is ripe before the freeze, by degree days. `safe` holds whichever way the rating counts. Other crops than corn are not judged so. */
export function seasonFit(product: SeasonProduct, season: Season): SeasonFit {
  if (!sameCrop(product.crop, 'corn'))
    return cannot(
      `growing degree days of 86/50 °F are those of corn, not of ${product.crop || 'a crop not named'}`,
    );
  const planted = dayOfYear(season.planted);
  const freeze = dayOfYear(season.freeze);
  if (freeze <= planted)
    throw new Refusal({
      code: 'freeze-before-planting',
      where: 'season',
      found: `planted ${dayName(planted)}, freeze ${dayName(freeze)}`,
      expected: 'the freeze that ends the season, in the year of planting',
      effect: 'The season cannot be judged',
      remedy: 'Give the date of the killing freeze in autumn',
    });
  const days = daysOf(season.degreeDays, planted, freeze);
  if (days === null)
    return cannot(
      `temperatures are not known on more than ${100 * MOST_UNKNOWN} % of the days from ${dayName(planted)} to ${dayName(freeze)}`,
    );
  const judge = (ratedFrom: 'planting' | 'emergence') => {
    const need = maturityNeeded(product, planted, ratedFrom, season.relation);
    return need && figuresOf(need, days.daily, planted, freeze);
  };
  const figures = judge(season.ratedFrom ?? 'planting');
  if (figures === null)
    return cannot(
      product.gddToMaturity === null && season.relation === null
        ? 'no growing degree days to maturity are given, and the lineup states no relation to relative maturity; relative maturity is no count of days'
        : 'neither its growing degree days to maturity nor its relative maturity is a figure',
    );
  const own = verdictOf(figures);
  const other = season.ratedFrom === null ? judge('emergence') : null;
  const fromEmergence = other && verdictOf(other);
  return {
    verdict: own === 'safe' && fromEmergence !== null && fromEmergence !== 'safe' ? 'tight' : own,
    figures,
    fromEmergence: fromEmergence === own ? null : fromEmergence,
    cautions: cautionsOf(season, figures, days.unknown),
  };
}

function cannot(why: string): SeasonFit {
  return { verdict: 'cannot be told', why };
}

function verdictOf({ blackLayer, freeze }: SeasonFigures): SeasonVerdict {
  if (blackLayer === null) return 'too long';
  return freeze - blackLayer >= DAYS_BEFORE_FREEZE ? 'safe' : 'tight';
}

function figuresOf(need: MaturityNeed, daily: Float64Array, planted: number, freeze: number): SeasonFigures {
  let available = 0;
  let blackLayer: number | null = null;
  for (let k = 0; k < daily.length; k++) {
    available += daily[k];
    if (blackLayer === null && available >= need.gdd) blackLayer = planted + k;
  }
  return { planted, freeze, need, available, margin: available - need.gdd, blackLayer };
}

/** The days from planting to the freeze, days not known at the mean of the others; null where too many are. */
function daysOf(
  { from, daily }: DegreeDays,
  planted: number,
  freeze: number,
): { daily: Float64Array; unknown: number } | null {
  const found = Float64Array.from({ length: freeze - planted }, (_, k) => daily[planted + k - from] ?? NaN);
  const known = found.filter((day) => !Number.isNaN(day));
  const unknown = found.length - known.length;
  if (unknown > MOST_UNKNOWN * found.length) return null;
  const mean = known.reduce((sum, day) => sum + day, 0) / known.length;
  return { daily: found.map((day) => (Number.isNaN(day) ? mean : day)), unknown };
}

function cautionsOf(
  { ratedFrom, region, degreeDays, relation }: Season,
  figures: SeasonFigures,
  unknown: number,
) {
  const { need, planted } = figures;
  return [
    ...(ratedFrom === null && need.from === 'rating'
      ? [
          `Ratings may be from planting or from emergence (${GDD_TO_EMERGENCE} growing degree days apart); here from planting.`,
        ]
      : []),
    ...(need.daysLate > 0 && region === 'elsewhere'
      ? [
          'What late planting takes off was measured in Indiana and Ohio; elsewhere hybrids may answer otherwise.',
        ]
      : []),
    ...(planted > LATEST_OF_TRIALS
      ? ['So late, what late planting takes off may lie beyond what was measured.']
      : []),
    ...(need.from === 'relative maturity' && relation
      ? [`The need is reckoned from relative maturity, as ${relation.by || 'the lineup'} has it.`]
      : []),
    degreeDays.of === 'normals'
      ? 'That is a normal season: about half of the years bring less.'
      : 'That is the season on record; another brings more or less.',
    ...(unknown > 0
      ? [
          `${unknown === 1 ? '1 day' : `${unknown} days`} without temperatures taken at the mean of the others.`,
        ]
      : []),
  ];
}

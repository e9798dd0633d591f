import type { Plausibility } from '../../engine/harvest/plausible-yield.ts';
import type { TrialQuestion } from './trial-role.ts';
import type { UnitTold } from './unit-told.ts';

export type UnitSystem = 'US' | 'metric';

export interface UnitLook<U extends string> {
  readonly about: TrialQuestion['about'];
  readonly column: string;
  /** All units, the likelier first. */
  readonly units: readonly U[];
  readonly told: UnitTold<U>;
  /** How the figures sit in a unit. */
  readonly fits: (unit: U) => Plausibility;
  /** What the other columns are in. */
  readonly system: UnitSystem | null;
  /** Units taken only where they are told: figures alone do not speak for what hardly anybody uses. */
  readonly rare: readonly U[];
}

export interface UnitChoice<U extends string> {
  /** Null where it cannot be told. */
  readonly unit: U | null;
  readonly because: string;
  /** 0 to 1. */
  readonly confidence: number;
  readonly question: TrialQuestion | null;
}

/** The unit a file tells, unless no crop gives such figures in it; else those the figures leave, and a question where they leave several. */
export function chooseTrialUnit<U extends string>(look: UnitLook<U>): UnitChoice<U> {
  const { told, fits } = look;
  if (told && told.units.length === 0)
    return { unit: null, because: `'${told.said}' is no unit known here`, confidence: 0, question: null };
  if (told && told.units.length === 1) {
    const [unit] = told.units;
    if (fits(unit) !== 'implausible')
      return { unit, because: `'${told.said}' says so`, confidence: 1, question: null };
    const others = left(look, look.units).filter((own) => fits(own) === 'typical');
    if (others.length === 0)
      return {
        unit,
        because: `'${told.said}' says so, though the figures are unusual`,
        confidence: 0.7,
        question: null,
      };
    // Figures no crop gives go before the name.
    return asked(look, [unit, ...others], 1, (own) =>
      own === unit ? `'${told.said}' says so, though the figures are implausible in it` : 'figures plausible',
    );
  }
  const options = left(look, told?.units ?? look.units);
  if (options.length === 0)
    return { unit: null, because: 'its unit is not told', confidence: 0, question: null };
  if (options.length === 1)
    return {
      unit: options[0],
      because: `the figures are plausible in ${options[0]} alone${look.system ? ` among ${look.system} units` : ''}`,
      confidence: fits(options[0]) === 'typical' ? 0.9 : 0.7,
      question: null,
    };
  return asked(look, options, 0, (own) => `figures ${fits(own) === 'typical' ? 'plausible' : 'unusual'}`);
}

/** Units not out of the question, typical ones first, of the system of the other columns where it has any. */
function left<U extends string>({ fits, system, rare }: UnitLook<U>, units: readonly U[]): U[] {
  const fitting = units.filter(
    (unit) => !rare.includes(unit) && (fits(unit) === 'typical' || fits(unit) === 'unusual'),
  );
  const ofSystem = fitting.filter((unit) => system !== null && systemOfUnit(unit) === system);
  const kept = ofSystem.length > 0 ? ofSystem : fitting;
  return [
    ...kept.filter((unit) => fits(unit) === 'typical'),
    ...kept.filter((unit) => fits(unit) === 'unusual'),
  ];
}

function asked<U extends string>(
  { about, column }: UnitLook<U>,
  options: readonly U[],
  proposed: number,
  because: (unit: U) => string,
): UnitChoice<U> {
  return {
    unit: options[proposed],
    because: `assumed: ${options.join(' or ')} would do`,
    confidence: 0.5,
    question: {
      about,
      column,
      options: options.map((value) => ({ value, because: because(value) })),
      proposed,
    },
  };
}

/** US customary or metric, by the area a unit is over; null for a share. */
export function systemOfUnit(unit: string): UnitSystem | null {
  if (/\/(ac|ft2)$/.test(unit)) return 'US';
  return /\/(ha|m2)$/.test(unit) ? 'metric' : null;
}

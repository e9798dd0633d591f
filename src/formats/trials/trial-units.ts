import { howPlausible, type Plausibility } from '../../engine/harvest/plausible-yield.ts';
import { figuresOf } from '../../engine/harvest/recognise/figures.ts';
import { Refusal } from '../../engine/issue.ts';
import type { NumberColumn } from '../../engine/layers/source.ts';
import { M2_PER_ACRE } from '../../engine/math/units.ts';
import { chooseTrialUnit, systemOfUnit, type UnitChoice, type UnitSystem } from './choose-trial-unit.ts';
import type { RowCrops } from './crops-of-rows.ts';
import { allOf, mediansByCrop } from './figures-by-crop.ts';
import {
  isStandUnit,
  metresCounted,
  PER_ACRE,
  STAND_UNITS,
  type StandUnit,
  standUnitTold,
} from './stand-unit.ts';
import type { TrialColumns } from './trial-columns.ts';
import type { TrialOptions, UnitRole } from './trial-options.ts';
import { TRIAL_ROLE_WORDS, type TrialQuestion, type TrialRole } from './trial-role.ts';
import { KNOWN_YIELD_UNITS, type KnownYieldUnit, yieldUnitTold } from './unit-told.ts';
import { howUsualStand } from './usual-stand.ts';

/** `%`: a stand told as a share of the seeds, which is an emergence. */
export type StandColumnUnit = StandUnit | '%';

export interface TrialUnits {
  readonly yield: UnitChoice<KnownYieldUnit>;
  /** Null without such a column, or where it is not needed. */
  readonly stand: UnitChoice<StandColumnUnit> | null;
  readonly rate: UnitChoice<StandUnit> | null;
  readonly environment: UnitChoice<KnownYieldUnit> | null;
  readonly questions: readonly TrialQuestion[];
}

const RARE_YIELDS: readonly KnownYieldUnit[] = ['g/m2', 'ton/ac', 'q/ha'];

/** The units of yields, stands and environments. Throws a Refusal where one that is needed cannot be told. */
export function settleTrialUnits(
  columns: TrialColumns,
  crops: RowCrops,
  options: TrialOptions,
  where: string,
): TrialUnits {
  const [yields, stands, rates, environments] = (['yield', 'stand', 'rate', 'environment'] as const).map(
    (role) => (columns[role]?.column.kind === 'number' ? (columns[role].column as NumberColumn) : null),
  );
  const ofStand = [stands, rates].flatMap((own) => (own ? systemsTold(own) : []));
  const yieldUnit = yieldChoice('yield', yields as NumberColumn, crops, options, onlySystem(ofStand), null);
  needed(yieldUnit, 'yield', yields as NumberColumn, where, KNOWN_YIELD_UNITS);
  const sure = yieldUnit.question === null && yieldUnit.unit !== null;
  const system = sure ? systemOfUnit(yieldUnit.unit as string) : onlySystem(ofStand);
  const squareMetres = yieldUnit.unit === 'g/m2';
  const stand = stands && standChoice(stands, crops, options, system, squareMetres);
  if (stand) needed(stand, 'stand', stands, where, [...STAND_UNITS, '%']);
  const withRate = rates && (!stand || stand.unit === '%');
  const rate = withRate ? rateChoice('rate', rates, crops, options, system, squareMetres) : null;
  if (rate) needed(rate, 'rate', rates as NumberColumn, where, STAND_UNITS);
  const environment =
    environments && yieldChoice('environment', environments, crops, options, system, yieldUnit.unit);
  return {
    yield: yieldUnit,
    stand,
    rate,
    environment: environment?.unit ? environment : null,
    questions: [yieldUnit, stand, rate, environment].flatMap((own) => own?.question ?? []),
  };
}

function yieldChoice(
  role: 'yield' | 'environment',
  column: NumberColumn,
  crops: RowCrops,
  options: TrialOptions,
  system: UnitSystem | null,
  likeYield: KnownYieldUnit | null,
): UnitChoice<KnownYieldUnit> {
  const said = stated(role, options, KNOWN_YIELD_UNITS);
  if (said) return said;
  const medians = mediansByCrop(column, crops);
  const fits = (unit: KnownYieldUnit) =>
    allOf([...medians].map(([crop, median]) => howPlausible(median, unit, crop)));
  const told = yieldUnitTold(column.name, column.unit);
  if (told === null && likeYield !== null && fits(likeYield) !== 'implausible')
    return { unit: likeYield, because: 'as the yields', confidence: 0.9, question: null };
  const look = { about: `${role} unit` as const, column: column.name, units: KNOWN_YIELD_UNITS, told };
  return chooseTrialUnit({ ...look, fits, system, rare: RARE_YIELDS });
}

function standChoice(
  column: NumberColumn,
  crops: RowCrops,
  options: TrialOptions,
  system: UnitSystem | null,
  squareMetres: boolean,
): UnitChoice<StandColumnUnit> {
  const said = stated<StandColumnUnit>('stand', options, [...STAND_UNITS, '%']);
  if (said) return said;
  const choice = rateChoice('stand', column, crops, options, system, squareMetres);
  if (standUnitTold(column.name, column.unit) !== null || !likeShare(column)) return choice;
  const share = { value: '%', because: 'figures about 100: the share of the seeds that stands' };
  if (choice.unit === null)
    return { unit: '%', because: 'figures about 100: a share of the seeds', confidence: 0.7, question: null };
  const counted = choice.question?.options ?? [{ value: choice.unit, because: 'figures plausible' }];
  const odd = system !== null && systemOfUnit(choice.unit) !== system;
  const readings = odd ? [share, ...counted] : [...counted, share];
  const unit = readings[0].value as StandColumnUnit;
  return {
    unit,
    because: `assumed: ${readings.map(({ value }) => value).join(' or ')} would do`,
    confidence: 0.5,
    question: { about: 'stand unit', column: column.name, options: readings, proposed: 0 },
  };
}

/** Stands counted as a share of the seeds crowd about 100 and hardly pass it. */
function likeShare({ values }: NumberColumn): boolean {
  const { p5, p50, p95 } = figuresOf(values);
  return p95 <= 110 && p50 > 70 && p5 > 20;
}

function rateChoice(
  role: 'stand' | 'rate',
  column: NumberColumn,
  crops: RowCrops,
  options: TrialOptions,
  system: UnitSystem | null,
  squareMetres: boolean,
): UnitChoice<StandUnit> {
  const said = stated(role, options, STAND_UNITS);
  if (said) return said;
  const medians = mediansByCrop(column, crops);
  const fits = (unit: StandUnit): Plausibility =>
    allOf([...medians].map(([crop, median]) => howUsualStand((median * PER_ACRE[unit]) / M2_PER_ACRE, crop)));
  const units: StandUnit[] = [...STAND_UNITS];
  // Who weighs by the square metre counts by the square metre.
  if (squareMetres && fits('plants/m2') !== 'implausible') units.splice(0, units.length, 'plants/m2');
  return chooseTrialUnit({
    about: `${role} unit`,
    column: column.name,
    units,
    told: standUnitTold(column.name, column.unit),
    fits,
    system,
    rare: ['plants/ft2'],
  });
}

function stated<U extends string>(
  role: UnitRole,
  { units }: TrialOptions,
  known: readonly U[],
): UnitChoice<U> | null {
  const unit = units?.[role];
  if (unit === undefined) return null;
  if ((known as readonly string[]).includes(unit))
    return { unit: unit as U, because: 'as stated', confidence: 1, question: null };
  throw new Refusal({
    code: 'trial-option',
    where: `unit of the ${TRIAL_ROLE_WORDS[role]}`,
    found: unit,
    expected: `one of ${known.join(', ')}`,
    effect: 'The trials were not read',
    remedy: 'State one of these units',
  });
}

function needed(
  choice: UnitChoice<string>,
  role: TrialRole,
  { name, unit, values }: NumberColumn,
  where: string,
  known: readonly string[],
): void {
  if (choice.unit !== null) return;
  const alongRow = (role === 'stand' || role === 'rate') && metresCounted(name, unit) !== null;
  const { p5, p95 } = figuresOf(values);
  const figures = Number.isNaN(p5) ? 'no figures above zero' : `figures from ${p5} to ${p95}`;
  throw new Refusal({
    code: 'trial-unit',
    where: `${where} › ${name}`,
    found: alongRow
      ? `${TRIAL_ROLE_WORDS[role]}: '${unit ?? name}' counts along the row, and no column tells how far rows are apart; ${figures}`
      : `${TRIAL_ROLE_WORDS[role]}: ${choice.because}${unit ? ` (${unit})` : ''}; ${figures}`,
    expected: `a unit in the name or in a row under it, one of ${known.join(', ')}`,
    effect: 'The trials were not read',
    remedy:
      role === 'yield'
        ? 'Bring the yields to one of these units, or state which they are in'
        : `${alongRow ? 'Add a column row width, with its unit, or bring' : 'Bring'} the ${TRIAL_ROLE_WORDS[role]}s to one of these units, or state which they are in; or do without them (no column, on the command line --column ${role}=)`,
  });
}

function systemsTold(column: NumberColumn): UnitSystem[] {
  const told = standUnitTold(column.name, column.unit);
  return (told?.units ?? []).length === 1 && isStandUnit(told!.units[0])
    ? [systemOfUnit(told!.units[0]) as UnitSystem]
    : [];
}

function onlySystem(systems: readonly UnitSystem[]): UnitSystem | null {
  return new Set(systems).size === 1 ? systems[0] : null;
}

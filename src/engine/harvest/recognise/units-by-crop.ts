import { median } from '../../math/median.ts';
import { howPlausible } from '../plausible-yield.ts';
import { kgPerM2 } from '../yield-unit.ts';
import type { Meaning } from './meaning.ts';
import type { ColumnQuestion, ColumnReading, Role } from './role.ts';
import type { RoleUnit } from './role-units.ts';
import type { Sample } from './sample.ts';

type Ground = 'flow' | 'swath' | 'speed' | 'distance';
type Choice = readonly [role: Ground, unit: string];

/**
 * Units of grain and ground in a log without a column of yield, where no word tells them all: those in which the crop could have given what they make, if it
 * could in one way only, those of one system of units before mixed ones. Null where all are told, and where none or several ways are plausible.
 */
export function unitsByCrop(
  roles: Readonly<Record<Role, readonly Meaning[]>>,
  columns: Readonly<Record<Role, ColumnReading | null>>,
  questions: readonly ColumnQuestion[],
  { sample, crop, lbPerBu, step_s }: { sample: Sample; crop: string; lbPerBu: number | null; step_s: number },
): readonly Choice[] | null {
  const lengthRole = columns.speed ? 'speed' : 'distance';
  const asked = (['flow', 'swath', lengthRole] as const).map((role) => ({ role, open: openUnits(role) }));
  const perBu = kgPerM2('bu/ac', lbPerBu);
  if (perBu === null || asked.some(({ open }) => open.length === 0)) return null;
  if (asked.every(({ open }) => open.length === 1) || (lengthRole === 'distance' && !(step_s > 0)))
    return null;
  const [flow, swath, length] = asked.map(({ role }) => numbers(role));
  if (!flow || !swath || !length) return null;
  const made = median(
    flow.map((own, k) => own / (swath[k] * length[k])).filter((own) => own > 0 && Number.isFinite(own)),
  );
  const seconds = lengthRole === 'speed' ? 1 : step_s;
  const plausible = combinations(
    asked.map(({ role, open }) => open.map((unit): Choice => [role, unit])),
  ).filter((own) => {
    const [f, s, l] = own.map(([role, unit]) => scaleOf(role, unit));
    return howPlausible((made * f * seconds) / (s * l) / perBu, 'bu/ac', crop) === 'typical';
  });
  // A machine is set to the units of one side of the ocean or the other.
  const ofOneSystem = plausible.filter((own) => new Set(own.map(systemOf)).size === 1);
  const [only, other] = ofOneSystem.length > 0 ? ofOneSystem : plausible;
  return only && !other ? only : null;

  function openUnits(role: Ground): readonly string[] {
    const own = columns[role];
    if (!own) return [];
    if (own.unit !== 'unknown') return [own.unit];
    return questions.find(({ about }) => about === `${role} unit`)?.options.map(({ value }) => value) ?? [];
  }

  function numbers(role: Ground): Float64Array | null {
    const column = roles[role][0]?.column;
    return column?.kind === 'number' ? sample.at(column) : null;
  }

  function scaleOf(role: Ground, unit: string): number {
    return unitOf(role, unit)?.scale ?? NaN;
  }

  function systemOf([role, unit]: Choice): string {
    return unitOf(role, unit)?.system ?? '';
  }

  function unitOf(role: Ground, unit: string): RoleUnit | null {
    return roles[role][0].units.find((own) => own.unit?.unit === unit)?.unit ?? null;
  }
}

function combinations(lists: readonly (readonly Choice[])[]): Choice[][] {
  return lists.reduce<Choice[][]>(
    (all, list) => all.flatMap((own) => list.map((choice) => [...own, choice])),
    [[]],
  );
}

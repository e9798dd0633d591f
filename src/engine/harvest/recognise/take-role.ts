import type { YieldCheck } from './check-yield.ts';
import { rivals } from './choose-columns.ts';
import { type UnitSystem, unitsLeft } from './choose-unit.ts';
import { type Meaning, POINTS, points } from './meaning.ts';
import { type ColumnQuestion, type ColumnReading, LOG_ROLES, ROLE_WORDS, type Role } from './role.ts';
import type { Sample } from './sample.ts';

/** Roles of which a second column is worth a question; of the others the first is taken. */
const ASKED: readonly Role[] = [...LOG_ROLES.filter((role) => role !== 'date'), 'rate', 'target'];
/** A unit is worth a question but that of an elevation, from which nothing is computed; a heading is in degrees. */
const NOT_ASKED: readonly Role[] = ['elevation', 'heading'];

/** The column and unit of a role; null, or an unknown unit, with a question where several are plausible. */
export function takeRole(
  role: Role,
  meanings: readonly Meaning[],
  look: { sample: Sample; system: UnitSystem; check: YieldCheck | null },
  questions: ColumnQuestion[],
): ColumnReading | null {
  const [best] = meanings;
  if (!best || points(best) < POINTS.accept) return null;
  const vying = ASKED.includes(role) ? rivals(meanings, look.sample, null) : [];
  if (vying.length > 0) {
    questions.push({
      about: `${role} column`,
      options: [best, ...vying].map((own) => ({
        value: own.column.name,
        because: own.units[0].because.join(', '),
        unit: onlyUnit(unitsLeft(own, look.system)),
      })),
      proposed: 0,
    });
    return null;
  }
  const byPhysics = unitByCheck(role, look.check);
  if (byPhysics !== null && !best.told) return { column: best.column.name, unit: byPhysics };
  const left = unitsLeft(best, look.system);
  if (left.length === 1) return { column: best.column.name, unit: left[0].unit?.unit ?? '' };
  if (NOT_ASKED.includes(role))
    return { column: best.column.name, unit: role === 'heading' ? '°' : 'unknown' };
  questions.push({
    about: `${role} unit`,
    options: left.map((own) => ({
      value: own.unit?.unit ?? '',
      because: own.because.join(', ') || ROLE_WORDS[role],
    })),
    proposed: 0,
  });
  return { column: best.column.name, unit: 'unknown' };
}

function onlyUnit(left: ReturnType<typeof unitsLeft>): string {
  return left.length === 1 ? (left[0].unit?.unit ?? '') : 'unknown';
}

/** The unit in which everything fits, where there is only one. */
function unitByCheck(role: Role, check: YieldCheck | null): string | null {
  const fits = check ? (check.fits.length > 0 ? check.fits : check.otherBushel) : [];
  const units = new Set(fits.map((fit) => (fit.units as Partial<Record<Role, string>>)[role]));
  const [only] = units;
  return units.size === 1 ? (only ?? null) : null;
}

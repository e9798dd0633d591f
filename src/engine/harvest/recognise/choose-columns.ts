import type { NumberColumn } from '../../layers/source.ts';
import { kgPerM2, type YieldUnit } from '../yield-unit.ts';
import { type Meaning, POINTS, points } from './meaning.ts';
import { near, ratioOf } from './ratio.ts';
import { ROLES, type Role } from './role.ts';
import type { Sample } from './sample.ts';

/** Of the meanings a column may have it is held to the likeliest; by role, the columns left for it, best first. */
export function byRole(meanings: readonly (readonly Meaning[])[]): Record<Role, Meaning[]> {
  const chosen = Object.fromEntries(ROLES.map((role) => [role, [] as Meaning[]])) as Record<Role, Meaning[]>;
  for (const own of meanings) {
    if (own.length === 0) continue;
    const best = own.reduce((a, b) => (points(b) > points(a) ? b : a));
    chosen[best.role].push(best);
  }
  for (const role of ROLES) chosen[role].sort((a, b) => points(b) - points(a));
  return chosen;
}

/** Columns that vie with the best: as good as it, and not the same figures over again in another unit. */
export function rivals(meanings: readonly Meaning[], sample: Sample, lbPerBu: number | null): Meaning[] {
  const [best, ...rest] = meanings;
  if (!best) return [];
  return rest.filter(
    (own) =>
      points(own) >= POINTS.accept - POINTS.figures &&
      points(best) - points(own) < POINTS.ahead &&
      !sameFigures(best, own, sample, lbPerBu),
  );
}

function sameFigures(a: Meaning, b: Meaning, sample: Sample, lbPerBu: number | null): boolean {
  if (a.column.kind === 'text' || b.column.kind === 'text') return false;
  const ratio = ratioOf(inOne(a, a.column, sample, lbPerBu), inOne(b, b.column, sample, lbPerBu));
  return near(ratio.median, 1, 0.02) && ratio.spread < 0.02;
}

function inOne(meaning: Meaning, column: NumberColumn, sample: Sample, lbPerBu: number | null): Float64Array {
  const unit = meaning.units[0].unit;
  const scale =
    meaning.role === 'yield' && unit ? (kgPerM2(unit.unit as YieldUnit, lbPerBu) ?? 1) : (unit?.scale ?? 1);
  return sample.at(column).map((own) => own * scale);
}

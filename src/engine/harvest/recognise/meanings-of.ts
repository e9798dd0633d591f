import type { Column } from '../../layers/source.ts';
import { columnWords } from './column-words.ts';
import { type Look, type Meaning, POINTS, type UnitReading } from './meaning.ts';
import { ROLES, type Role } from './role.ts';
import { ROLE_UNITS, type RoleUnit } from './role-units.ts';
import { scoreRate, scoreYield } from './score-crop-figures.ts';
import { scoreMeasure } from './score-measure.ts';
import { scoreState } from './score-state.ts';
import { scoreTimeNumber, scoreTimeText } from './score-time.ts';
import { rolesNamed } from './spellings.ts';
import { unitInWords } from './unit-in-words.ts';

/** Units that only one role has, so that a column called after its unit has a meaning. */
const TELLING: readonly (readonly [string, Role])[] = [
  ['bu/ac', 'yield'],
  ['lb/s', 'flow'],
  ['kg/s', 'flow'],
  ['mi/h', 'speed'],
  ['km/h', 'speed'],
];

/** Every meaning a column may have, each with its units, best first. */
export function meaningsOf(column: Column, look: Look): Meaning[] {
  const words = columnWords(column.name);
  const named = rolesNamed(words);
  const roles = named.length > 0 ? withClock(named, column) : roleOfUnit(column);
  return roles.flatMap((role) =>
    meaningOf(role, column, look, named.length > 0 ? POINTS.name : POINTS.unitAlone),
  );
}

/** A column called a date may hold the clock as well. */
function withClock(named: readonly Role[], column: Column): readonly Role[] {
  return named.includes('date') && !named.includes('time') && column.kind === 'text'
    ? [...named, 'time']
    : named;
}

function roleOfUnit(column: Column): Role[] {
  const telling = TELLING.filter(([unit, role]) => toldUnit(role, column)?.unit === unit).map(
    ([, role]) => role,
  );
  return ROLES.filter((role) => telling.includes(role));
}

export function toldUnit(role: Role, column: Column): RoleUnit | null {
  const stated = column.kind === 'number' ? column.unit : undefined;
  return unitInWords(role, column.name, stated);
}

/** A column under one meaning, whatever its name: what a person said, or what `meaningsOf` found named. */
export function meaningOf(role: Role, column: Column, look: Look, start: number): Meaning[] {
  const told = toldUnit(role, column);
  const units = readings(role, column, look, told);
  if (units.length === 0) return [];
  const preferred = role === 'yield' ? preference(columnWords(column.name)) : null;
  const scored = units.map((own) => ({
    ...own,
    points: own.points + start + (told ? POINTS.unit : 0) + (preferred?.points ?? 0),
    because: [`named ${column.name}`, ...(preferred?.because ?? []), ...own.because],
  }));
  // The order of the units decides between equals, so that it is always the same.
  scored.sort((a, b) => b.points - a.points);
  return [{ role, column, told: told !== null, units: scored }];
}

/** Dry yield goes before plain yield before wet: it is what grain is sold by. */
function preference(words: string): { points: number; because: string[] } | null {
  if (/dry|_seca?_|_sec_|trocken|secc?o/.test(words))
    return { points: POINTS.ahead, because: ['said to be dry'] };
  if (/wet|humed|umid|humide|feucht/.test(words))
    return { points: -POINTS.ahead, because: ['said to be wet'] };
  return null;
}

function readings(role: Role, column: Column, look: Look, told: RoleUnit | null): UnitReading[] {
  if (role === 'header' || role === 'pass' || role === 'crop' || role === 'product' || role === 'quality')
    return [scoreState(role, column, look.sample)];
  if (role === 'date') return [scoreTimeText(column, look.sample, 'date')];
  if (column.kind === 'text') return role === 'time' ? [scoreTimeText(column, look.sample, 'time')] : [];
  if (role === 'x' || role === 'y') return [{ unit: null, points: POINTS.figures, because: [] }];
  const units = told ? [told] : (ROLE_UNITS[role] ?? []);
  return units.map((unit) => {
    if (role === 'yield') return scoreYield(column, unit, look, told !== null);
    if (role === 'rate' || role === 'target') return scoreRate(column, unit, look);
    if (role === 'time') return scoreTimeNumber(column, unit, look);
    return scoreMeasure(role, column, unit, look);
  });
}

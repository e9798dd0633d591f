import type { Column } from '../../layers/source.ts';
import { columnWords } from './column-words.ts';
import { type Look, type Meaning, POINTS, type UnitReading } from './meaning.ts';
import { ROLES, type Role } from './role.ts';
import { RARE, ROLE_UNITS, type RoleUnit } from './role-units.ts';
import { scoreRate, scoreYield } from './score-crop-figures.ts';
import { scoreMeasure } from './score-measure.ts';
import { scoreState } from './score-state.ts';
import { scoreTimeNumber, scoreTimeText } from './score-time.ts';
import { rolesNamed, speaks } from './spellings.ts';
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
  const roles = named.length > 0 ? withClock(named, column) : roleOfUnit(column, words);
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

/** The role of a column that is called by its unit alone, or has a unit stated and a name that speaks of nothing known: a yield goal is no yield. */
function roleOfUnit(column: Column, words: string): Role[] {
  const stated = column.kind === 'number' && column.unit !== undefined && !speaks(words);
  const telling = TELLING.filter(([name, role]) => {
    const unit = toldUnit(role, column);
    return unit?.unit === name && (stated || unit.named.exec(words)?.[0] === words);
  }).map(([, role]) => role);
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
  if (/dry|_sec(c?[ao])?_|trocken|secc?o|_drog|_such[ay]_/.test(words))
    return { points: POINTS.ahead, because: ['said to be dry'] };
  if (/wet|humed|umid|humide|feucht|_nat(te)?_|mokr/.test(words))
    return { points: -POINTS.ahead, because: ['said to be wet'] };
  return null;
}

function readings(role: Role, column: Column, look: Look, told: RoleUnit | null): UnitReading[] {
  if (role === 'header' || role === 'pass' || role === 'crop' || role === 'product' || role === 'quality')
    return [scoreState(role, column, look.sample)];
  if (role === 'date') return [scoreTimeText(column, look.sample, 'date')];
  if (column.kind === 'text') return role === 'time' ? [scoreTimeText(column, look.sample, 'time')] : [];
  if (role === 'x' || role === 'y') return [{ unit: null, points: POINTS.figures, because: [] }];
  const score = (unit: RoleUnit): UnitReading => {
    if (role === 'yield') return scoreYield(column, unit, look);
    if (role === 'rate' || role === 'target') return scoreRate(column, unit, look);
    if (role === 'time') return scoreTimeNumber(column, unit, look);
    return scoreMeasure(role, column, unit, look);
  };
  const units = ROLE_UNITS[role] ?? [];
  if (told === null) return units.map((unit) => lessIfRare(score(unit)));
  const own = score(told);
  // A unit that is told and yet wrong by the places leaves those that are right.
  const right = own.agrees === false ? units.map(score).filter(({ agrees }) => agrees === true) : [];
  return [own, ...right.map((other) => ({ ...other, points: other.points - POINTS.unit - POINTS.figures }))];
}

function lessIfRare(reading: UnitReading): UnitReading {
  const rare = reading.unit && RARE.includes(reading.unit.unit);
  return rare ? { ...reading, points: reading.points - POINTS.ahead } : reading;
}

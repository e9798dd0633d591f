import { columnWords } from './column-words.ts';
import type { Role } from './role.ts';
import { ROLE_UNITS, type RoleUnit } from './role-units.ts';

/** Names in a shapefile's table hold 10 characters. */
const CUT = 10;

/** The unit a column of that role tells, in a unit the file states or else in its name; null when neither does. */
export function unitInWords(role: Role, name: string, stated: string | undefined): RoleUnit | null {
  const units = ROLE_UNITS[role] ?? [];
  if (stated) {
    const words = columnWords(stated);
    const own = units.find(({ named }) => named.test(words));
    if (own) return own;
  }
  const words = apart(columnWords(name));
  const named = units.find((own) => own.named.test(words));
  if (named || name.length !== CUT) return named ?? null;
  return units.find(({ cut }) => cut?.test(words)) ?? null;
}

/** Stems that exports write together with a unit: `distft`, `YLDBUAC`. */
const STEMS =
  /(yield|yld|flow|flw|dist(ance)?|swath|swth|width|wdth|moist(ure|ur)?|speed|spd|heading|hdng|elev(ation)?|altitude|alt|interval|duration|mass|weight|rate)(?=[a-z0-9])/g;

function apart(words: string): string {
  return words.replace(STEMS, '$1_');
}

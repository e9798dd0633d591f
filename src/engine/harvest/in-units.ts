import type { Source } from '../layers/source.ts';
import type { ColumnReading, Role } from './recognise/role.ts';
import { ROLE_UNITS } from './recognise/role-units.ts';

/**
 * A column in the unit its role is counted in here (m, m/s, kg/s, kg, s, %, °). Null where there is no such column of numbers, or its unit is not one of the
 * role's: figures in an unknown unit are no figures.
 */
export function inRoleUnit(source: Source, role: Role, reading: ColumnReading | null): Float64Array | null {
  const column = reading && source.columns.find(({ name }) => name === reading.column);
  if (column?.kind !== 'number') return null;
  const units = ROLE_UNITS[role];
  if (!units) return column.values;
  const scale = units.find(({ unit }) => unit === reading?.unit)?.scale;
  if (scale === undefined || Number.isNaN(scale)) return null;
  return scale === 1 ? column.values : column.values.map((own) => own * scale);
}

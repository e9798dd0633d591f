import type { Column } from '../../layers/source.ts';
import { headerState } from '../header-words.ts';
import { columnWords } from './column-words.ts';
import { POINTS, type UnitReading } from './meaning.ts';
import type { Role } from './role.ts';
import type { RoleUnit } from './role-units.ts';
import type { Sample } from './sample.ts';

/** Points for a column that counts, names or flags: header state, pass number, crop, product, quality. */
export function scoreState(role: Role, column: Column, sample: Sample): UnitReading {
  const good = (because: string): UnitReading => ({ unit: null, points: POINTS.figures, because: [because] });
  const poor = (because: string): UnitReading => ({ unit: null, points: -POINTS.ahead, because: [because] });
  if (column.kind === 'text') {
    if (role === 'header') {
      const read = column.levels.filter((level) => !Number.isNaN(headerState(level)));
      return read.length > 0 && 2 * read.length >= column.levels.length
        ? good(`says ${read.slice(0, 2).join(', ')}`)
        : poor('its words are no states of a header');
    }
    // A name a record is no name of a crop or product.
    const few = column.levels.length <= Math.max(20, sample.rows.length / 10);
    return few ? good(`${column.levels.length} different`) : poor('different in every record');
  }
  const figures = sample.figures(column);
  if (role === 'header') {
    const states = column.values.length > 0 && figures.whole && figures.distinct <= 2 && !(figures.p95 > 1);
    return states
      ? { ...good('only 1 and 0'), unit: upIsOne(column.name) ? UP_IS_ONE : null }
      : poor('more than 1 and 0');
  }
  if (!figures.whole) return poor('not whole numbers');
  if (role === 'crop') return { unit: null, points: 0, because: ['numbers, no names'] };
  if (role === 'pass' && figures.distinct > Math.max(5, 0.8 * sample.rows.length))
    return poor('another in every record');
  return good('whole numbers');
}

/** The state a column of ones and zeros counts as 1 where it is not the header down. */
export const UP_IS_ONE: RoleUnit = { unit: 'up is 1', scale: NaN, named: /_up_/ };

function upIsOne(name: string): boolean {
  return /_up_|raised|lifted/.test(columnWords(name));
}

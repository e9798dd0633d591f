import { Refusal } from '../../engine/issue.ts';
import type { Column } from '../../engine/layers/source.ts';
import { figureCells } from './figure-cells.ts';
import { meaningsOf, type NumberedColumns, numberedColumns } from './numbered-columns.ts';
import { roleOf } from './trial-columns.ts';
import type { Across, TrialOptions } from './trial-options.ts';
import type { TrialRole } from './trial-role.ts';
import type { TrialSheet } from './trial-sheet.ts';
import { isAveraged, roleNamed } from './trial-words.ts';
import { nameBesideYield, namedYields, unnamedFigures } from './unnumbered-columns.ts';

/** Yields side by side, a column for each stand, year, place or product, instead of under one another. */
export interface WideTable {
  readonly columns: readonly Column[];
  /** What each column is of: a number of plants, a year, a name. */
  readonly levels: readonly string[];
  /** What they may stand for, that which is taken first; `none` where they may be no such columns. */
  readonly meanings: readonly (Across | 'none')[];
  /** The name with `…` in place of what differs; '' where the columns are called by that alone. */
  readonly stem: string;
  /** Other figures of the same levels, as a moisture for each year: their stems and columns. */
  readonly beside: readonly { readonly stem: string; readonly columns: readonly Column[] }[];
}

/** Yields side by side, if there are any. Refuses those of which it cannot be told what they stand for. */
export function wideTable(sheet: TrialSheet, options: TrialOptions): WideTable | null {
  const { columns } = sheet;
  const { across } = options;
  const stated = options.columns?.yield;
  if (across === 'none' || columns.some(({ name }) => name === stated)) return null;
  const roles = new Set(columns.flatMap((column) => roleOf(column, options) ?? []));
  const wide = ofNumbers(sheet, options) ?? ofNames(columns, roles) ?? ofFigures(sheet, roles);
  return wide && across !== undefined ? { ...wide, meanings: [across] } : wide;
}

function ofNumbers({ columns, figureTexts }: TrialSheet, options: TrialOptions): WideTable | null {
  const groups = numberedColumns(columns).flatMap((group) => {
    const meanings = meaningsOf(group);
    const hasFigures = (column: Column) => figureCells(column, figureTexts(column), 'yield') !== null;
    return meanings.length > 0 && group.columns.every(hasFigures) ? [{ group, meanings }] : [];
  });
  const yields = groups.filter(({ group }) => roleNamed(group.stem)?.role === 'yield');
  const [main] = (yields.length > 0 ? yields : groups).toSorted(
    (a, b) => b.group.columns.length - a.group.columns.length,
  );
  if (!main) return null;
  const { group, meanings } = main;
  const others = columns.filter((own) => !group.columns.includes(own));
  const otherYield = others.some((own) => roleNamed(own.name)?.role === 'yield' && !isAveraged(own.name));
  // Beside a yield, columns of plants are counts as like as not.
  if (otherYield && yields.length === 0) return null;
  const [meaning] = meanings;
  const toldElsewhere =
    (meaning === 'rep' || meaning === 'site') && others.some((own) => roleOf(own, options) === meaning);
  const doubtful = otherYield || toldElsewhere;
  const thousand = group.thousands ? 1000 : 1;
  const counts = meaning === 'stand' || meaning === 'rate';
  return {
    columns: group.columns,
    levels: group.columns.map(({ name }, k) =>
      meaning === 'site' || meaning === 'product'
        ? nameBesideYield(name)
        : counts
          ? String(Number(group.numbers[k]) * thousand)
          : group.numbers[k],
    ),
    meanings: doubtful ? ['none', ...meanings] : meanings,
    stem: yields.length > 0 ? group.stem : '',
    beside: numberedColumns(columns).filter(
      (other) => other.stem !== group.stem && sameNumbers(other, group),
    ),
  };
}

function sameNumbers(a: NumberedColumns, b: NumberedColumns): boolean {
  const role = roleNamed(a.stem)?.role;
  return (
    (role === 'moisture' || role === 'stand' || role === 'emergence') &&
    a.numbers.length === b.numbers.length &&
    a.numbers.every((own, k) => own === b.numbers[k]) &&
    a.thousands === b.thousands
  );
}

function ofNames(columns: readonly Column[], roles: ReadonlySet<TrialRole>): WideTable | null {
  const yields = namedYields(columns);
  const what = acrossOf(roles);
  if (yields.length === 0 || what === null) return null;
  return {
    columns: yields,
    levels: yields.map(({ name }) => nameBesideYield(name)),
    meanings: yields.length > 2 ? [what, 'none'] : ['none', what],
    stem: '… yield',
    beside: [],
  };
}

function ofFigures(sheet: TrialSheet, roles: ReadonlySet<TrialRole>): WideTable | null {
  const named = sheet.columns.some(({ name }) => roleNamed(name)?.role === 'yield');
  if (named || roles.has('yield')) return null;
  const figures = unnamedFigures(sheet);
  if (figures.length === 0) return null;
  const what = acrossOf(roles);
  const names = figures.map(({ name }) => name);
  if (what === null) refuse(sheet.file, names);
  return { columns: figures, levels: names, meanings: [what, 'none'], stem: '', beside: [] };
}

/** Places where the products are told, products where the places are; null where both are, or neither. */
function acrossOf(roles: ReadonlySet<TrialRole>): 'site' | 'product' | null {
  const placed = roles.has('site') || roles.has('trial');
  const named = roles.has('product') || roles.has('brand');
  if (placed === named) return null;
  return named ? 'site' : 'product';
}

function refuse(where: string, names: readonly string[]): never {
  const shown = `${names.slice(0, 6).join(', ')}${names.length > 6 ? ', …' : ''}`;
  throw new Refusal({
    code: 'trial-wide',
    where,
    found: `no column of yields, and columns ${shown}: one for each product, or each place, as it seems`,
    expected: 'one row for each plot, or columns beside that tell the places, or else the products',
    effect: 'The trials were not read',
    remedy:
      'Add a column of the site, or of the product; or put these columns under one another, their names into one column, their figures into one called yield',
  });
}

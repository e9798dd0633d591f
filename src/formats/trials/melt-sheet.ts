import type { Issue } from '../../engine/issue.ts';
import type { Column, NumberColumn } from '../../engine/layers/source.ts';
import { figureCells } from './figure-cells.ts';
import { figureIssues } from './figure-issues.ts';
import { trialIssue } from './trial-issue.ts';
import type { Across, TrialOptions } from './trial-options.ts';
import { TRIAL_ROLE_WORDS, type TrialQuestion } from './trial-role.ts';
import { isFigure, type TrialSheet, withColumns } from './trial-sheet.ts';
import { type WideTable, wideTable } from './wide-table.ts';

/** A cell of yields: the record it stands in, and the column by its place among those of yields. */
interface Place {
  readonly record: number;
  readonly level: number;
}

/** The sheet with one row for each plot: yields that stand side by side under one another, told, and asked about where it is not clear what they stand for. */
export function meltedSheet(sheet: TrialSheet, options: TrialOptions): TrialSheet {
  const wide = wideTable(sheet, options);
  if (!wide) return sheet;
  const [meaning] = wide.meanings;
  const questions = wide.meanings.length > 1 ? [acrossQuestion(wide)] : [];
  if (meaning === 'none') return { ...sheet, questions: [...sheet.questions, ...questions] };
  const texts = wide.columns.map((column) => sheet.figureTexts(column));
  const cells = wide.columns.map((column, k) => figureCells(column, texts[k], 'yield'));
  // Of columns called as figures are it is told already.
  const unread = wide.columns.filter(({ name }) => !isFigure(name, options));
  const issues = cells.flatMap((own, k) =>
    own && unread.includes(wide.columns[k])
      ? figureIssues(sheet.file, own, texts[k], sheet.lines, sheet.place)
      : [],
  );
  const toldAgain = new Set(unread.map(({ name }) => `${sheet.file} › ${name}`));
  const told = sheet.issues.filter(({ code, where }) => code !== 'csv-not-a-number' || !toldAgain.has(where));
  const words = cells.map((own) => new Set(own?.words));
  const places: Place[] = [];
  for (let record = 0; record < sheet.records; record++)
    // Words for a yield are a plot without one, a blank is no plot.
    for (const [level, own] of cells.entries())
      if (own && (!Number.isNaN(own.column.values[record]) || words[level].has(record)))
        places.push({ record, level });
  const taken = new Set([...wide.columns, ...wide.beside.flatMap(({ columns }) => columns)]);
  const kept = sheet.columns.filter((column) => !taken.has(column));
  const names = new Set(kept.map(({ name }) => name));
  const free = (name: string) => {
    let own = name;
    for (let n = 2; names.has(own); n++) own = `${name}_${n}`;
    names.add(own);
    return own;
  };
  const ofLevels = levelColumn(free(TRIAL_ROLE_WORDS[meaning]), meaning, wide.levels, places);
  const yields = gathered(
    free(wide.stem === '' ? 'yield' : wide.stem),
    cells.map((own) => own?.column ?? null),
    places,
  );
  const beside = wide.beside.flatMap(({ stem, columns }) => {
    const figures = columns.map((column) => (column.kind === 'number' ? column : null));
    return [{ column: gathered(free(stem), figures, places), texts: [] }];
  });
  const columns = [
    ...kept.map((column) => {
      const own = sheet.texts(column);
      return { column: spread(column, places), texts: places.map(({ record }) => own[record]) };
    }),
    { column: ofLevels, texts: places.map(({ level }) => wide.levels[level]) },
    { column: yields, texts: places.map(({ record, level }) => texts[level][record]) },
    ...beside,
  ];
  return {
    ...withColumns(sheet, columns),
    records: places.length,
    lines: Int32Array.from(places, ({ record }) => sheet.lines[record]),
    issues: [...told, meltIssue(sheet, wide, meaning, places.length), ...issues],
    questions: [...sheet.questions, ...questions],
  };
}

function levelColumn(
  name: string,
  meaning: Across,
  levels: readonly string[],
  places: readonly Place[],
): Column {
  if (meaning === 'stand' || meaning === 'rate')
    return { name, kind: 'number', values: Float64Array.from(places, ({ level }) => Number(levels[level])) };
  return { name, kind: 'text', levels, codes: Int32Array.from(places, ({ level }) => level) };
}

function gathered(
  name: string,
  columns: readonly (NumberColumn | null)[],
  places: readonly Place[],
): NumberColumn {
  const units = new Set(columns.map((column) => column?.unit));
  const [unit] = units;
  const values = Float64Array.from(
    places,
    ({ record, level }) => columns[level]?.values[record] ?? Number.NaN,
  );
  return { name, kind: 'number', values, ...(unit !== undefined && units.size === 1 ? { unit } : {}) };
}

/** A column beside the yields, a row for each of them. */
function spread(column: Column, places: readonly Place[]): Column {
  if (column.kind === 'number')
    return { ...column, values: Float64Array.from(places, ({ record }) => column.values[record]) };
  const { name, kind, levels, codes } = column;
  return { name, kind, levels, codes: Int32Array.from(places, ({ record }) => codes[record]) };
}

function meltIssue(sheet: TrialSheet, wide: WideTable, meaning: Across, plots: number): Issue {
  const { columns, levels } = wide;
  const counts = meaning === 'stand' || meaning === 'rate';
  const shown = levels.map((own) => (counts ? own.replace(/\B(?=(\d{3})+$)/g, ',') : own));
  const range = counts ? `${shown[0]} to ${shown[shown.length - 1]}` : shown.slice(0, 12).join(', ');
  const blanks = sheet.records * columns.length - plots;
  return trialIssue(
    'note',
    'trial-side-by-side',
    sheet.file,
    `${columns.length} columns of yields, one a ${TRIAL_ROLE_WORDS[meaning]}: ${range}${!counts && shown.length > 12 ? ', …' : ''}`,
    'one row for each plot',
    `Every row is read as ${columns.length} plots: ${plots} of ${sheet.records === 1 ? '1 row' : `${sheet.records} rows`}${blanks > 0 ? `, without ${blanks === 1 ? '1 blank cell' : `${blanks} blank cells`}` : ''}`,
    'State what the columns stand for, or that they are columns of other things, if this is wrong',
  );
}

const BECAUSE: Readonly<Record<Across | 'none', string>> = {
  stand: 'their numbers may be plants standing',
  rate: 'their numbers may be seeds sown',
  year: 'their numbers may be years',
  site: 'their names may be places',
  product: 'their names may be products',
  rep: 'they may be repetitions',
  none: 'they may be columns of other things',
};

function acrossQuestion({ columns, meanings }: WideTable): TrialQuestion {
  return {
    about: 'columns across',
    column: `${columns[0].name} … ${columns[columns.length - 1].name}`,
    options: meanings.map((value) => ({ value, because: BECAUSE[value] })),
    proposed: 0,
  };
}

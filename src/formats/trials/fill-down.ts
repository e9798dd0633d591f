import type { Issue } from '../../engine/issue.ts';
import type { Column } from '../../engine/layers/source.ts';
import { isSummary, isSummaryWord } from './summary-rows.ts';
import { roleOf } from './trial-columns.ts';
import { trialIssue } from './trial-issue.ts';
import type { TrialOptions } from './trial-options.ts';
import type { TrialQuestion, TrialRole } from './trial-role.ts';
import { type TrialSheet, withColumns } from './trial-sheet.ts';

/** What merged cells of a sheet hold. */
const NAMES: readonly TrialRole[] = ['product', 'brand', 'crop', 'site', 'trial', 'year', 'rep', 'block'];
const LEVELS: readonly TrialRole[] = ['stand', 'rate'];
/** Shares of cells that are blank from which they are more than gaps, and of blocks that have blanks. Our own choice. */
const OPEN = 1 / 3;
const MOSTLY = 0.5;
const REGULAR = 0.8;

/** The sheet with the cells below a name filled with it where names stand once for a block of rows, as merged cells are exported; told, and asked about where it is not clear. */
export function filledDown(sheet: TrialSheet, options: TrialOptions): TrialSheet {
  const columns = sheet.columns.flatMap((column) => {
    const role = roleOf(column, options);
    return role !== null && (NAMES.includes(role) || LEVELS.includes(role)) ? [{ column, role }] : [];
  });
  const texts = new Map(columns.map(({ column }) => [column, sheet.texts(column)]));
  const sums = Array.from({ length: sheet.records }, (_, i) =>
    columns.some(({ column, role }) => sumsUp(role, texts.get(column)?.[i] ?? '')),
  );
  const filled = new Map<Column, readonly string[]>();
  const issues: Issue[] = [];
  const questions: TrialQuestion[] = [];
  for (const { column, role } of columns) {
    const own = texts.get(column) as readonly string[];
    const blocks = blocksOf(own, sums);
    const said = options.blanks?.[column.name];
    const reading = said === undefined ? readingOf(role, blocks) : null;
    if (reading?.asked) questions.push(blankQuestion(role, column.name, blocks, reading.fill));
    if (said !== 'as above' && !reading?.fill) continue;
    filled.set(column, filledTexts(own, sums));
    issues.push(filledIssue(sheet.file, column.name, blocks));
  }
  if (filled.size === 0) return { ...sheet, questions: [...sheet.questions, ...questions] };
  const replaced = sheet.columns.map((column) => {
    const own = filled.get(column);
    return own ? { column: filledColumn(column, own), texts: own } : { column };
  });
  return {
    ...withColumns(sheet, replaced),
    issues: [...sheet.issues, ...issues],
    questions: [...sheet.questions, ...questions],
  };
}

/** A mean may stand in place of the product or beside it; `R2` and `SE` are a repetition and a place. */
function sumsUp(role: TrialRole, text: string): boolean {
  return role === 'product' ? isSummaryWord(text) : text.length > 2 && isSummary(text);
}

/** How a column is cut into names with the blanks under them. */
interface Blocks {
  readonly rows: number;
  readonly blanks: number;
  /** Rows of each block, its name among them. */
  readonly lengths: readonly number[];
  readonly different: number;
  /** Whether the first row has a name. */
  readonly fromTop: boolean;
}

function blocksOf(texts: readonly string[], sums: readonly boolean[]): Blocks {
  const lengths: number[] = [];
  const names = new Set<string>();
  let [rows, blanks] = [0, 0];
  for (const [i, text] of texts.entries()) {
    if (sums[i]) continue;
    rows++;
    if (text === '') {
      blanks++;
      if (lengths.length > 0) lengths[lengths.length - 1]++;
    } else {
      lengths.push(1);
      names.add(text);
    }
  }
  const fromTop = lengths.reduce((sum, own) => sum + own, 0) === rows;
  return { rows, blanks, lengths, different: names.size, fromTop };
}

/** Whether blanks are filled until somebody says otherwise, and whether that is asked; null where they are plain gaps. */
function readingOf(role: TrialRole, blocks: Blocks): { fill: boolean; asked: boolean } | null {
  const { rows, blanks, lengths, different, fromTop } = blocks;
  if (!fromTop || lengths.length === 0 || blanks < OPEN * rows) return null;
  const regular = lengths.filter((own) => own > 1).length >= REGULAR * lengths.length;
  if (LEVELS.includes(role)) {
    // Counted in some plots only, or a level told once for its plots: levels come again.
    const level = lengths.every((own) => own === lengths[0]) && 2 * different <= lengths.length;
    return level ? { fill: true, asked: true } : null;
  }
  const clear = regular && blanks >= MOSTLY * rows;
  return { fill: clear || regular, asked: !clear };
}

function filledTexts(texts: readonly string[], sums: readonly boolean[]): readonly string[] {
  let above = '';
  return texts.map((text, i) => {
    if (sums[i]) return text;
    above = text === '' ? above : text;
    return above;
  });
}

function filledColumn(column: Column, texts: readonly string[]): Column {
  if (column.kind === 'number') {
    let above = Number.NaN;
    const values = column.values.map((own, i) => {
      above = Number.isNaN(own) ? above : own;
      return texts[i] === '' ? Number.NaN : above;
    });
    return { ...column, values };
  }
  const levels = [...new Set(texts)].filter((own) => own !== '');
  const code = new Map(levels.map((level, k) => [level, k]));
  return {
    name: column.name,
    kind: 'text',
    levels,
    codes: Int32Array.from(texts, (own) => code.get(own) ?? -1),
  };
}

function filledIssue(file: string, name: string, { blanks, lengths }: Blocks): Issue {
  return trialIssue(
    'warning',
    'trial-filled-down',
    `${file} › ${name}`,
    lengths.length === 1
      ? 'a cell with blanks under it, as merged cells are exported'
      : `${lengths.length} cells with blanks under them, as merged cells are exported`,
    'every row with its own',
    blanks === 1
      ? '1 blank cell is read as the cell above it'
      : `${blanks} blank cells are read as the cell above them`,
    'Fill these cells in the sheet if this is wrong',
  );
}

function blankQuestion(
  role: TrialRole,
  column: string,
  { blanks, rows }: Blocks,
  fill: boolean,
): TrialQuestion {
  return {
    about: `${role} blanks`,
    column,
    options: [
      { value: 'as above', because: 'one cell may stand for those under it' },
      {
        value: 'not known',
        because: `${blanks} of ${rows} cells ${blanks === 1 ? 'is' : 'are'} blank, and not in plain blocks`,
      },
    ],
    proposed: fill ? 0 : 1,
  };
}

import { figuresOf } from '../../engine/harvest/recognise/figures.ts';
import type { Issue } from '../../engine/issue.ts';
import type { NumberColumn } from '../../engine/layers/source.ts';
import { newTally, note, tallyText } from '../tally.ts';
import type { TrialColumns } from './trial-columns.ts';
import { trialIssue } from './trial-issue.ts';
import type { TrialOptions } from './trial-options.ts';
import type { TrialQuestion, TrialRole } from './trial-role.ts';
import type { TrialSheet } from './trial-sheet.ts';

/** Where a figure that nobody gave is now and then written as one. */
const ROLES = ['yield', 'stand', 'rate'] as const satisfies readonly TrialRole[];
/** 999, 9999, 999.9, and one to five nines under zero. */
const NINES = /^(9{3,}(\.9+)?|-9{1,5}(\.9+)?)$/;
/** How far a code lies beyond the figures, and how far a zero below them, so that it can be none of them. Our own choice. */
const FAR = 1.5;
const SOUND = 0.3;

export interface WithoutCodes {
  readonly columns: TrialColumns;
  readonly issues: readonly Issue[];
  readonly questions: readonly TrialQuestion[];
}

/** Columns in which a figure that stands again and again far from the others, as codes of what is missing do, is not known: 999, −9, 0. A question asks where it may be a figure. */
export function withoutCodes(columns: TrialColumns, sheet: TrialSheet, options: TrialOptions): WithoutCodes {
  const issues: Issue[] = [];
  const questions: TrialQuestion[] = [];
  let sound = columns;
  for (const role of ROLES) {
    const column = columns[role]?.column;
    if (column?.kind !== 'number') continue;
    const said = options.codes?.[column.name];
    const codes = codesIn(column);
    if (codes.size === 0 || said === 'figures') continue;
    const values = column.values.map((own) => (codes.has(own) ? Number.NaN : own));
    sound = { ...sound, [role]: { ...columns[role], column: { ...column, values } } };
    issues.push(...[...codes].map(([code, count]) => codeIssue(code, count, column, sheet)));
    const asked = [...codes.keys()].filter((code) => code >= 0);
    if (said === undefined && asked.length > 0) questions.push(codeQuestion(role, column.name, asked));
  }
  return { columns: sound, issues, questions };
}

/** Codes among the figures of a column, with how often each stands there. */
function codesIn({ values }: NumberColumn): Map<number, number> {
  const counts = new Map<number, number>();
  for (const own of values)
    if (own === 0 || NINES.test(String(own))) counts.set(own, (counts.get(own) ?? 0) + 1);
  const others = values.filter((own) => !counts.has(own) && own > 0);
  const { p5, p50, p95 } = figuresOf(others);
  const isCode = (code: number) => {
    if (code < 0) return true;
    return code === 0 ? p5 > SOUND * p50 : code > FAR * p95 || code < p5 / FAR;
  };
  const codes = [...counts].filter(([code, count]) => count > 1 && count < others.length && isCode(code));
  return new Map(codes);
}

function codeIssue(code: number, count: number, { name, values }: NumberColumn, sheet: TrialSheet): Issue {
  const at = newTally();
  for (let i = 0; i < values.length; i++) if (values[i] === code) note(at, sheet.lines[i]);
  return trialIssue(
    'warning',
    'trial-missing-code',
    `${sheet.file} › ${name}`,
    `${code} in ${count} rows, far from the other figures: ${tallyText(at, `${sheet.place}s`)}`,
    'blanks where nothing was measured',
    'It is taken for a code: these figures are not known',
    code < 0 ? 'Leave these cells blank' : 'Leave these cells blank, or say that they are figures',
  );
}

function codeQuestion(role: (typeof ROLES)[number], column: string, codes: readonly number[]): TrialQuestion {
  const named = codes.join(' and ');
  return {
    about: `${role} codes`,
    column,
    options: [
      { value: 'not known', because: `${named} again and again, far from the other figures` },
      { value: 'figures', because: `${named} may have been measured` },
    ],
    proposed: 0,
  };
}

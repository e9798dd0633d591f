import { ratioOf } from '../../engine/harvest/recognise/ratio.ts';
import type { Column, NumberColumn } from '../../engine/layers/source.ts';
import { PER_ACRE, standUnitTold } from './stand-unit.ts';
import type { TrialOptions } from './trial-options.ts';
import { NUMBER_ROLES, TRIAL_ROLES, type TrialQuestion, type TrialRole } from './trial-role.ts';
import { roleNamed } from './trial-words.ts';
import { yieldUnitTold } from './unit-told.ts';

export interface ChosenColumn {
  readonly column: Column;
  /** 0 to 1. */
  readonly confidence: number;
  readonly because: string;
}

/** Columns by role: at most one each. */
export type TrialColumns = Readonly<Partial<Record<TrialRole, ChosenColumn>>>;

interface Candidate {
  readonly column: Column;
  readonly rank: number;
}

/** Roles where taking the wrong one of two columns would matter. */
const ASKED: readonly TrialRole[] = ['product', 'site', 'yield', 'stand', 'rate', 'crop'];

/** Which column plays which role: as stated, else by name; the first of several that are as likely, with a question. */
export function chooseTrialColumns(
  columns: readonly Column[],
  { columns: said = {} }: TrialOptions,
): { chosen: TrialColumns; questions: readonly TrialQuestion[] } {
  const stated = new Set(Object.values(said));
  const candidates = new Map<TrialRole, Candidate[]>();
  for (const column of columns) {
    if (stated.has(column.name)) continue;
    const own = meaningOf(column);
    if (own) candidates.set(own.role, [...(candidates.get(own.role) ?? []), { column, rank: own.rank }]);
  }
  // A table of brands and nothing else calls its products so.
  if (!candidates.has('product') && said.product === undefined && candidates.has('brand')) {
    candidates.set('product', candidates.get('brand') as Candidate[]);
    candidates.delete('brand');
  }
  const chosen: Partial<Record<TrialRole, ChosenColumn>> = {};
  const questions: TrialQuestion[] = [];
  for (const role of TRIAL_ROLES) {
    const name = said[role];
    if (name === null) continue;
    if (name !== undefined) {
      const column = columns.find((own) => own.name === name) as Column;
      chosen[role] = { column, confidence: 1, because: 'as stated' };
      continue;
    }
    const [best, ...others] = (candidates.get(role) ?? []).toSorted((a, b) => b.rank - a.rank);
    if (!best) continue;
    const rivals = ASKED.includes(role) ? others.filter((own) => isRival(role, best, own)) : [];
    chosen[role] = {
      column: best.column,
      confidence: rivals.length > 0 ? 0.5 : best.rank > 0 ? 0.95 : best.rank === 0 ? 0.9 : 0.7,
      because: `named ${best.column.name}${rivals.length > 0 ? ', the first of several' : ''}`,
    };
    if (rivals.length > 0)
      questions.push({
        about: `${role} column`,
        column: best.column.name,
        options: [best, ...rivals].map(({ column }) => ({
          value: column.name,
          because: `named ${column.name}`,
        })),
        proposed: 0,
      });
  }
  return { chosen, questions };
}

function meaningOf(column: Column): { role: TrialRole; rank: number } | null {
  const named = roleNamed(column.name);
  if (!named) return null;
  const { role, rank } = named;
  // Weights and measures have decimals, places and trials none.
  if (NAMES.includes(role) && hasFractions(column)) return null;
  // Entries by number stand beside their names.
  if (role === 'product' && column.kind === 'number') return { role, rank: rank - 3 };
  const stated = column.kind === 'number' ? column.unit : undefined;
  // Environments by name are sites; by number they are what the sites yield.
  if (role === 'environment' && column.kind === 'text') return { role: 'site', rank: -1 };
  if (NUMBER_ROLES.includes(role) && column.kind === 'text') return null;
  // Plants that came up over an area are a stand.
  if (role === 'emergence' && standUnitTold(column.name, stated)?.units.length)
    return { role: 'stand', rank };
  if (role === 'yield' && yieldUnitTold(column.name, stated)?.units.length === 0) return { role, rank: -2 };
  return { role, rank };
}

/** Roles that go by number at most, never by measure. */
const NAMES: readonly TrialRole[] = ['site', 'trial', 'year', 'rep', 'block'];

function hasFractions(column: Column): boolean {
  return column.kind === 'number' && column.values.some((own) => Number.isFinite(own) && own % 1 !== 0);
}

/** Whether a column might as well be the one of its role: called so to the same degree, or telling places apart that the wider word does not. */
function isRival(role: TrialRole, best: Candidate, own: Candidate): boolean {
  if (role === 'site' && own.rank < best.rank) return best.rank < 0 && splits(own.column, best.column);
  return own.rank === best.rank && !sameFigures(role, best.column, own.column);
}

/** Whether one value of `whole` stands beside several of `parting`. */
function splits(parting: Column, whole: Column): boolean {
  const beside = new Map<number, number>();
  const codes = (column: Column) => (column.kind === 'text' ? column.codes : column.values);
  const [a, b] = [codes(parting), codes(whole)];
  return b.some((own, i) => {
    const first = beside.get(own);
    if (first === undefined) beside.set(own, a[i]);
    return first !== undefined && first !== a[i];
  });
}

/** Plants/ac in one of the unit, over one another: what one count is times in another unit. */
const STAND_RATIOS = Object.values(PER_ACRE).flatMap((a) => Object.values(PER_ACRE).map((b) => a / b));

/** One column again in another unit. */
function sameFigures(role: TrialRole, a: Column, b: Column): boolean {
  if (a.kind === 'text' || b.kind === 'text') return false;
  const { median, spread } = ratioOf((a as NumberColumn).values, (b as NumberColumn).values);
  if (!(median > 0 && spread < 0.005)) return false;
  // An early stand is a share of the final one, and no unit.
  return (
    (role !== 'stand' && role !== 'rate') || STAND_RATIOS.some((own) => Math.abs(median / own - 1) < 0.005)
  );
}

/** What a column is taken for: as stated, else by name; null for nothing. */
export function roleOf(column: Column, { columns: said = {} }: TrialOptions): TrialRole | null {
  const stated = TRIAL_ROLES.find((role) => said[role] === column.name);
  return stated ?? meaningOf(column)?.role ?? null;
}

/** The figures of a role, by record; none without a column of them. */
export function figuresOfRole(columns: TrialColumns, role: TrialRole): Float64Array {
  const column = columns[role]?.column;
  return column?.kind === 'number' ? column.values : new Float64Array(0);
}

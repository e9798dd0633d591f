import type { Issue } from '../engine/issue.ts';
import { guessSoilLabel } from '../engine/layers/guess-soil-columns.ts';
import { keyText } from '../engine/layers/join-tables.ts';
import { type SoilChain, soilChains, soilRoutes } from '../engine/layers/soil-chains.ts';
import { cellValue, type Source } from '../engine/layers/source.ts';
import type { DraftFile, DraftWords } from './draft.ts';
import { planIssue } from './plan-issue.ts';
import type { PlanInput } from './schema.ts';

type SoilPlan = NonNullable<NonNullable<PlanInput['evidence']>['soils']>;
type TableFile = DraftFile & { readonly source: Source };

/** Soils of the plan to be: the best way from the polygons through the tables to a value, written down step by step; null when there is none. */
export function draftSoils(
  file: DraftFile,
  given: readonly DraftFile[],
  words: DraftWords,
  issues: Issue[],
): SoilPlan | null {
  const { source } = file;
  if (!source) return null;
  const tables = tablesOnce(given, issues);
  const sources = tables.map((table) => table.source);
  tellKeyless(source, tables, issues);
  const [best] = soilChains(source, sources, words.crop, words.soilValue);
  if (!best) {
    issues.push(
      planIssue(
        'warning',
        'soil-value-not-found',
        file.entry.file,
        'no column that says what the ground can yield',
        'a yield rating, a productivity index, water held or organic matter',
        'The soils are left out',
        'Name the column (command line: --soil-value)',
      ),
    );
    return null;
  }
  tellSymbolTwice(best, source, tables, issues);
  issues.push(
    planIssue(
      'note',
      'soil-value-guessed',
      file.entry.file,
      `${best.column}${wayText(best, tables)}, ${meaningText(best)}; known for ${best.covered} of ${source.records} polygons`,
      'the column that says what the ground can yield',
      'It is written in the plan',
      'Change it there if it is another',
    ),
  );
  return {
    source: file.entry.id,
    label: guessSoilLabel(source),
    column: best.column,
    meaning: best.meaning,
    join: best.steps.map(({ table, ...step }) => ({ source: tables[table].entry.id, ...step })),
  };
}

/** The tables that were read, each once: the same bytes under two names would only count twice. */
function tablesOnce(given: readonly DraftFile[], issues: Issue[]): TableFile[] {
  const columns = ({ source }: TableFile) => source.columns.map(({ name }) => name).join('\n');
  const read = given.filter((table): table is TableFile => table.source !== null);
  return read.filter((table, k) => {
    const first = read
      .slice(0, k)
      .find((own) => own.entry.sha256 === table.entry.sha256 && columns(own) === columns(table));
    if (!first) return true;
    issues.push(
      planIssue(
        'warning',
        'soil-table-twice',
        table.entry.file,
        `the same table as ${first.entry.file}`,
        'each table once',
        'It is counted once',
        'Nothing to do unless another table was meant',
      ),
    );
    return false;
  });
}

function tellKeyless(polygons: Source, tables: readonly TableFile[], issues: Issue[]): void {
  const reached = new Set(
    soilRoutes(
      polygons,
      tables.map(({ source }) => source),
    ).map((route) => route[route.length - 1].table),
  );
  for (const [k, { entry }] of tables.entries()) {
    if (reached.has(k)) continue;
    issues.push(
      planIssue(
        'warning',
        'soil-table-no-key',
        entry.file,
        'no column that joins it to the polygons or to a table that does',
        'musym, mukey or cokey in both',
        'The table is left out',
        'Check that both come from the same survey area, and that the tables between them are there',
      ),
    );
  }
}

/** A symbol is a map unit only within its survey area: in tables of several areas it may be two. */
function tellSymbolTwice(
  { steps }: SoilChain,
  polygons: Source,
  tables: readonly TableFile[],
  issues: Issue[],
): void {
  const [first] = steps;
  if (!first || !/musym/i.test(first.toKey)) return;
  const { source, entry } = tables[first.table];
  const symbol = source.columns.find(({ name }) => name === first.toKey);
  const unit = source.columns.find(({ name }) => /^mukey$/i.test(name));
  const asked = polygons.columns.find(({ name }) => name === first.fromKey);
  if (!symbol || !unit || !asked) return;
  const text = (column: typeof symbol, row: number) => keyText(cellValue(column, row));
  const wanted = new Set(Array.from({ length: polygons.records }, (_, row) => text(asked, row)));
  const units = new Map<string, string>();
  for (let row = 0; row < source.records; row++) {
    const own = text(symbol, row);
    if (!wanted.has(own) || own === '') continue;
    const other = units.get(own) ?? text(unit, row);
    units.set(own, other);
    if (other === text(unit, row)) continue;
    issues.push(
      planIssue(
        'warning',
        'soil-symbol-twice',
        entry.file,
        `symbol ${own} for map units ${other} and ${text(unit, row)}`,
        'one map unit for each symbol, as within one survey area',
        'The mean of both is taken',
        'Leave the tables of other survey areas out, or give polygons that hold mukey',
      ),
    );
    return;
  }
}

function wayText({ steps }: SoilChain, tables: readonly TableFile[]): string {
  if (steps.length === 0) return '';
  const way = steps.map(({ table, toKey, weight, depth }) => {
    const weighed = weight === null ? '' : ` weighed by ${weight}`;
    const deep = depth && `, ${depth.how} from ${depth.from_cm} to ${depth.to_cm} cm`;
    return `${toKey} to ${tables[table].entry.file}${weighed}${deep ?? ''}`;
  });
  return ` by ${way.join(', by ')}`;
}

function meaningText({ meaning, measure, unit }: SoilChain): string {
  if (meaning === 'yield') return 'taken as a yield rating in bu/ac';
  const told = measure === 'as named' ? '' : ` of ${measure}`;
  return `taken as an index${told}${unit === '' ? '' : ` in ${unit}`}`;
}

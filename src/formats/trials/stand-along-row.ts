import { figuresOf } from '../../engine/harvest/recognise/figures.ts';
import type { Column, NumberColumn } from '../../engine/layers/source.ts';
import { M_PER_FT } from '../../engine/math/units.ts';
import { headerText } from './header-text.ts';
import { metresCounted } from './stand-unit.ts';
import type { TrialColumns } from './trial-columns.ts';

const M_PER_IN = M_PER_FT / 12;
const ROW_WIDTH =
  /_rows?_?(width|spac\w*|distance|dist|apart)_|_rows_apart_|reihen(abstand|weite)|ecartement|inter_?rang|distancia_entre|entre_?(surcos|hileras)|rijafstand|raekkeafstand/;

/** Stands and seeding rates counted along the row as plants/m², where a column tells how far rows are apart; others as they are. */
export function standsOverArea(columns: TrialColumns, all: readonly Column[]): TrialColumns {
  let over = columns;
  for (const role of ['stand', 'rate'] as const) {
    const chosen = columns[role];
    if (chosen?.column.kind !== 'number') continue;
    const counted = chosen.column;
    const metres = metresCounted(counted.name, counted.unit);
    const widths = metres === null ? null : rowWidths_m(all, metres === 1);
    if (metres === null || widths === null) continue;
    const values = counted.values.map((own, i) => own / (metres * widths.metres[i]));
    const because = `${chosen.because}, over the rows of ${widths.name}`;
    over = {
      ...over,
      [role]: { ...chosen, because, column: { ...counted, unit: 'plants/m2', values } },
    };
  }
  return over;
}

/** Row widths, m, by record, of the first column that tells them in a unit that is known; null without one. */
function rowWidths_m(
  columns: readonly Column[],
  metric: boolean,
): { readonly name: string; readonly metres: Float64Array } | null {
  const column = columns.find(
    (own): own is NumberColumn => own.kind === 'number' && ROW_WIDTH.test(headerText(own.name)),
  );
  if (!column) return null;
  const factor = metresInOne(column, metric);
  return { name: column.name, metres: column.values.map((own) => (own > 0 ? own * factor : Number.NaN)) };
}

/** As name or unit say; else inches beside feet, centimetres beside metres, unless the figures are metres. */
function metresInOne({ name, unit, values }: NumberColumn, metric: boolean): number {
  const words = headerText(`${name} ${unit ?? ''}`);
  if (/_(in|inch|inches)_|"/.test(words)) return M_PER_IN;
  if (/_cm_/.test(words)) return 0.01;
  if (/_mm_/.test(words)) return 0.001;
  if (/_(ft|feet|foot)_/.test(words)) return M_PER_FT;
  if (/_(m|met(er|re)s?)_/.test(words) || figuresOf(values).p50 < 2) return 1;
  return metric ? 0.01 : M_PER_IN;
}

import type { Column } from '../../engine/layers/source.ts';
import type { CsvLayout } from '../csv/layout.ts';
import { forEachRowText } from '../csv/row-texts.ts';
import type { PlainText } from '../text/decode.ts';
import type { TrialSheet } from './trial-sheet.ts';

/** The cells of a column, by its name, as written. */
export function textsOf(
  columns: readonly Column[],
  records: number,
  text: PlainText,
  layout: CsvLayout,
  where: string,
): TrialSheet['texts'] {
  return (column) => {
    const at = columns.findIndex(({ name }) => name === column.name);
    const texts: string[] = new Array(records);
    if (column.kind === 'text') {
      const levels = column.levels.map((level) => level.trim());
      for (let i = 0; i < records; i++) texts[i] = column.codes[i] < 0 ? '' : levels[column.codes[i]];
      return texts;
    }
    // Numbers as written: an entry called 2.10 is not 2.1.
    let record = 0;
    forEachRowText(text, layout, where, (_, cell) => {
      texts[record++] = cell(at);
    });
    return texts;
  };
}

import { type Issue, Refusal } from '../../engine/issue.ts';
import type { Source } from '../../engine/layers/source.ts';
import { uniqueNames } from '../column-names.ts';
import { emptyLayer } from '../empty-layer.ts';
import type { FileBytes } from '../file-bytes.ts';
import { type Format, oneLayer, type ReadOptions } from '../format.ts';
import { type PlainText, plainText } from '../text/decode.ts';
import { firstZero } from '../text/scan.ts';
import { csvLayout } from './layout.ts';
import { findPositions } from './positions.ts';
import { refuseTable } from './sample-rows.ts';
import { readTable } from './table.ts';

export const csv: Format = {
  id: 'csv',
  title: 'Delimited text',
  extensions: ['csv', 'txt', 'tsv', 'tab', 'dat'],
  recognises: ({ bytes }) => {
    const { bytes: text } = plainText(bytes.subarray(0, 4096));
    const first = text.find((byte) => byte > 32);
    return text.indexOf(0) < 0 && first !== undefined && first !== 0x3c && first !== 0x7b && first !== 0x5b;
  },
  read: ([file], options) => oneLayer(readCsv(file, options)),
};

/**
 * A delimited text table (RFC 4180 and its usual relatives) as points where it has recognisable coordinates, as a
 * plain table otherwise. Rows of another width are set aside. Throws a Refusal for what is no table.
 */
export function readCsv(file: FileBytes, options: ReadOptions = {}): Source {
  if (file.bytes.length > 2 ** 31 - 1) refuseSize(file);
  const text = plainText(file.bytes, options.encoding);
  const odd = controlByteAt(text);
  if (odd >= 0) {
    throw new Refusal({
      code: 'csv-binary',
      where: `${file.name} › byte ${odd}`,
      found:
        text.bytes[odd] === 0
          ? 'a zero byte'
          : `a control byte (0x${text.bytes[odd].toString(16).padStart(2, '0')})`,
      expected: 'text',
      effect: 'The file was not read',
      remedy: 'Export it as CSV; this looks like a binary file',
    });
  }
  const layout = csvLayout(text, file.name, options);
  const { names, issues: renamed } = uniqueNames(layout.names, file.name);
  const table = readTable(text, layout, names, file.name, options.commas);
  const aside = Object.values(table.setAside).reduce((sum, n) => sum + n, 0);
  if (aside > table.rows) {
    refuseTable(
      file.name,
      `${aside} of ${aside + table.rows} rows of another width`,
      `rows of ${names.length} cells`,
    );
  }
  if (names.length === 1 && (table.rows === 0 || table.columns[0].kind === 'text')) {
    refuseTable(
      file.name,
      'lines of text with no delimiter',
      'columns parted by comma, semicolon, tab or bar',
    );
  }
  const found = findPositions(table.columns, table.rows, file.name, options);
  const { positions } = found;
  const without = positions?.without ?? {};
  const lost = Object.values(without).reduce((sum, n) => sum + n, 0);
  const general: Issue[] = text.guessed ? [guessedEncoding(file.name)] : [];
  if (table.rows === 0) general.push(emptyLayer(file.name, 'rows'));
  return {
    file: file.name,
    format: 'csv',
    shape: positions ? 'points' : 'table',
    crs: positions?.crs ?? null,
    records: table.rows,
    x: positions?.x ?? new Float64Array(0),
    y: positions?.y ?? new Float64Array(0),
    rings: [],
    columns: table.columns,
    ledger: {
      read: table.rows + aside,
      used: table.rows - lost,
      repaired: 0,
      setAside: { ...table.setAside, ...without },
    },
    issues: [...general, ...layout.issues, ...renamed, ...table.issues, ...found.issues],
  };
}

function refuseSize({ name, bytes }: FileBytes): never {
  throw new Refusal({
    code: 'csv-size',
    where: name,
    found: `${bytes.length} bytes`,
    expected: 'at most 2 GB',
    effect: 'The file was not read',
    remedy: 'Cut the file to the field, or export it in parts',
  });
}

function guessedEncoding(where: string): Issue {
  return {
    code: 'code-page-guessed',
    severity: 'warning',
    where,
    found: 'letters that are not valid UTF-8',
    expected: 'UTF-8',
    effect: 'The text is read as windows-1252',
    remedy: 'State the encoding, or export as UTF-8, if letters look wrong',
  };
}

/** A zero byte anywhere, or another control byte in the first 4 kB: no text has them. −1 when there is none. */
function controlByteAt({ bytes, ascii }: PlainText): number {
  const nul = ascii ? -1 : firstZero(bytes);
  const early = bytes.subarray(0, 4096).findIndex((byte) => byte < 9 || (byte > 13 && byte < 32));
  return early >= 0 && (nul < 0 || early < nul) ? early : nul;
}

import { Refusal } from '../../engine/issue.ts';
import type { FileBytes } from '../file-bytes.ts';
import { extensionOf } from '../format.ts';
import { scanJson } from '../geojson/scan.ts';
import { plainText } from '../text/decode.ts';

export function isJson({ name, bytes }: FileBytes): boolean {
  const first = plainText(bytes.subarray(0, 4096)).bytes.find((byte) => byte > 32);
  return first === 0x5b || first === 0x7b || extensionOf(name) === 'json';
}

/** An array of rows as a delimited text with the row of names in line 1, so that row n is in line n + 1. Throws a Refusal for anything else. */
export function jsonAsCsv(file: FileBytes, encoding?: string): FileBytes {
  const { bytes, decode } = plainText(file.bytes, encoding);
  scanJson(bytes, file.name);
  let rows: unknown;
  try {
    rows = JSON.parse(decode(bytes));
  } catch (error) {
    refuse(file.name, 'json-syntax', error instanceof Error ? error.message.slice(0, 120) : 'no JSON');
  }
  if (!Array.isArray(rows)) refuse(file.name, 'trial-json', 'no array');
  const names = new Map<string, number>();
  const records = rows.map((row: unknown, index) => {
    if (typeof row !== 'object' || row === null || Array.isArray(row))
      refuse(`${file.name} › row ${index + 1}`, 'trial-json', 'no object');
    const cells = new Map<number, string>();
    for (const [name, value] of Object.entries(row)) {
      const column = names.get(name) ?? names.size;
      names.set(name, column);
      cells.set(column, cellOf(value));
    }
    return cells;
  });
  if (names.size < 2) refuse(file.name, 'trial-json', names.size === 1 ? '1 column' : 'no columns');
  if (names.size > MAX_COLUMNS) refuse(file.name, 'trial-json', `${names.size} columns`);
  const columns = [...names.keys()];
  const lines = [columns, ...records.map((cells) => columns.map((_, column) => cells.get(column) ?? ''))];
  const text = lines.map((cells) => `${cells.map(quoted).join(',')}\n`).join('');
  return { name: file.name, bytes: new TextEncoder().encode(text) };
}

const MAX_COLUMNS = 2000;

function cellOf(value: unknown): string {
  if (value === null || value === undefined) return '';
  return typeof value === 'object' ? JSON.stringify(value) : String(value);
}

/** One line a row: what breaks a line becomes a blank. */
function quoted(cell: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: that is what is taken out
  return `"${cell.replace(/[\u0000-\u001f]+/g, ' ').replaceAll('"', '""')}"`;
}

function refuse(where: string, code: string, found: string): never {
  throw new Refusal({
    code,
    where,
    found,
    expected: 'an array of objects, one a plot: [{"product": …, "yield": …}, …]',
    effect: 'The trials were not read',
    remedy: 'Export the rows so, or as CSV',
  });
}

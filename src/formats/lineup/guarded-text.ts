/** A cell that a spreadsheet might run has an apostrophe before it in a file of ours; one that begins so by itself gets another. */
const GUARDED = /^'+[=+\-@\t\r\n＝＋－＠]/;

export function guarded(text: string): string {
  return GUARDED.test(text) ? `'${text}` : text;
}

export function unguarded(cell: string): string {
  return GUARDED.test(cell) ? cell.slice(1) : cell;
}

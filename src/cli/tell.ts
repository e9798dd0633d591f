import { type Issue, issueText } from '../engine/issue.ts';
import type { RunControl } from '../run/walk.ts';

/** Exit codes: done, wrong input, wrong usage. */
export const DONE = 0;
export const WRONG_INPUT = 1;
export const WRONG_USAGE = 2;

/** Answer on stdout, and nothing else there. */
export function tell(text: string): void {
  process.stdout.write(`${text}\n`);
}

export function tellJson(value: unknown): void {
  tell(JSON.stringify(value, null, 2));
}

/** A reader that has read enough closes its end: that is no fault, and nobody is left to tell. Other trouble with stdout (a full disk) is told. */
export function mindPipes(): void {
  process.stderr.on('error', () => {});
  process.stdout.on('error', (thrown: NodeJS.ErrnoException) => {
    if (thrown.code === 'EPIPE') process.exit();
    process.stderr.write(`error: the answer could not be written: ${thrown.message}\n`);
    process.exit(WRONG_INPUT);
  });
}

/** Issues on stderr, one a paragraph, gravest first. */
export function tellIssues(issues: readonly Issue[]): void {
  const order = ['error', 'warning', 'note'];
  for (const issue of [...issues].sort((a, b) => order.indexOf(a.severity) - order.indexOf(b.severity))) {
    process.stderr.write(`${issue.severity}: ${issueText(issue)} [${issue.code}]\n`);
  }
}

export function hasError(issues: readonly Issue[]): boolean {
  return issues.some((issue) => issue.severity === 'error');
}

/** Progress on stderr: one line that rewrites itself on a terminal, a line a step elsewhere. Ctrl-C cancels between steps. */
export function progress(): RunControl & { readonly end: () => void } {
  const abort = new AbortController();
  const stop = () => abort.abort();
  process.once('SIGINT', stop);
  let last = '';
  return {
    signal: abort.signal,
    onProgress: ({ step, share }) => {
      if (step === last) return;
      last = step;
      const line = `${String(Math.round(100 * share)).padStart(3)} %  ${step}`;
      process.stderr.write(process.stderr.isTTY ? `\r\x1b[K${line}` : `${line}\n`);
    },
    end: () => {
      process.removeListener('SIGINT', stop);
      if (process.stderr.isTTY) process.stderr.write('\r\x1b[K');
    },
  };
}

/** A table of text: the first `left` columns to the left, the rest to the right. */
export function table(rows: readonly (readonly string[])[], left: number): string {
  const widths = rows[0].map((_, column) => Math.max(...rows.map((row) => row[column].length)));
  return rows
    .map((row) =>
      row
        .map((cell, column) => (column < left ? cell.padEnd(widths[column]) : cell.padStart(widths[column])))
        .join('  ')
        .trimEnd(),
    )
    .join('\n');
}

import { basename } from 'node:path';
import type { SourceLedger } from '../engine/layers/source.ts';
import type { FileBytes } from '../formats/file-bytes.ts';
import { TRIAL_ROLE_WORDS } from '../formats/trials/trial-role.ts';
import type { OpenedTrials, OpenTrials } from '../jobs/open-trials.ts';
import { figure } from '../run/figures.ts';
import { loadFile } from './disk.ts';

/** Files of trials, each once, by their names; by their paths where two have one name. */
export function loadTrials(paths: readonly string[]): FileBytes[] {
  const all = [...new Set(paths)];
  const names = all.map((path) => basename(path));
  return all.map(
    (path, k) => loadFile(path, names.indexOf(names[k]) === names.lastIndexOf(names[k]) ? names[k] : path)[0],
  );
}

/** What the columns of trial tables were taken for, and what became of their rows: file by file, and together. */
export function readingsText({ files, ledger }: OpenTrials): string {
  return [...files.map(fileText), ...(files.length > 1 ? [`Together: ${plotsText(ledger)}`] : [])].join('\n');
}

function fileText({ file, readings, ledger }: OpenedTrials): string {
  return [
    `${file}: ${plotsText(ledger)}`,
    ...readings.map(
      ({ role, column, unit, confidence }) =>
        `  ${TRIAL_ROLE_WORDS[role]}: ${column}${unit ? ` in ${unit}` : ''} (${confidence >= 1 ? 'sure' : `${figure.whole(100 * confidence)} % sure`})`,
    ),
  ].join('\n');
}

function plotsText({ read, used, setAside }: SourceLedger): string {
  const aside = Object.entries(setAside).map(([reason, n]) => `${n} ${reason}`);
  return `${figure.count(used, 'plot')} used of ${read}${aside.length > 0 ? `, set aside ${aside.join(', ')}` : ''}`;
}

/** The same for `--json`: of all files together, as of a single one, and file by file. */
export function readingsJson({ files, ledger }: OpenTrials) {
  return {
    readings: files.flatMap(({ readings }) => readings),
    questions: files.flatMap(({ questions }) => questions),
    ledger,
    files,
  };
}

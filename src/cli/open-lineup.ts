import type { Issue } from '../engine/issue.ts';
import type { SourceLedger } from '../engine/layers/source.ts';
import { readLineupCsv } from '../formats/lineup/read-lineup-csv.ts';
import { isJson } from '../formats/trials/json-rows.ts';
import { readLineupFile } from '../jobs/read-file.ts';
import type { Lineup } from '../plan/lineup-schema.ts';
import { readLineup } from '../plan/validate.ts';
import { loadFile } from './disk.ts';
import { hasError } from './tell.ts';

export interface OpenLineup {
  /** Null where the file gives none; the issues say why. */
  readonly lineup: Lineup | null;
  /** Rows of a table of products: read = used + set aside; null for a document. */
  readonly ledger: SourceLedger | null;
  readonly issues: readonly Issue[];
}

/** A lineup document, or a table of products as one: without responses, trials and rules, which no table holds. Throws a Refusal for what is neither. */
export function openLineup(path: string, crop?: string): OpenLineup {
  const [file] = loadFile(path);
  if (isJson(file)) return { ledger: null, ...readLineupFile(file) };
  const { products, scales, issues, ledger } = readLineupCsv(file, crop === undefined ? {} : { crop });
  const lineup: Lineup = {
    document: 'eachacre-lineup',
    version: 1,
    name: baseName(file.name),
    scales,
    sites: [],
    products,
  };
  if (products.length === 0) return { lineup: null, ledger, issues };
  // What a table gives must be what a document may say.
  const read = readLineup(lineup, file.name);
  return { lineup: hasError(read.issues) ? null : lineup, ledger, issues: [...issues, ...read.issues] };
}

/** A file's name without its ending; a lineup is called at most so long. */
export function baseName(name: string): string {
  return name.replace(/(.)\.[^.]*$/, '$1').slice(0, 120);
}

/** What became of the rows of a table of products, in one line. */
export function rowsText(file: string, { read, used, setAside }: SourceLedger): string {
  const aside = Object.entries(setAside).map(([reason, n]) => `${n} ${reason}`);
  return `${file}: ${used} of ${read === 1 ? '1 row' : `${read} rows`} used${aside.length > 0 ? `, set aside ${aside.join(', ')}` : ''}`;
}

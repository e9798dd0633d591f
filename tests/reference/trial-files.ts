import type { TrialTable } from '../../src/engine/lineup/trial-table.ts';
import { trials } from '../engine/lineup/small-trials.ts';
import { openData } from '../formats/open-data.ts';

/** A file of the open trials as a table, in the unit it is in: the engine's figures follow any. */
export function openTrials(file: string, site: string): TrialTable {
  const [head, ...rows] = new TextDecoder()
    .decode(openData(file).bytes)
    .trim()
    .split(/\r?\n/)
    // Commas within quotes are part of a name.
    .map((line) => [...line.matchAll(/"([^"]*)"|([^,]+)/g)].map((match) => match[1] ?? match[2]));
  const column = (name: string) => head.indexOf(name);
  return trials(
    rows.map((row) => ({
      product: row[column('gen')],
      site: row[column(site)],
      yield: Number(row[column('yield')]),
    })),
  );
}

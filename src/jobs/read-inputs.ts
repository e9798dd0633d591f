import type { Box } from '../engine/geodesy/box.ts';
import type { Issue } from '../engine/issue.ts';
import type { Source } from '../engine/layers/source.ts';
import type { FileBytes } from '../formats/file-bytes.ts';
import type { ReadTogether } from '../formats/registry.ts';
import type { Lineup } from '../plan/lineup-schema.ts';
import type { Plan } from '../plan/schema.ts';
import type { Inputs } from '../run/run.ts';
import type { RunControl } from '../run/walk.ts';
import { breathing } from './breathing.ts';
import { findFiles } from './find-files.ts';
import { fileIssue, readLayerFile, readLineupFile } from './read-file.ts';
import { extentInDegrees } from './source-extent.ts';
import { sourceSha256 } from './source-sha256.ts';

/** Sources already read, by the SHA-256 and names of their files (issues name them), coordinate system and layer asked for. */
export type ReadCache = Map<
  string,
  { source: Source | null; lineup: Lineup | null; issues: readonly Issue[] }
>;

export interface ReadInputs extends Inputs {
  readonly issues: readonly Issue[];
}

/** Read what a plan names out of the open files. A missing, changed or unreadable file is an error among the issues. */
export async function readInputs(
  plan: Plan,
  files: readonly FileBytes[],
  cache: ReadCache,
  control: RunControl,
  readTogether?: ReadTogether,
): Promise<ReadInputs> {
  const sources = new Map<string, Source>();
  let lineup: Lineup | null = null;
  const issues: Issue[] = [];
  // The boundary first: it says which part of a large raster is wanted.
  let window: Box | null = null;
  const isBoundary = (entry: Plan['sources'][number]) => Number(entry.id === plan.field.boundary);
  const ordered = [...plan.sources].sort((a, b) => isBoundary(b) - isBoundary(a));
  for (const [k, entry] of ordered.entries()) {
    const share = k / ordered.length;
    control.onProgress?.({ step: `Reading ${entry.file}`, share });
    await new Promise((resolve) => setTimeout(resolve, 0));
    control.signal?.throwIfAborted();
    const found = findFiles(files, entry.file);
    if (found.files.length === 0) {
      issues.push(
        fileIssue(
          'source-missing',
          entry.file,
          'no such file among those given',
          'the file the plan names',
          'Give the file along with the plan',
        ),
      );
      continue;
    }
    const sha256 = await sourceSha256(found.files);
    if (sha256 !== entry.sha256) {
      issues.push(
        fileIssue(
          'source-changed',
          entry.file,
          `SHA-256 ${sha256.slice(0, 12)}…`,
          `${entry.sha256.slice(0, 12)}…, as when the plan was made`,
          'Put the old file back, or make the plan anew',
        ),
      );
      continue;
    }
    const isLineup = entry.id === plan.lineup?.source;
    const names = found.files.map((file) => file.name);
    const { id: _id, file: _file, sha256: _sha, ...said } = entry;
    const key = JSON.stringify([sha256, names, said, found.layer, isLineup, window]);
    let read = cache.get(key);
    if (!read) {
      read = isLineup
        ? { source: null, ...readLineupFile(found.files[0]) }
        : {
            lineup: null,
            ...(await readLayerFile(
              found.files,
              found.layer,
              entry,
              readTogether,
              window,
              breathing(control, share),
            )),
          };
      cache.set(key, read);
    }
    issues.push(...read.issues);
    if (read.source) sources.set(entry.id, read.source);
    if (read.source && entry.id === plan.field.boundary)
      window = extentInDegrees(read.source, plan.field.records);
    if (read.lineup) lineup = read.lineup;
  }
  return { sources, lineup, issues };
}

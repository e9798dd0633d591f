import { crsFromEpsg } from '../engine/geodesy/crs.ts';
import type { Issue } from '../engine/issue.ts';
import type { Source } from '../engine/layers/source.ts';
import type { FileBytes } from '../formats/file-bytes.ts';
import { readFiles } from '../formats/registry.ts';
import { sha256Hex } from '../formats/sha256.ts';
import type { Lineup } from '../plan/lineup-schema.ts';
import type { Plan } from '../plan/schema.ts';
import { readLineup } from '../plan/validate.ts';
import type { Inputs } from '../run/run.ts';
import type { RunControl } from '../run/walk.ts';
import { findFiles } from './find-files.ts';

/** Sources already read, by the SHA-256 of their bytes, coordinate system and layer asked for. */
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
): Promise<ReadInputs> {
  const sources = new Map<string, Source>();
  let lineup: Lineup | null = null;
  const issues: Issue[] = [];
  for (const [k, entry] of plan.sources.entries()) {
    control.onProgress?.({ step: `Reading ${entry.file}`, share: k / plan.sources.length });
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
    const sha256 = await sha256Hex(found.files[0].bytes);
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
    const key = [sha256, entry.crs, found.layer, isLineup].join(' ');
    let read = cache.get(key);
    if (!read) {
      read = isLineup ? readLineupFile(found.files[0]) : readSourceFile(found.files, found.layer, entry.crs);
      cache.set(key, read);
    }
    issues.push(...read.issues);
    if (read.source) sources.set(entry.id, read.source);
    if (read.lineup) lineup = read.lineup;
  }
  return { sources, lineup, issues };
}

function readLineupFile(file: FileBytes): { source: null; lineup: Lineup | null; issues: readonly Issue[] } {
  let json: unknown;
  try {
    json = JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(file.bytes));
  } catch {
    const issue = fileIssue(
      'lineup-unreadable',
      file.name,
      file.bytes.length === 0 ? 'an empty file' : 'no JSON',
      'a lineup document',
      'Choose the lineup file',
    );
    return { source: null, lineup: null, issues: [issue] };
  }
  const reading = readLineup(json, file.name);
  return { source: null, lineup: reading.value, issues: reading.issues };
}

function readSourceFile(
  files: readonly FileBytes[],
  layer: string | null,
  epsg: string | null,
): { source: Source | null; lineup: null; issues: readonly Issue[] } {
  const issues: Issue[] = [];
  const crs = epsg === null ? null : crsFromEpsg(Number(epsg.slice(5)));
  if (epsg !== null && crs === null) {
    issues.push(
      fileIssue(
        'crs-not-supported',
        files[0].name,
        epsg,
        'a coordinate system verified here',
        'Convert the file to WGS 84 longitude and latitude',
      ),
    );
    return { source: null, lineup: null, issues };
  }
  const read = readFiles(files, crs ? { crs } : {});
  issues.push(...read.issues);
  const layers =
    layer === null ? read.sources : read.sources.filter((source) => source.file.endsWith(` › ${layer}`));
  if (layers.length === 1) {
    issues.push(...layers[0].issues);
    return { source: layers[0], lineup: null, issues };
  }
  if (layers.length > 1) {
    issues.push(
      fileIssue(
        'layer-not-chosen',
        files[0].name,
        `${layers.length} layers: ${layers.map((source) => source.file).join(', ')}`,
        'one',
        'Name the layer in the plan as written here',
      ),
    );
  } else if (!issues.some((issue) => issue.severity === 'error')) {
    issues.push(
      fileIssue(
        'file-no-layer',
        files[0].name,
        'no layer that can be read',
        'points, polygons or a table',
        'Choose another file',
      ),
    );
  }
  return { source: null, lineup: null, issues };
}

function fileIssue(code: string, where: string, found: string, expected: string, remedy: string): Issue {
  return {
    code,
    severity: 'error',
    where,
    found,
    expected,
    effect: 'The file is not used and the work stops',
    remedy,
  };
}

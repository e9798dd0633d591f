import { crsFromEpsg } from '../engine/geodesy/crs.ts';
import type { Issue } from '../engine/issue.ts';
import type { Source } from '../engine/layers/source.ts';
import type { FileBytes } from '../formats/file-bytes.ts';
import { type ReadTogether, readFiles, readTogether } from '../formats/registry.ts';
import type { Lineup } from '../plan/lineup-schema.ts';
import { readLineup } from '../plan/validate.ts';

/** A lineup document out of a JSON file; null with the issues that keep it from being one. */
export function readLineupFile(file: FileBytes): { lineup: Lineup | null; issues: readonly Issue[] } {
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
    return { lineup: null, issues: [issue] };
  }
  const reading = readLineup(json, file.name);
  return { lineup: reading.value, issues: reading.issues };
}

/**
 * The one layer of a file that is meant: the only one, or that called `layer` in an archive. `epsg` (`EPSG:32612`) is used where the file does not say
 * its coordinate system.
 */
export async function readLayerFile(
  files: readonly FileBytes[],
  layer: string | null,
  epsg: string | null,
  read: ReadTogether = readTogether,
): Promise<{ source: Source | null; issues: readonly Issue[] }> {
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
    return { source: null, issues };
  }
  const reading = await readFiles(files, crs ? { crs } : {}, read);
  issues.push(...reading.issues);
  const layers =
    layer === null
      ? reading.sources
      : reading.sources.filter((source) => source.file.endsWith(` › ${layer}`));
  if (layers.length === 1) {
    issues.push(...layers[0].issues);
    return { source: layers[0], issues };
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
  return { source: null, issues };
}

/** An error about a file of the plan. */
export function fileIssue(
  code: string,
  where: string,
  found: string,
  expected: string,
  remedy: string,
): Issue {
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

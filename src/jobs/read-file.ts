import type { Box } from '../engine/geodesy/box.ts';
import { statedCrs } from '../engine/geodesy/crs.ts';
import type { Issue } from '../engine/issue.ts';
import type { Source } from '../engine/layers/source.ts';
import { type Breathe, goOn } from '../formats/breathe.ts';
import type { FileBytes } from '../formats/file-bytes.ts';
import type { Reading, ReadOptions } from '../formats/format.ts';
import { type ReadTogether, readFiles, readTogether } from '../formats/registry.ts';
import type { Lineup } from '../plan/lineup-schema.ts';
import { NOTHING_SAID, type SourceSaid } from '../plan/source-said.ts';
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

/** Only what is said: a file of which nothing is said is read as it was when files were sorted. */
function optionsSaid(said: SourceSaid): ReadOptions {
  return {
    ...(said.acceptNad27 ? { acceptNad27: true } : {}),
    ...(said.swapLonLat ? { swapLonLat: true } : {}),
    ...(said.columns ? { columns: said.columns } : {}),
    ...(said.headerLine === null ? {} : { headerLine: said.headerLine }),
    ...(Object.keys(said.commas).length > 0 ? { commas: said.commas } : {}),
    ...(said.encoding === null ? {} : { encoding: said.encoding }),
    ...(said.rowsInOrder ? { unmatchedRows: 'in-order' } : {}),
  };
}

/** How to read a file of which that is said; null with the issue where its coordinate system cannot be used. */
export function readOptions(
  said: Partial<SourceSaid>,
  where: string,
): { options: ReadOptions | null; issues: readonly Issue[] } {
  const all = { ...NOTHING_SAID, ...said };
  if (all.crs === null) return { options: optionsSaid(all), issues: [] };
  const { crs, issues } = statedCrs(Number(all.crs.slice(5)), where, { acceptNad27: all.acceptNad27 });
  return { options: crs && { ...optionsSaid(all), crs }, issues };
}

/** A raster that was thinned for a look is read again where the field is. */
async function readLayers(
  files: readonly FileBytes[],
  options: ReadOptions,
  read: ReadTogether,
  window: Box | null,
  breathe: Breathe,
): Promise<Reading> {
  const reading = await readFiles(files, options, read, breathe);
  const thinned = reading.sources.some(({ issues }) => issues.some(({ code }) => code === 'tif-thinned'));
  return thinned && window ? readFiles(files, { ...options, window }, read, breathe) : reading;
}

/**
 * The one layer of a file that is meant: the only one, or that called `layer` in an archive. What is said of its place is used where the file itself does not
 * say. Of a raster too large to be read whole, the part over `window` is.
 */
export async function readLayerFile(
  files: readonly FileBytes[],
  layer: string | null,
  said: SourceSaid,
  read: ReadTogether = readTogether,
  window: Box | null = null,
  breathe: Breathe = goOn,
): Promise<{ source: Source | null; issues: readonly Issue[] }> {
  const asked = readOptions(said, files[0].name);
  const issues: Issue[] = [...asked.issues];
  const { options } = asked;
  if (options === null) return { source: null, issues };
  const reading = await readLayers(files, options, read, window, breathe);
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

import { type Issue, Refusal } from '../engine/issue.ts';
import type { Source } from '../engine/layers/source.ts';
import { csv } from './csv/read.ts';
import type { FileBytes } from './file-bytes.ts';
import { foreignIssue } from './foreign.ts';
import { extensionOf, type Format, type Reading, type ReadOptions } from './format.ts';
import { gather } from './gather.ts';
import { geojson } from './geojson/read.ts';
import { shapefile } from './shapefile/read.ts';

/** Every format that is read. */
export const FORMATS: readonly Format[] = [shapefile, geojson, csv];

/**
 * Reads whatever is handed over: loose files, zips, several layers at once. Never throws for bad input.
 * `issues` are about files that became no source; a source carries its own.
 */
export async function readFiles(
  files: readonly FileBytes[],
  options: ReadOptions = {},
): Promise<Reading> {
  const { layers, issues: gathering } = gather(files);
  const sources: Source[] = [];
  const issues = [...gathering];
  for (const layer of layers) {
    try {
      const reading = await readLayer(layer, options);
      sources.push(...reading.sources);
      issues.push(...reading.issues);
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      issues.push(error.issue);
    }
  }
  return { sources, issues: issues.map((issue) => besideLayer(issue, sources)) };
}

const NO_DATA = ['file-foreign', 'file-empty', 'csv-no-table'];

/** A picture or a readme packed beside a layer that was read is worth a note, not an error. */
function besideLayer(issue: Issue, sources: readonly Source[]): Issue {
  const archive = issue.where.split(' › ')[0];
  const packed = issue.where !== archive && sources.some(({ file }) => file.startsWith(`${archive} › `));
  return packed && NO_DATA.includes(issue.code) ? { ...issue, severity: 'note' } : issue;
}

async function readLayer(layer: readonly FileBytes[], options: ReadOptions): Promise<Reading> {
  // Of a shapefile the .shp comes first: it decides what this is.
  const files = [...layer].sort((a, b) => Number(isShp(b)) - Number(isShp(a)));
  const foreign = foreignIssue(files[0]);
  if (foreign) throw new Refusal(foreign);
  const format = formatOf(files[0]);
  if (format) return format.read(files, options);
  throw new Refusal({
    code: 'file-foreign',
    where: files[0].name,
    found: 'a kind of file that is not known here',
    expected: 'a shapefile, GeoJSON or CSV, zipped or not',
    effect: 'The file was not read',
    remedy: 'Export it as CSV, a shapefile or GeoJSON',
  });
}

/** Content decides; a name claims a file only where its format has more to say about what is wrong with it. */
function formatOf(file: FileBytes): Format | undefined {
  const named = FORMATS.find(({ extensions }) => extensions.includes(extensionOf(file.name)));
  return FORMATS.find((format) => format.recognises(file)) ?? named;
}

function isShp(file: FileBytes): boolean {
  return extensionOf(file.name) === 'shp';
}

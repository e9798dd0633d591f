import { type Issue, Refusal } from '../engine/issue.ts';
import type { Source } from '../engine/layers/source.ts';
import { type Breathe, goOn } from './breathe.ts';
import { csv } from './csv/read.ts';
import type { FileBytes } from './file-bytes.ts';
import { foreignIssue, READ_HERE } from './foreign.ts';
import { extensionOf, type Format, type Reading, type ReadOptions } from './format.ts';
import { gather } from './gather.ts';
import { geojson } from './geojson/read.ts';
import { geotiff } from './geotiff/read.ts';
import { iso11783 } from './iso11783/read.ts';
import { kml } from './kml/read.ts';
import { shapefile } from './shapefile/read.ts';

/** Every format that is read. */
export const FORMATS: readonly Format[] = [shapefile, geojson, kml, geotiff, iso11783, csv];

/** Reads files that belong together: in this thread, or in one that can be stopped. */
export type ReadTogether = (files: readonly FileBytes[], options: ReadOptions) => Promise<Reading>;

/**
 * Reads whatever is handed over: loose files, zips, several layers at once. Never throws for bad input; rejects with what `breathe`, called while zips are unpacked, does.
 * `issues` are about files that became no source; a source carries its own.
 */
export async function readFiles(
  files: readonly FileBytes[],
  options: ReadOptions = {},
  read: ReadTogether = readTogether,
  breathe: Breathe = goOn,
): Promise<Reading> {
  const { layers, issues: gathering } = await gather(files, breathe);
  const sources: Source[] = [];
  const issues = [...gathering];
  for (const layer of layers) {
    const reading = await read(layer, options);
    sources.push(...reading.sources);
    issues.push(...reading.issues);
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

/** Reads the members of one layer; a refusal becomes an issue. */
export async function readTogether(files: readonly FileBytes[], options: ReadOptions): Promise<Reading> {
  try {
    return await readLayer(files, options);
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    return { sources: [], issues: [error.issue] };
  }
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
    expected: READ_HERE,
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

import { type Issue, Refusal } from '../engine/issue.ts';
import { type Breathe, goOn } from './breathe.ts';
import type { FileBytes } from './file-bytes.ts';
import { foreignArchive } from './foreign.ts';
import { extensionOf } from './format.ts';
import { belongsToTaskFile, folderOf, isTaskFile } from './iso11783/members.ts';
import { MOST_UNPACKED } from './zip/directory.ts';
import { isSystemLitter } from './zip/member-name.ts';
import { isZip, readZip } from './zip/read.ts';

/** Files that belong together as one layer, the first one naming it; and what could not be gathered. */
export interface Gathered {
  readonly layers: readonly (readonly FileBytes[])[];
  readonly issues: readonly Issue[];
}

const MEMBERS = ['shp', 'shx', 'dbf', 'prj', 'cpg'];
/** Indexes and descriptions that other programs leave beside a shapefile. */
const SIDECARS = /\.(sbn|sbx|qix|qpj|qmd|fbn|fbx|ain|aih|atx|ixs|mxs|shp\.xml|aux|idx|cst|lyr)$/i;

/** Pictures and models that a KMZ shows its places with. */
const DECORATION = /\.(png|jpe?g|gif|bmp|svg|ico|webp|dae)$/i;

/**
 * Opens zips, and zips in them but no deeper, and brings together the members of each shapefile by their base name, any case, and
 * those of a task file by their folder.
 */
export async function gather(files: readonly FileBytes[], breathe: Breathe = goOn): Promise<Gathered> {
  const issues: Issue[] = [];
  const opened: FileBytes[] = [];
  for (const file of files) {
    if (isSystemLitter(file.name)) continue;
    opened.push(...(await open(file, { issues, room: { left: MOST_UNPACKED }, breathe })));
  }
  const groups = new Map<string, FileBytes[]>();
  const layers: FileBytes[][] = [];
  const taskFolders = new Set(
    opened.filter(({ name }) => isTaskFile(name)).map(({ name }) => folderOf(name)),
  );
  for (const file of opened) {
    if (SIDECARS.test(file.name)) continue;
    const extension = extensionOf(file.name);
    const ofTask = belongsToTaskFile(file.name) && taskFolders.has(folderOf(file.name));
    // An empty .prj is still its layer's: it is asked about there.
    const empty = file.bytes.length === 0 && extension !== 'prj';
    if (!ofTask && (!MEMBERS.includes(extension) || empty)) {
      layers.push([file]);
      continue;
    }
    const key = ofTask ? `${folderOf(file.name)}*` : file.name.slice(0, -extension.length).toLowerCase();
    const group = groups.get(key);
    if (group && isTaskFile(file.name)) group.unshift(file);
    else if (group) group.push(file);
    else {
      const started = [file];
      groups.set(key, started);
      layers.push(started);
    }
  }
  return { layers: layers.filter((layer) => isWhole(layer, issues)), issues };
}

interface Opening {
  readonly issues: Issue[];
  /** Bytes that may still come out of the outermost archive. */
  readonly room: { left: number };
  readonly breathe: Breathe;
  /** This archive lies in another. */
  readonly within?: boolean;
}

async function open(file: FileBytes, opening: Opening): Promise<FileBytes[]> {
  if (!isZip(file.bytes)) return [file];
  const { issues, room, breathe, within } = opening;
  try {
    const renamed: Issue[] = [];
    const members = await readZip(file, renamed, room.left, breathe);
    for (const { bytes } of members) room.left -= bytes.length;
    const foreign = foreignArchive(
      file,
      members.map(({ name }) => name),
    );
    if (foreign) {
      issues.push(foreign);
      return [];
    }
    issues.push(...renamed);
    if (members.length === 0) issues.push(archiveIssue('file-empty', file.name, 'an archive without files'));
    const kmz = extensionOf(file.name) === 'kmz';
    if (kmz) issues.push(...severalDocuments(file.name, members));
    const opened: FileBytes[] = [];
    for (const { name, bytes } of members) {
      if (kmz && DECORATION.test(name)) continue;
      const named = { name: `${file.name} › ${name}`, bytes };
      if (within && isZip(bytes)) {
        issues.push(archiveIssue('zip-nested', named.name, 'an archive in an archive in an archive'));
        continue;
      }
      const inner = await open(named, { ...opening, within: true });
      if (inner.length > 0 && isZip(bytes)) issues.push(openedIssue(named.name));
      opened.push(...inner);
    }
    return opened;
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    issues.push(error.issue);
    return [];
  }
}

function severalDocuments(where: string, members: readonly FileBytes[]): Issue[] {
  const documents = members.filter(({ name }) => extensionOf(name) === 'kml').map(({ name }) => name);
  if (documents.length < 2) return [];
  return [
    {
      code: 'kmz-several-documents',
      severity: 'warning',
      where,
      found: `${documents.length} documents: ${documents.slice(0, 20).join(', ')}`,
      expected: 'one .kml in a KMZ',
      effect: 'Each is read as a layer of its own',
      remedy: 'Choose the layer that is meant',
    },
  ];
}

/** A shapefile's member without its .shp is no layer. Two members of one kind are one too many. */
function isWhole(layer: readonly FileBytes[], issues: Issue[]): boolean {
  const extensions = layer.map(({ name }) => extensionOf(name));
  if (!MEMBERS.includes(extensions[0]) || layer[0].bytes.length === 0) return true;
  const twice = extensions.find((extension, i) => extensions.indexOf(extension) !== i);
  if (extensions.includes('shp') && !twice) return true;
  issues.push({
    code: twice ? 'shp-ambiguous' : 'shp-missing',
    severity: 'error',
    where: layer[0].name,
    found: twice ? `two .${twice} files of this name` : `only ${extensions.map((e) => `.${e}`).join(', ')}`,
    expected: 'a .shp with its .shx, .dbf and .prj',
    effect: 'The layer was not read',
    remedy: twice ? 'Hand over one shapefile of a name at a time' : 'Hand over the .shp of the same name too',
  });
  return false;
}

function openedIssue(where: string): Issue {
  return {
    code: 'zip-in-zip',
    severity: 'warning',
    where,
    found: 'an archive inside an archive',
    expected: 'data files in the archive itself',
    effect: 'It was opened too',
    remedy: 'Nothing to do, or pack the files in one archive',
  };
}

function archiveIssue(code: string, where: string, found: string): Issue {
  return {
    code,
    severity: 'error',
    where,
    found,
    expected: 'an archive of data files',
    effect: 'It was not read',
    remedy: 'Unpack it and hand over the files inside',
  };
}

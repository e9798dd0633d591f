import { Refusal } from '../../engine/issue.ts';
import type { FileBytes } from '../../formats/file-bytes.ts';

/** A file as chosen or dropped, with its way below the folder it came in. */
export interface ChosenFile {
  readonly path: string;
  readonly file: File;
}

export interface Chosen {
  readonly files: readonly ChosenFile[];
  /** Name of the one folder everything came in. */
  readonly folder: string | null;
}

/** Folders deeper than this, and files beyond so many, are nobody's hand-over of a field. */
const DEEPEST = 8;
const MOST_FILES = 2000;
/** No browser reads a larger file in one piece, bytes. */
const LARGEST = 2 ** 31 - 1;

/** Files of a file or folder input; hidden ones are passed over. */
export function chosenFiles(list: FileList | null): Chosen {
  const files = [...(list ?? [])].map((file) => ({ path: file.webkitRelativePath || file.name, file }));
  return withinFolder(files);
}

/** Files and folders dropped, the folders with all that lies in them. Called while the drop lasts: its items are gone after. */
export async function droppedFiles(transfer: DataTransfer): Promise<Chosen> {
  const entries = [...transfer.items].map((item) => item.webkitGetAsEntry?.() ?? item.getAsFile());
  const files: ChosenFile[] = [];
  for (const entry of entries) {
    if (entry instanceof File) files.push({ path: entry.name, file: entry });
    else if (entry) await walk(entry, 0, files);
  }
  return withinFolder(files);
}

async function walk(entry: FileSystemEntry, depth: number, found: ChosenFile[]): Promise<void> {
  if (found.length > MOST_FILES || entry.name.startsWith('.')) return;
  const path = entry.fullPath.replace(/^\//, '');
  if (isFile(entry)) {
    const file = await told<File>(path, (take, fail) => entry.file(take, fail));
    found.push({ path, file });
    return;
  }
  if (!isFolder(entry) || depth >= DEEPEST) return;
  const reader = entry.createReader();
  // A reader gives its entries in portions, and none when it is through.
  for (;;) {
    const portion = await told<FileSystemEntry[]>(path, (take, fail) => reader.readEntries(take, fail));
    if (portion.length === 0) return;
    for (const inner of portion) await walk(inner, depth + 1, found);
  }
}

/** What the browser gives of an entry; a refusal where it cannot. */
async function told<T>(path: string, ask: (take: (own: T) => void, fail: (error: Error) => void) => void) {
  try {
    return await new Promise<T>(ask);
  } catch (error) {
    throw unread(path, wordsOf(error), 'a file that can be read');
  }
}

function isFile(entry: FileSystemEntry): entry is FileSystemFileEntry {
  return entry.isFile;
}

function isFolder(entry: FileSystemEntry): entry is FileSystemDirectoryEntry {
  return entry.isDirectory;
}

function withinFolder(all: readonly ChosenFile[]): Chosen {
  const seen = all
    .filter(({ path }) => !path.split('/').some((part) => part.startsWith('.')))
    .sort((a, b) => (a.path < b.path ? -1 : 1));
  if (seen.length > MOST_FILES) {
    throw new Refusal({
      code: 'folder-too-full',
      where: seen[0].path.split('/')[0],
      found: `more than ${MOST_FILES} files`,
      expected: 'the files of one field',
      effect: 'Nothing is opened',
      remedy: 'Choose the files of the field by themselves',
    });
  }
  const folders = new Set(seen.map(({ path }) => (path.includes('/') ? path.split('/')[0] : '')));
  const [folder] = folders;
  if (folders.size !== 1 || !folder) return { files: seen, folder: null };
  return { files: seen.map(({ path, file }) => ({ path: path.slice(folder.length + 1), file })), folder };
}

/** The bytes of a file chosen, by its way below the folder it came in. */
export async function bytesOf({ file, path }: ChosenFile): Promise<FileBytes> {
  if (file.size > LARGEST) throw unread(path, `${file.size} bytes`, `at most ${LARGEST}`);
  try {
    return { name: path, bytes: new Uint8Array(await file.arrayBuffer()) };
  } catch (error) {
    throw unread(path, wordsOf(error), 'a file that can be read');
  }
}

function wordsOf(error: unknown): string {
  return error instanceof Error && error.message ? error.message : 'no bytes';
}

function unread(where: string, found: string, expected: string): Refusal {
  return new Refusal({
    code: 'file-not-read',
    where,
    found,
    expected,
    effect: 'Nothing is opened',
    remedy: 'Choose the files again without it',
  });
}

import type { Issue } from '../../engine/issue.ts';
import { type Breathe, goOn } from '../breathe.ts';
import type { FileBytes } from '../file-bytes.ts';
import { type ZipEntry, zipDirectory } from './directory.ts';
import { isSystemLitter } from './member-name.ts';
import { unpack } from './unpack.ts';

/** True for the first bytes of a zip archive, an empty one included. */
export function isZip(bytes: Uint8Array): boolean {
  const tag = bytes[2] === 3 && bytes[3] === 4;
  const empty = bytes[2] === 5 && bytes[3] === 6;
  return bytes[0] === 0x50 && bytes[1] === 0x4b && (tag || empty);
}

/**
 * The members of a zip, unpacked, sizes and CRC-32 checked. Litter of desktop systems is left out. Names that had to be made harmless are told in
 * `issues`. Rejects with a Refusal, or with what `breathe` does.
 */
export async function readZip(
  file: FileBytes,
  issues: Issue[] = [],
  room?: number,
  breathe: Breathe = goOn,
): Promise<FileBytes[]> {
  const entries = zipDirectory(file.bytes, file.name, room).filter((entry) => !isSystemLitter(entry.name));
  const members: FileBytes[] = [];
  for (const entry of entries) {
    const bytes = await unpack(file.bytes, entry, `${file.name} › ${entry.name}`, breathe);
    members.push({ name: entry.name, bytes });
  }
  issues.push(...renamed(file.name, entries));
  return members;
}

function renamed(where: string, entries: readonly ZipEntry[]): Issue[] {
  const names = entries.filter(({ name, written }) => name !== written);
  if (names.length === 0) return [];
  const leadOut = names.some(({ written }) => /^\/|^[A-Za-z]:|(^|\/)\.\.(\/|$)/.test(written));
  const list = names
    .slice(0, 20)
    .map(({ name, written }) => `${JSON.stringify(written.slice(0, 120))} → '${name}'`);
  return [
    {
      code: 'zip-name',
      severity: leadOut ? 'warning' : 'note',
      where,
      found: `${list.join(', ')}${names.length > 20 ? ` and ${names.length - 20} more` : ''}`,
      expected: 'plain names below the folder of the archive',
      effect: 'The files are read under the names given here, and nothing is written to any of them',
      remedy: 'Rename them in the archive if that is not wanted',
    },
  ];
}

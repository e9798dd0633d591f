import type { FileBytes } from '../formats/file-bytes.ts';
import { baseName, isTaskFile } from '../formats/iso11783/members.ts';
import { sha256Hex } from '../formats/sha256.ts';

/**
 * The SHA-256 by which a plan knows a source: of a single file its own; of a loose shapefile that of the lines `<extension> <sha256>\n`, one a member,
 * of a loose task file that of the lines `<name> <sha256>\n` of it and the files of its folder, several of which have one extension. Extensions and names in lower
 * case, lines in order, so that a change in any member tells.
 */
export async function sourceSha256(files: readonly FileBytes[]): Promise<string> {
  if (files.length === 1) return sha256Hex(files[0].bytes);
  const ofTask = files.some(({ name }) => isTaskFile(name));
  const lines = await Promise.all(
    files.map(async ({ name, bytes }) => {
      const called = ofTask ? baseName(name) : name.slice(name.lastIndexOf('.') + 1);
      return `${called.toLowerCase()} ${await sha256Hex(bytes)}\n`;
    }),
  );
  return sha256Hex(new TextEncoder().encode(lines.sort().join('')));
}

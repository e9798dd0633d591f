import type { FileBytes } from '../formats/file-bytes.ts';
import { sha256Hex } from '../formats/sha256.ts';

/**
 * The SHA-256 by which a plan knows a source: of a single file its own; of a loose shapefile that of the lines `<extension> <sha256>\n`, one a member,
 * extensions in lower case and in order, so that a change in any member tells.
 */
export async function sourceSha256(files: readonly FileBytes[]): Promise<string> {
  if (files.length === 1) return sha256Hex(files[0].bytes);
  const lines = await Promise.all(
    files.map(async ({ name, bytes }) => {
      const extension = name.slice(name.lastIndexOf('.') + 1).toLowerCase();
      return `${extension} ${await sha256Hex(bytes)}\n`;
    }),
  );
  return sha256Hex(new TextEncoder().encode(lines.sort().join('')));
}

import type { FileBytes } from '../../formats/file-bytes.ts';
import { sha256Hex } from '../../formats/sha256.ts';
import type { Lineup } from '../../plan/lineup-schema.ts';

export interface Written {
  readonly lineup: Lineup;
  readonly file: FileBytes;
}

/** Lineups edited in this window, by the SHA-256 of their bytes: a plan names its lineup so, and undoing an edit names the one before. */
export function createWritten() {
  const all = new Map<string, Written>();
  return {
    of(sha256: string | null | undefined): Written | null {
      return (sha256 && all.get(sha256)) || null;
    },
    async write(lineup: Lineup, name: string): Promise<{ readonly file: string; readonly sha256: string }> {
      const bytes = new TextEncoder().encode(`${JSON.stringify(lineup, null, 1)}\n`);
      const sha256 = await sha256Hex(bytes);
      all.set(sha256, { lineup, file: { name, bytes } });
      return { file: name, sha256 };
    },
  };
}

import type { FileBytes } from '../formats/file-bytes.ts';
import { handOffSchema, MANIFEST } from '../jobs/hand-off-document.ts';

/** Files an older hand-off in this folder listed, to be replaced with it; anything else in the folder stays. */
export function staleFiles(folder: string, load: (path: string) => FileBytes[]): string[] {
  let files: FileBytes[];
  try {
    files = load(folder);
  } catch {
    return [];
  }
  const manifest = files.find((file) => file.name === MANIFEST);
  if (!manifest) return [];
  try {
    const parsed = handOffSchema.safeParse(JSON.parse(new TextDecoder().decode(manifest.bytes)));
    return parsed.success ? [MANIFEST, ...parsed.data.files.map((file) => file.name)] : [];
  } catch {
    return [];
  }
}

import type { FileBytes } from '../../formats/file-bytes.ts';

/** Hand a file to the browser to save. */
export function saveFile(file: FileBytes, type: string): void {
  const url = URL.createObjectURL(new Blob([file.bytes.slice()], { type }));
  const anchor = document.createElement('a');
  anchor.href = url;
  anchor.download = file.name;
  anchor.click();
  // The browser reads the blob after the click; a minute is ample.
  setTimeout(() => URL.revokeObjectURL(url), 60_000);
}

import { mkdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { generateSampleFields } from './generator/sample-fields.ts';

/** Writes the sample fields beside this file: `npx tsx sample-fields/generate.ts`. */
for (const [path, bytes] of generateSampleFields()) {
  const file = join(import.meta.dirname, path);
  mkdirSync(dirname(file), { recursive: true });
  writeFileSync(file, bytes);
  console.log(`${path}  ${(bytes.length / 1024).toFixed(1)} KiB`);
}

import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { FileBytes } from '../../src/formats/file-bytes.ts';
import { createDesk } from '../../src/jobs/desk.ts';
import type { Plan } from '../../src/plan/schema.ts';
import { readPlan } from '../../src/plan/validate.ts';

export const SAMPLES = 'sample-fields';

/** A sample field on a desk in this process: what the command line would say of it. */
export async function sampleOnDesk(id: string) {
  const folder = join(SAMPLES, id);
  const file = `${id}.plan.json`;
  const { value } = readPlan(JSON.parse(readFileSync(join(folder, file), 'utf8')), file);
  const plan = value as Plan;
  const files: FileBytes[] = plan.sources.map((source) => ({
    name: source.file,
    bytes: new Uint8Array(readFileSync(join(folder, source.file))),
  }));
  const desk = createDesk();
  await desk.call('open', { files });
  return { plan, desk, results: await desk.call('run', { plan }) };
}

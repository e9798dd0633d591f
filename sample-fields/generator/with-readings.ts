import { unzipSync } from 'fflate';
import { recogniseColumns } from '../../src/engine/harvest/recognise/recognise-columns.ts';
import { readCsv } from '../../src/formats/csv/read.ts';
import type { FileBytes } from '../../src/formats/file-bytes.ts';
import { draftReadings } from '../../src/plan/draft-yield.ts';
import type { PlanInput } from '../../src/plan/schema.ts';

/** A plan with what the columns of its yield logs are recognised as, as the command line writes it. */
export function withReadings(plan: PlanInput, files: readonly FileBytes[]): PlanInput {
  const yields = (plan.evidence?.yields ?? []).map((map) => {
    const file = files.find(({ name }) => name === `${map.source}.zip`);
    if (!file) throw new Error(`no file of ${map.source}`);
    const [[name, bytes]] = Object.entries(unzipSync(file.bytes));
    const seen = recogniseColumns(readCsv({ name, bytes }), plan.crop);
    return { ...map, ...draftReadings(seen), moisture: seen.basis };
  });
  return { ...plan, evidence: { ...plan.evidence, yields } };
}

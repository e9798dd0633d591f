import type { Source } from '../engine/layers/source.ts';
import type { ReadTogether } from '../formats/registry.ts';
import { findFiles, parted } from '../jobs/find-files.ts';
import { readLayerFile } from '../jobs/read-file.ts';
import type { AlreadySaid } from '../jobs/sort-files.ts';
import { NOTHING_SAID, type SourceSaid } from '../plan/source-said.ts';
import type { GivenFiles } from './plan-files.ts';

/** What was said outright, read ahead of the sorting: the others are held against it. What cannot be read is told when the plan is drafted. */
export async function saidSources(
  { files, said }: GivenFiles,
  records: readonly number[] | undefined,
  readAs: Readonly<Record<string, Partial<SourceSaid>>>,
  read: ReadTogether,
): Promise<AlreadySaid> {
  const sourceOf = async (name: string): Promise<Source[]> => {
    const found = findFiles(files, name);
    if (found.files.length === 0) return [];
    const place: SourceSaid = { ...NOTHING_SAID, ...readAs[parted(name).path] };
    const { source } = await readLayerFile(found.files, found.layer, place, read);
    return source ? [source] : [];
  };
  const yields: Source[] = [];
  for (const name of said.yields) yields.push(...(await sourceOf(name)));
  const [boundary = null] = said.boundary === null ? [] : await sourceOf(said.boundary);
  return {
    boundary,
    records: records ?? null,
    yields,
    soils: said.soils !== null,
    lineup: said.lineup !== null,
  };
}

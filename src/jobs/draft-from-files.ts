import { type Issue, Refusal } from '../engine/issue.ts';
import type { Source } from '../engine/layers/source.ts';
import type { FileBytes } from '../formats/file-bytes.ts';
import type { ReadTogether } from '../formats/registry.ts';
import { type Draft, type DraftFile, draftPlan } from '../plan/draft.ts';
import type { PlanInput } from '../plan/schema.ts';
import { NOTHING_SAID, type SourceSaid } from '../plan/source-said.ts';
import { sourceCrs } from '../run/stages/place-source.ts';
import type { RunControl } from '../run/walk.ts';
import { breathing } from './breathing.ts';
import { findFiles, parted } from './find-files.ts';
import { fileIssue, readLayerFile } from './read-file.ts';
import type { Roles } from './sort-files.ts';
import { sourceSha256 } from './source-sha256.ts';

/** What is said of the plan and its files; files by name. */
export interface Said {
  readonly name: string;
  readonly season: number;
  readonly crop: string;
  readonly soilValue: string | null;
  readonly yieldColumn: Readonly<Record<string, string>>;
  readonly yieldUnit: Readonly<Record<string, string>>;
  readonly yieldCrop: Readonly<Record<string, string>>;
  readonly swathUnit?: Readonly<Record<string, string>>;
  readonly bushel_lb?: Readonly<Record<string, number>>;
  /** How files are to be read where they do not say themselves. */
  readonly readAs: Readonly<Record<string, Partial<SourceSaid>>>;
}

export interface DraftFromFiles extends Draft {
  readonly boundary: Source | null;
}

/** A plan from open files whose parts are known: each is read once more, under the coordinate system said, and named by its SHA-256. */
export async function draftFromFiles(
  files: readonly FileBytes[],
  roles: Roles & { readonly boundary: string },
  said: Said,
  read?: ReadTogether,
  control: RunControl = {},
): Promise<DraftFromFiles> {
  const issues: Issue[] = [];
  const used = new Set<string>();
  const ids: Record<string, string> = {};
  const take = async (name: string, role: string): Promise<DraftFile> => {
    const found = findFiles(files, name);
    const place: SourceSaid = { ...NOTHING_SAID, ...said.readAs[parted(name).path] };
    const id = uniqueId(role, used);
    ids[id] = name;
    if (found.files.length === 0) {
      issues.push(
        fileIssue('file-missing', name, 'no such file', 'a file among those given', 'Give it along'),
      );
      return { entry: { id, file: name, sha256: '0'.repeat(64), ...place }, source: null };
    }
    const entry = { id, file: name, sha256: await sourceSha256(found.files), ...place };
    if (role === 'lineup') return { entry, source: null };
    const reading = await readLayerFile(found.files, found.layer, place, read, null, breathing(control, 0.8));
    issues.push(...reading.issues, ...unplaced(reading.source));
    return { entry, source: reading.source };
  };
  const each = async (names: readonly string[], role: string) => {
    const taken: DraftFile[] = [];
    for (const name of names) taken.push(await take(name, role));
    return taken;
  };
  const boundary = await take(roles.boundary, 'boundary');
  const drafted = draftPlan(
    {
      boundary,
      soils: roles.soils === null ? null : await take(roles.soils, 'soils'),
      soilTables: await each(roles.soilTables, 'soil-table'),
      yields: await each(roles.yields, 'yield'),
      layers: await each(roles.layers, 'layer'),
      lineup: roles.lineup === null ? null : await take(roles.lineup, 'lineup'),
    },
    {
      ...said,
      yieldColumn: byId(said.yieldColumn),
      yieldUnit: byId(said.yieldUnit),
      yieldCrop: byId(said.yieldCrop),
      swathUnit: byId(said.swathUnit ?? {}),
      bushel_lb: byId(said.bushel_lb ?? {}),
    },
  );
  const plan: PlanInput =
    roles.records === null
      ? drafted.plan
      : { ...drafted.plan, field: { ...drafted.plan.field, records: [...roles.records] } };
  return { plan, issues: [...issues, ...drafted.issues], boundary: boundary.source };

  function byId<T>(words: Readonly<Record<string, T>>): Record<string, T> {
    return Object.fromEntries(
      Object.entries(ids).flatMap(([id, name]) => (words[name] === undefined ? [] : [[id, words[name]]])),
    );
  }
}

/** A layer that could never be placed: a plan that cannot run is not written. */
function unplaced(source: Source | null): Issue[] {
  if (source === null || source.shape === 'table') return [];
  try {
    sourceCrs(source, []);
    return [];
  } catch (thrown) {
    if (!(thrown instanceof Refusal)) throw thrown;
    return [thrown.issue];
  }
}

function uniqueId(role: string, used: Set<string>): string {
  let id = role;
  for (let n = 2; used.has(id); n++) id = `${role}-${n}`;
  used.add(id);
  return id;
}

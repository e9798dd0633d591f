import type { Issue } from '../engine/issue.ts';
import type { Source } from '../engine/layers/source.ts';
import { draftLayers } from './draft-layers.ts';
import { draftSoils } from './draft-soils.ts';
import { draftYield } from './draft-yield.ts';
import { planIssue } from './plan-issue.ts';
import type { PlanInput } from './schema.ts';

/** A file of the plan to be, read: its place in `sources`, and its layer (none for the lineup). */
export interface DraftFile {
  readonly entry: PlanInput['sources'][number];
  readonly source: Source | null;
}

export interface DraftFiles {
  readonly boundary: DraftFile;
  readonly soils: DraftFile | null;
  readonly soilTables: readonly DraftFile[];
  readonly yields: readonly DraftFile[];
  /** Other things known of the ground. */
  readonly layers: readonly DraftFile[];
  readonly lineup: DraftFile | null;
}

/** What is said outright; columns left null are guessed. */
export interface DraftWords {
  readonly name: string;
  readonly season: number;
  readonly crop: string;
  readonly soilValue: string | null;
  /** Column and crop of a yield map where it is said, by the file's entry id. */
  readonly yieldColumn: Readonly<Record<string, string>>;
  readonly yieldUnit: Readonly<Record<string, string>>;
  readonly yieldCrop: Readonly<Record<string, string>>;
  /** Unit of the swath widths of a yield map, and the weight of the bushel it counts by, lb. */
  readonly swathUnit?: Readonly<Record<string, string>>;
  readonly bushel_lb?: Readonly<Record<string, number>>;
}

export interface Draft {
  readonly plan: PlanInput;
  /** What was guessed, and what could not be. */
  readonly issues: readonly Issue[];
}

/** A plan from files, with what their columns seem to mean written down in it, to be read and changed. */
export function draftPlan(files: DraftFiles, words: DraftWords): Draft {
  const issues: Issue[] = [];
  refuseShapes(files, issues);
  const soils = files.soils && draftSoils(files.soils, files.soilTables, words, issues);
  const yields = files.yields.flatMap((file) => draftYield(file, words, issues));
  const listed = [
    files.boundary,
    files.soils,
    ...files.soilTables.filter((table) => soils?.join?.some((step) => step.source === table.entry.id)),
    ...files.yields,
    ...files.layers,
    files.lineup,
  ];
  const plan: PlanInput = {
    document: 'eachacre-plan',
    version: 1,
    name: words.name,
    season: words.season,
    crop: words.crop,
    sources: listed.flatMap((file) => (file ? [file.entry] : [])),
    field: { boundary: files.boundary.entry.id },
    evidence: { soils, yields, layers: files.layers.flatMap((file) => draftLayers(file, words.crop)) },
    lineup: files.lineup ? { source: files.lineup.entry.id } : null,
  };
  return { plan, issues };
}

/** What can be seen at once to be no boundary, soils or yield map: told here, so that no plan is written over it. */
function refuseShapes(files: DraftFiles, issues: Issue[]): void {
  const check = (file: DraftFile | null, role: string, shape: Source['shape']) => {
    if (!file?.source || (file.source.shape === shape && file.source.records > 0)) return;
    const found = file.source.records === 0 ? 'no records' : file.source.shape;
    issues.push(
      planIssue(
        'error',
        `${role}-not-${shape}`,
        file.entry.file,
        found,
        shape,
        'The plan is not written',
        `Choose the file that holds the ${role}`,
      ),
    );
  };
  check(files.boundary, 'boundary', 'polygons');
  check(files.soils, 'soils', 'polygons');
  for (const file of files.yields) check(file, 'yield', 'points');
}

import { ClipType, FillRule } from 'clipper2-ts';
import type { Issue } from '../issue.ts';
import { regionArea, ringArea } from './area.ts';
import { clip, ringsOf } from './clipper.ts';
import { type Extent, extentOf, extentsMeet } from './extent.ts';
import { joinParts } from './join-parts.ts';
import { ringLength } from './length.ts';
import { orientRing } from './orient.ts';
import { union } from './overlay.ts';
import * as issue from './region-issues.ts';
import type { Region, Ring } from './ring.ts';
import { tidyRing } from './tidy-ring.ts';
import { findCrossing, notFiniteAt } from './validate.ts';

/** What to do with a ring that crosses itself: refuse the polygon, or split it into its lobes. */
interface RegionOptions {
  readonly crossing: 'refuse' | 'split';
}

/** A region fit for every overlay, what was changed to make it so (in words, with areas), and what was found. */
interface DrawnRegion {
  /** Empty when an issue is an error. */
  readonly region: Region;
  readonly changes: readonly string[];
  readonly issues: readonly Issue[];
}

/** A ring that encloses less, or is narrower on the whole, is a leftover of drawing, not ground: no cell of it could be written to the decimals files have. */
const LEAST_RING_M2 = 0.01;
const LEAST_WIDTH_M = 0.01;

/**
 * The rings of one polygon record, in metres of the field frame, as a region: repeated vertices and spikes taken out,
 * lobes of a crossing ring split or refused, rings nested by what contains what (winding plays no part), parts that
 * overlap joined. Everything done is listed in `changes`; `where` names the record in the issues.
 *
 * Errors, with an empty region: `vertex-not-a-place`, `boundary-crosses-itself`, `hole-fills-part`, `polygon-empty`.
 * Warnings: `ring-without-area`, `ring-repeated`, `hole-in-no-part`, `parts-overlap`.
 */
export function regionFromRings(rings: readonly Ring[], where: string, options: RegionOptions): DrawnRegion {
  const changes: string[] = [];
  const issues: Issue[] = [];
  const sound: Ring[] = [];
  const names: string[] = [];
  rings.forEach((ring, index) => {
    const name = rings.length === 1 ? where : `${where} › ring ${index + 1}`;
    const bad = notFiniteAt(ring);
    if (bad >= 0) {
      issues.push(issue.vertexNotFinite(name, ring, bad));
      return;
    }
    for (const each of soundRings(ring, name, options, changes, issues)) {
      sound.push(each);
      names.push(name);
    }
  });
  const region = joinParts(sound, names, where, changes, issues);
  if (region.length === 0 && !issues.some(isError)) issues.push(issue.nothingLeft(where));
  return issues.some(isError) ? { region: [], changes, issues } : { region, changes, issues };
}

/**
 * Several polygon records as one region: each drawn by `regionFromRings`, so that a hole stays a hole of its own record,
 * then joined where they overlap. An error in one record leaves the whole empty; a record without ground among others is
 * left out with a warning, as programs that cut layers leave slivers beside what they cut.
 */
export function regionFromRecords(
  records: readonly (readonly Ring[])[],
  where: string,
  options: RegionOptions,
): DrawnRegion {
  const name = (index: number) => (records.length === 1 ? where : `${where} › record ${index + 1}`);
  const drawn = records.map((rings, index) => regionFromRings(rings, name(index), options));
  const changes = drawn.flatMap((each) => each.changes);
  const anyGround = drawn.some((each) => each.region.length > 0);
  const issues = drawn.flatMap((each) => (anyGround ? each.issues.map(issue.leftOutWhenEmpty) : each.issues));
  if (issues.some(isError)) return { region: [], changes, issues };
  const apart = drawn.flatMap((each) => each.region);
  if (!anyMeet(drawn.map((each) => extentOf(ringsOf(each.region)))))
    return { region: apart, changes, issues };

  const joined = union(drawn.map((each) => each.region));
  const before_m2 = regionArea(apart);
  const after_m2 = regionArea(joined);
  // Parts that only share a border keep their own coordinates; the union would move them to the clipper's grid.
  if (before_m2 - after_m2 <= LEAST_RING_M2 * records.length) return { region: apart, changes, issues };
  const change = `${records.length} records joined: ${squareMetres(before_m2)} → ${squareMetres(after_m2)}`;
  const found = `records that overlap by ${squareMetres(before_m2 - after_m2)}`;
  issues.push(issue.partsOverlap(where, found, 'The overlap is counted once'));
  return { region: joined, changes: [...changes, `${where}: ${change}`], issues };
}

/** One ring without faults of its own: none when nothing is left of it, several when it was split. */
function soundRings(
  ring: Ring,
  name: string,
  options: RegionOptions,
  changes: string[],
  issues: Issue[],
): readonly Ring[] {
  const tidy = tidyRing(ring);
  const before_m2 = Math.abs(ringArea(ring));
  if (tidy.duplicates > 0)
    changes.push(`${name}: ${counted(tidy.duplicates, 'repeated vertex', 'repeated vertices')} taken out`);
  if (tidy.spikes > 0) {
    const after_m2 = Math.abs(ringArea(tidy.ring));
    changes.push(
      `${name}: ${counted(tidy.spikes, 'spike', 'spikes')} taken out: ${squareMetres(before_m2)} → ${squareMetres(after_m2)}`,
    );
  }
  const crossing = tidy.ring.length === 0 ? null : findCrossing(tidy.ring);
  if (crossing && options.crossing === 'refuse') {
    issues.push(issue.crossesItself(name, crossing));
    return [];
  }
  const lobes = crossing ? lobesOf(tidy.ring) : [tidy.ring];
  const kept = lobes.filter(isGround);
  if (crossing) {
    const after_m2 = kept.reduce((sum, lobe) => sum + Math.abs(ringArea(lobe)), 0);
    changes.push(
      `${name}: crossed itself, split into ${counted(kept.length, 'ring', 'rings')}: ${squareMetres(before_m2)} → ${squareMetres(after_m2)}`,
    );
  }
  if (kept.length === 0) {
    issues.push(issue.ringWithoutArea(name, ring.length / 2));
    changes.push(`${name}: left out, it encloses nothing`);
  }
  return kept;
}

/** What a ring that crosses itself encloses, even-odd. Its lobes stay wound as it was: among other rings the winding tells parts from holes. */
function lobesOf(ring: Ring): readonly Ring[] {
  const lobes = ringsOf(clip(ClipType.Union, FillRule.EvenOdd, [ring], []));
  if (ringArea(ring) >= 0) return lobes;
  return lobes.map((lobe) => orientRing(lobe, ringArea(lobe) > 0 ? 'clockwise' : 'counter-clockwise'));
}

function isGround(ring: Ring): boolean {
  const area_m2 = Math.abs(ringArea(ring));
  return area_m2 >= LEAST_RING_M2 && (2 * area_m2) / ringLength(ring) >= LEAST_WIDTH_M;
}

function anyMeet(extents: readonly Extent[]): boolean {
  return extents.some((a, i) => extents.slice(i + 1).some((b) => extentsMeet(a, b)));
}

function isError(each: Issue): boolean {
  return each.severity === 'error';
}

function counted(count: number, one: string, many: string): string {
  return `${count} ${count === 1 ? one : many}`;
}

function squareMetres(area_m2: number): string {
  return `${area_m2.toFixed(2)} m²`;
}

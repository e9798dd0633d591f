import type { Surface } from '../grid/field-grid.ts';

/** Years joined by cells that several of them know, or one by itself: only within a set can levels be compared. */
interface YearSet {
  readonly years: readonly number[];
  /** Cells any of its years knows. */
  readonly knows: Uint8Array;
}

/** A set that covers less than this share of the known ground is levelled by the soils. Our own choice, no source. */
const WHOLE = 0.95;
/** Levels have settled when none moves by more than this share in a round; rounds are cheap, for they go over years and not over cells. */
const SETTLED = 1e-14;
const ROUNDS = 20_000;

/**
 * What each year gave, or would have given, over all the known ground: the yield that stands for 1, in the surface's own unit. All years are fitted at
 * once: with r the weighted mean over years of yield over level, a year's level is its mean over what r says of the same cells, Σ a·y / Σ a·r. A year of a part of the
 * field is thereby measured against the others on the ground they share, and they against it. What no comparison between years can say is left to
 * `soilRelative` (relative yield by the soils): the mean of r over a set of years that covers only a part. Years of weight 0 are levelled by the others and move
 * none of them.
 */
export function yearLevels(
  surfaces: readonly Surface[],
  weights: readonly number[],
  area: Float64Array,
  soilRelative: Surface | null = null,
): number[] {
  const counted = surfaces.map((_, k) => k).filter((k) => weights[k] > 0);
  const levels = surfaces.map(() => NaN);
  for (const set of joinedSets(counted, surfaces)) fitSet(set, surfaces, weights, area, soilRelative, levels);
  const relative = meanRelative(surfaces, weights, levels, area.length);
  for (const k of surfaces.keys()) {
    if (weights[k] > 0) continue;
    const against = relative.map((own, cell) =>
      Number.isNaN(own) && soilRelative ? soilRelative[cell] : own,
    );
    levels[k] = levelAgainst(surfaces[k], against, area);
  }
  return levels;
}

/** Weighted mean over years of yield over level; NaN where no year of any weight is known. */
export function meanRelative(
  surfaces: readonly Surface[],
  weights: readonly number[],
  levels: readonly number[],
  cells: number,
): Surface {
  const sum = new Float64Array(cells);
  const weight = new Float64Array(cells);
  for (const [k, surface] of surfaces.entries()) {
    if (!(weights[k] > 0)) continue;
    for (let cell = 0; cell < cells; cell++) {
      if (Number.isNaN(surface[cell])) continue;
      sum[cell] += (weights[k] * surface[cell]) / levels[k];
      weight[cell] += weights[k];
    }
  }
  return sum.map((own, cell) => (weight[cell] > 0 ? own / weight[cell] : NaN));
}

/** Years that share a cell, directly or through others, belong to one set. */
function joinedSets(counted: readonly number[], surfaces: readonly Surface[]): YearSet[] {
  let sets: YearSet[] = [];
  for (const k of counted) {
    const knows = Uint8Array.from(surfaces[k], (value) => (Number.isNaN(value) ? 0 : 1));
    const touched = sets.filter((set) => set.knows.some((known, cell) => known === 1 && knows[cell] === 1));
    const years = [...touched.flatMap((set) => set.years), k].sort((a, b) => a - b);
    for (const set of touched) {
      for (let cell = 0; cell < knows.length; cell++) knows[cell] |= set.knows[cell];
    }
    sets = [...sets.filter((set) => !touched.includes(set)), { years, knows }];
  }
  return sets;
}

function fitSet(
  { years, knows }: YearSet,
  surfaces: readonly Surface[],
  weights: readonly number[],
  area: Float64Array,
  soilRelative: Surface | null,
  levels: number[],
): void {
  const cells = area.length;
  const weightAt = new Float64Array(cells);
  for (const k of years) {
    for (let cell = 0; cell < cells; cell++)
      if (!Number.isNaN(surfaces[k][cell])) weightAt[cell] += weights[k];
  }
  // With m = 1 / level the condition is linear in m: m_k Σ a·y_k = Σ_j m_j Σ a·w_j·y_j / W over the cells of year k.
  const own = years.map((k) => sumWhere(cells, (cell) => area[cell] * surfaces[k][cell]));
  const shared = years.map((k) =>
    years.map((j) =>
      sumWhere(cells, (cell) =>
        Number.isNaN(surfaces[k][cell])
          ? NaN
          : (area[cell] * weights[j] * surfaces[j][cell]) / weightAt[cell],
      ),
    ),
  );
  let m = years.map((k) => sumWhere(cells, (cell) => (Number.isNaN(surfaces[k][cell]) ? NaN : area[cell])));
  m = m.map((covered, i) => covered / own[i]);
  for (let round = 0; round < ROUNDS; round++) {
    const next = years.map((_, i) => years.reduce((sum, __, j) => sum + shared[i][j] * m[j], 0) / own[i]);
    const moved = next.reduce((most, value, i) => Math.max(most, Math.abs(value / m[i] - 1)), 0);
    m = next;
    if (moved < SETTLED) break;
  }
  // The mean of r over the set's ground: Σ over its cells of a·r.
  const total = years.reduce(
    (sum, k, i) =>
      sum +
      m[i] *
        sumWhere(cells, (cell) =>
          weightAt[cell] > 0 ? (area[cell] * weights[k] * surfaces[k][cell]) / weightAt[cell] : NaN,
        ),
    0,
  );
  const ground = sumWhere(cells, (cell) => (knows[cell] ? area[cell] : NaN));
  const scale = (meanWanted(knows, ground, surfaces, area, soilRelative) * ground) / total;
  for (const [i, k] of years.entries()) levels[k] = 1 / (m[i] * scale);
}

/** The mean of r a set should have: 1 where it covers the known ground; else what the soils say of its cells, 1 where they are silent. */
function meanWanted(
  knows: Uint8Array,
  ground: number,
  surfaces: readonly Surface[],
  area: Float64Array,
  soilRelative: Surface | null,
): number {
  if (!soilRelative) return 1;
  const known = sumWhere(area.length, (cell) =>
    !Number.isNaN(soilRelative[cell]) || surfaces.some((surface) => !Number.isNaN(surface[cell]))
      ? area[cell]
      : NaN,
  );
  if (ground >= WHOLE * known) return 1;
  const rated = sumWhere(area.length, (cell) =>
    knows[cell] && !Number.isNaN(soilRelative[cell]) ? area[cell] : NaN,
  );
  const sum = sumWhere(area.length, (cell) => (knows[cell] ? area[cell] * soilRelative[cell] : NaN));
  return rated > 0 && sum > 0 ? sum / rated : 1;
}

/** Σ a·y / Σ a·r over the cells both know; the mean alone where they share none. */
function levelAgainst(surface: Surface, relative: Surface, area: Float64Array): number {
  const both = (of: Surface) =>
    sumWhere(area.length, (cell) =>
      Number.isNaN(surface[cell]) || Number.isNaN(relative[cell]) ? NaN : area[cell] * of[cell],
    );
  const level = both(surface) / both(relative);
  if (level > 0 && Number.isFinite(level)) return level;
  const covered = sumWhere(area.length, (cell) => (Number.isNaN(surface[cell]) ? NaN : area[cell]));
  return sumWhere(area.length, (cell) => area[cell] * surface[cell]) / covered;
}

/** Sum over cells of what is known. */
function sumWhere(cells: number, of: (cell: number) => number): number {
  let sum = 0;
  for (let cell = 0; cell < cells; cell++) {
    const value = of(cell);
    if (!Number.isNaN(value)) sum += value;
  }
  return sum;
}

import type { Surface } from '../../engine/grid/field-grid.ts';
import type { Issue } from '../../engine/issue.ts';
import { smooth } from '../../engine/layers/smooth.ts';
import { M2_PER_ACRE } from '../../engine/math/units.ts';
import { spreadOf } from '../../engine/math/weighted.ts';
import { fuzzyCMeans } from '../../engine/zones/fuzzy-c-means.ts';
import { classOf, naturalBreaks } from '../../engine/zones/natural-breaks.ts';
import { tidyLabels } from '../../engine/zones/tidy.ts';
import type { Zone, Zoning } from '../../engine/zones/zoning.ts';
import type { Plan } from '../../plan/schema.ts';
import type { Environment, FieldResult, SoilLayer } from '../results.ts';

export interface DrawnZones extends Zoning {
  readonly issues: readonly Issue[];
}

/** Cluster centres may still move this share of a standard deviation: no cell changes zone for it. A stop common in this use. */
const SETTLED = 1e-4;
/** Label of ground no layer covers, until zones are numbered. */
const UNKNOWN = 255;

/** Environment (and soils, for fuzzy c-means) → zones, from the poorest ground to the best, tidied; ground not known is a zone of its own. */
export function drawZones(
  field: FieldResult,
  environment: Environment,
  soils: SoilLayer | null,
  plan: Plan['zones'],
): DrawnZones {
  const { grid } = field;
  const issues: Issue[] = [];
  // Rounded to a millionth of a bushel: what differs by less is rounding, and no two kinds of ground.
  const level = smooth(grid, environment.values, plan.smooth_m).map((value) => Math.round(value * 1e6) / 1e6);
  const known: number[] = [];
  for (let cell = 0; cell < level.length; cell++) if (!Number.isNaN(level[cell])) known.push(cell);
  const raw = new Uint8Array(level.length).fill(UNKNOWN);
  if (known.length > 0) {
    const classes =
      plan.method === 'fuzzy-c-means' && plan.count > 1
        ? byClusters(level, soils, known, plan)
        : byBreaks(level, known, plan.count);
    classes.forEach((label, k) => {
      raw[known[k]] = label;
    });
    const found = new Set(classes).size;
    if (found < plan.count) {
      issues.push({
        code: 'zones-fewer',
        severity: 'warning',
        where: 'zones.count',
        found: `${found} distinct levels of ground`,
        expected: `${plan.count} zones`,
        effect: `${found} zones are drawn`,
        remedy: 'Ask for fewer zones, or add evidence',
      });
    }
  }
  const labels = tidyLabels(grid, raw, plan.smallest_ac * M2_PER_ACRE);
  return { ...numberZones(field, labels, environment, plan.names), issues };
}

function byBreaks(level: Surface, known: readonly number[], count: number): number[] {
  const values = Float64Array.from(known, (cell) => level[cell]);
  const breaks = naturalBreaks(values, count);
  return Array.from(values, (value) => classOf(breaks, value));
}

/** Clusters in environment and, where soils are known over nearly all of it, the soil value; columns scaled to one standard deviation. */
function byClusters(
  level: Surface,
  soils: SoilLayer | null,
  known: readonly number[],
  plan: Plan['zones'],
): number[] {
  const layers = [level];
  if (soils && known.filter((cell) => Number.isNaN(soils.values[cell])).length < 0.05 * known.length)
    layers.push(soils.values);
  const columns = layers.map((layer) => {
    const values = known.map((cell) => layer[cell]);
    const { mean, sd } = spreadOf(values, new Uint8Array(values.length).fill(1));
    return values.map((value) => (Number.isNaN(value) || sd === 0 ? 0 : (value - mean) / sd));
  });
  const d = columns.length;
  const data = new Float64Array(known.length * d);
  columns.forEach((column, j) => {
    column.forEach((value, row) => {
      data[row * d + j] = value;
    });
  });
  const distinct = new Set(columns[0]).size;
  const count = Math.min(plan.count, distinct);
  const clusters = fuzzyCMeans(data, d, count, plan.fuzziness, SETTLED);
  // Numbered from the poorest ground, by the environment of the centres.
  const order = Array.from({ length: count }, (_, c) => c).sort(
    (a, b) => clusters.centres[a * d] - clusters.centres[b * d],
  );
  const rank = new Uint8Array(count);
  order.forEach((cluster, place) => {
    rank[cluster] = place;
  });
  return known.map((_, row) => {
    let best = 0;
    for (let c = 1; c < count; c++) {
      if (clusters.membership[row * count + c] > clusters.membership[row * count + best]) best = c;
    }
    return rank[best];
  });
}

/** Zones numbered without gaps, the unknown one last, each with its figures. */
function numberZones(
  field: FieldResult,
  labels: Uint8Array,
  environment: Environment,
  names: readonly string[] | null,
): Zoning {
  const { area } = field.grid;
  const present = [...new Set(labels)].sort((a, b) => a - b);
  const ground = present.filter((label) => label !== UNKNOWN).length;
  const label = labels.map((old) => present.indexOf(old));
  const zones: Zone[] = present.map((old, k) => {
    const weights = area.map((cell, i) => (label[i] === k ? cell : 0));
    const area_m2 = weights.reduce((sum, value) => sum + value, 0);
    const inZone = environment.values.map((value, i) => (label[i] === k ? value : NaN));
    const spread = spreadOf(inZone, area);
    const known = old !== UNKNOWN && spread.known > 0;
    return {
      id: k + 1,
      name: old === UNKNOWN ? 'Not mapped' : (names?.[old] ?? plainName(k, ground)),
      area_m2,
      environment_buPerAc: known ? spread.mean : environment.expected_buPerAc,
      environmentSd_buPerAc: known ? spread.sd : 0,
      known,
    };
  });
  return { label, zones };
}

function plainName(k: number, count: number): string {
  if (count === 1) return 'Whole field';
  if (k === 0) return 'Poor ground';
  if (k === count - 1) return 'Best ground';
  if (count === 3) return 'Middle ground';
  return `Middle ground ${k}`;
}

import { random } from '../../src/engine/math/random.ts';
import type { FieldDesign, HarvestDesign, Point } from './design.ts';
import { drive, type Tick } from './drive.ts';
import { seasonYield } from './ground.ts';
import { pointsToLonLat } from './turned-frame.ts';

/** One line of the monitor's memory, as it measured it. */
export interface YieldRecord {
  readonly lon: number;
  readonly lat: number;
  /** Wet grain past the sensor, lb/s. */
  readonly flow_lbPerS: number;
  readonly moisture_pct: number;
  readonly distance_ft: number;
  readonly swath_ft: number;
  readonly speed_mph: number;
  readonly heading_deg: number;
  readonly time_s: number;
  readonly pass: number;
  readonly headerDown: boolean;
}

/** Test weight and base moisture of the trade. */
export const GRAIN = {
  corn: { lbPerBu: 56, base_pct: 15.5 },
  soybean: { lbPerBu: 60, base_pct: 13 },
} as const;

const FT_PER_M = 1 / 0.3048;
const FT2_PER_AC = 43560;
const MPH_PER_FT_PER_S = 3600 / 5280;

/** The season harvested: true grain, late and smeared at the sensor, noisy, with a position that sometimes jumps. */
export function yieldRecords(design: FieldDesign, harvest: HarvestDesign, seed: number): YieldRecord[] {
  const { machine, log } = harvest;
  const ticks = drive(design.parts, machine, seed);
  const moisture = moistureReadings(design, harvest, ticks, seed + 1);
  const flow = flowReadings(design, harvest, ticks, moisture, seed + 2);
  const fixes = positions(design, ticks, seed + 3);
  const out: YieldRecord[] = [];
  for (let i = log.interval_s - 1; i < ticks.length; i += log.interval_s) {
    const since = ticks.slice(i + 1 - log.interval_s, i + 1);
    const distance_ft = since.reduce((sum, tick) => sum + tick.moved_m, 0) * FT_PER_M;
    out.push({
      lon: fixes[i][0],
      lat: fixes[i][1],
      flow_lbPerS: mean(flow.subarray(i + 1 - log.interval_s, i + 1)),
      moisture_pct: moisture[i],
      distance_ft,
      swath_ft: machine.header_ft,
      speed_mph: (distance_ft / log.interval_s) * MPH_PER_FT_PER_S,
      heading_deg: (ticks[i].bearing_deg + design.heading_deg + 720) % 360,
      time_s: ticks[i].time_s,
      pass: ticks[i].pass,
      headerDown: ticks[i].cutting,
    });
  }
  return out;
}

/** Wet lb/s at the sensor: the intake of past seconds, weighted round the delay, times a lognormal error that lingers. */
function flowReadings(
  design: FieldDesign,
  harvest: HarvestDesign,
  ticks: readonly Tick[],
  moisture: Float64Array,
  seed: number,
): Float64Array {
  const { machine, season } = harvest;
  const { normal } = random(seed);
  const { lbPerBu, base_pct } = GRAIN[design.crop];
  const yieldAt = seasonYield(design.ground, season);
  const intake = Float64Array.from(ticks, (tick, i) => {
    if (tick.share === 0) return 0;
    const acres = (tick.share * tick.moved_m * FT_PER_M * machine.header_ft) / FT2_PER_AC;
    return (yieldAt(...tick.at) * acres * lbPerBu * (100 - base_pct)) / (100 - moisture[i]);
  });
  const weights = delayWeights(machine.delay_s, machine.smear_s);
  let lingering = 0;
  return Float64Array.from(ticks, (_, i) => {
    lingering = 0.8 * lingering + 0.027 * normal();
    let flow = 0;
    for (let lag = 0; lag < weights.length && lag <= i; lag++) flow += weights[lag] * intake[i - lag];
    return flow * Math.exp(lingering + 0.055 * normal());
  });
}

/** Shares by whole seconds of lag: a normal round the delay, cut at three spreads. */
function delayWeights(delay_s: number, smear_s: number): number[] {
  const raw = Array.from({ length: Math.ceil(delay_s + 3 * smear_s) + 1 }, (_, lag) => {
    const z = (lag - delay_s) / smear_s;
    return Math.abs(z) > 3 ? 0 : Math.exp(-0.5 * z * z);
  });
  const total = raw.reduce((a, b) => a + b, 0);
  return raw.map((weight) => weight / total);
}

/** Better ground dries later; the reading wanders. */
function moistureReadings(
  design: FieldDesign,
  { machine, season }: HarvestDesign,
  ticks: readonly Tick[],
  seed: number,
): Float64Array {
  const { normal } = random(seed);
  const yieldAt = seasonYield(design.ground, season);
  const spread = design.crop === 'corn' ? 2 : 0.7;
  let wander = 0;
  return Float64Array.from(ticks, ({ at }) => {
    wander = 0.98 * wander + 0.05 * normal();
    const richer = yieldAt(...at) / design.ground.base_buPerAc - 1;
    return machine.moisture_pct + spread * richer * 3 + wander;
  });
}

/** Where the receiver said it was: a slow drift of some decimetres, now and then a jump, and a few times 0, 0. */
function positions(design: FieldDesign, ticks: readonly Tick[], seed: number): Point[] {
  const { uniform, normal } = random(seed);
  let drift: Point = [0, 0];
  let jump: Point = [0, 0];
  let left = 0;
  let lost = 0;
  const seen = ticks.map(({ at }): Point => {
    drift = [0.98 * drift[0] + 0.06 * normal(), 0.98 * drift[1] + 0.06 * normal()];
    if (left > 0) left--;
    else if (uniform() < 1 / 3000) {
      left = 2 + Math.floor(9 * uniform());
      jump = [70 * normal(), 70 * normal()];
    } else jump = [0, 0];
    return [at[0] + drift[0] + jump[0], at[1] + drift[1] + jump[1]];
  });
  return pointsToLonLat(design.centre, design.heading_deg, seen).map((fix): Point => {
    if (lost > 0) lost--;
    else if (uniform() < 1 / 6000) lost = 1 + Math.floor(3 * uniform());
    return lost > 0 ? [0, 0] : fix;
  });
}

function mean(values: Float64Array): number {
  return values.reduce((a, b) => a + b, 0) / values.length;
}
